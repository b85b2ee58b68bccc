"""What can't be played or worked out is refused by `check`, with file and line, before anything takes long."""

from __future__ import annotations

import itertools
import os
import time
from pathlib import Path

import numpy as np
import pytest
import yaml

from simcaddie.base.errors import BadFile, BadRequest
from simcaddie.base.units import METRES_PER_YARD
from simcaddie.course.grid import area_grid
from simcaddie.course.heights import height_at, height_grid
from simcaddie.course.hole import Hole
from simcaddie.decision.request import Request
from simcaddie.io.check import check_file
from simcaddie.io.hole import hole_of
from simcaddie.io.player import player_of
from simcaddie.io.yaml_reader import parse
from simcaddie.weather.day import STANDARD
from simcaddie.weather.flight import air_density, ball_speed
from simcaddie.weather.reach import SURELY, can_carry

HOLE = """\
name: Wide (invented)
par: 4
units: {units}
tees: {{t: [0, 0]}}
pins: {{p: [0, 300]}}
areas:
  - {{kind: green, outline: [[-9, 290], [9, 290], [9, 310], [-9, 310]]}}
  - {{kind: heather, outline: [[{left}, -200], [{right}, -200], [{right}, 500], [{left}, 500]]}}
"""


def told(text: str) -> str:
    """Return the faults of a hole file, '' for none."""
    try:
        hole_of(parse(text, "f.yaml"))
    except BadFile as error:
        return str(error)
    return ""


def test_a_hole_too_large_is_refused_by_the_line_that_makes_it_so_with_the_size_that_goes():
    assert told(HOLE.format(units="yards", left=-600, right=600)) == ""
    within = "expected all that is drawn, tees, pins and spots within 1200 by 1200 yards"
    found = f"f.yaml:8: areas > no. 2 (heather): {within}, found 2600 by 700 yards with this"
    assert told(HOLE.format(units="yards", left=-600, right=2000)) == found
    assert "found 1203 by 766 yards" in told(HOLE.format(units="metres", left=-500, right=600))
    whole = HOLE.format(units="yards", left=-30, right=30)
    assert "f.yaml:10: boundary: expected all" in told(
        whole + "spots: {}\nboundary: [[-2000, -2000], [2000, -2000], [2000, 2000], [-2000, 2000]]\n"
    )
    assert "f.yaml:9: spots > far: expected all" in told(whole + "spots: {far: {at: [0, 1900]}}\n")
    assert told(whole.replace("units: yards", "units: [1]")).startswith("f.yaml:3: units: expected")  # and no traceback


def test_areas_that_would_take_for_ever_to_paint_are_refused():
    area = "  - {kind: heather, outline: [[-550, 20], [550, 20], [0, 500]]}\n"
    small = HOLE.format(units="yards", left=-20, right=20)
    assert told(small + 10 * area) == ""
    assert told(small + 60 * area) == (
        "f.yaml:6: areas: expected areas whose outlines together span at most 20 million square yards, "
        "found 31.7 million"
    )


@pytest.mark.slow
def test_the_largest_hole_that_check_takes_is_drawn_in_bounded_time(monkeypatch):
    monkeypatch.setattr("simcaddie.base.memo.shelf", lambda: None)
    area = "  - {kind: heather, outline: [[-599, -199], [599, -199], [590, 999], [-590, 999]]}\n"
    hole = hole_of(parse(HOLE.format(units="yards", left=-20, right=20) + 12 * area, "f.yaml"))
    start = time.process_time()
    grid = area_grid(hole)
    assert time.process_time() - start < 20.0
    assert sum(getattr(grid, name).nbytes for name in ("surface", "area", "canopy", "same")) < 60e6


# ─── Carries ──────────────────────────────────────────────────────────────────────────────────────────────────────────

PLAYER = "name: P\nunits: {units}\nbag:\n  - club: {club}\n    swings:\n      full: {{carry: {carry}{more}}}\n"


def refused(**keys: object) -> str:
    try:
        player_of(parse(PLAYER.format(**{"units": "yards", "more": "", **keys}), "f.yaml"))
    except BadFile as error:
        return str(error)
    return ""


def test_a_carry_that_no_ball_flies_is_refused_by_its_line():
    assert refused(club="driver", carry=450, more=", spin: 2600") == (
        "f.yaml:6: bag > no. 1 (driver) > swings > full > carry: expected a carry that a ball can fly when launched at "
        "12.6° with 2600 rpm, found 450 yards"
    )
    assert refused(club="driver", carry=380) == ""
    assert "found 400 metres" in refused(club="driver", carry=400, units="metres")
    assert "launched at 70° with 15000 rpm, found 60 yards" in refused(
        club="lob wedge", carry=60, more=", launch: 70, spin: 15000"
    )
    assert refused(club="lob wedge", carry=60, more=", launch: 60, spin: 5000") == ""


def test_carries_let_through_unlooked_at_are_well_within_reach():
    """The corners of what isn't worked out, and points between, hold against the flight model."""
    thick = air_density(STANDARD.temperature, STANDARD.altitude)
    for low, high, less, more, far in SURELY:
        launch, spin = np.meshgrid(np.linspace(low, high, 9), np.linspace(less, more, 9))
        for carry in (1.0, 0.5 * far, far):
            assert np.isfinite(ball_speed(carry * METRES_PER_YARD, launch.ravel(), spin.ravel(), density=thick)).all()


def test_a_carry_is_refused_exactly_where_the_day_could_not_be_worked_out():
    thick = air_density(STANDARD.temperature, STANDARD.altitude)
    for carry, launch, spin in itertools.product(
        (30.0, 150.0, 280.0, 400.0), (1.0, 10.0, 35.0, 70.0), (0.0, 6000.0, 15000.0)
    ):
        try:
            ball_speed(carry * METRES_PER_YARD, launch, spin, density=thick)
            flies = True
        except BadRequest:
            flies = False
        assert can_carry(carry, launch, spin) == flies


# ─── Heights ──────────────────────────────────────────────────────────────────────────────────────────────────────────

ODD_HEIGHTS = {
    "two all but at one place": [[0, 0, 1], [1e-9, 0, 2]],
    "three all but in one line": [[0, 0, 1], [100, 0, 2], [50, 1e-12, 3]],
    "three all but at one place": [[0, 0, 1], [1e-7, 0, 2], [0, 1e-7, 4]],
    "two long lines": [[x, y, y % 3] for x in (0.0, 300.0) for y in range(0, 300, 3)],
    "a heap of many": [[x / 90, y / 90, (x * y) % 7] for x in range(9) for y in range(9)],
    "many all but at one place": [[n * 1e-9, (n % 7) * 1e-9, n % 5] for n in range(100)],
}


@pytest.mark.parametrize("name", ODD_HEIGHTS)
def test_spot_heights_however_they_lie_give_a_surface(name):
    heights = np.array(ODD_HEIGHTS[name], float)
    hole = Hole("H", 4, {"t": (0.0, 0.0)}, {"p": (0.0, 300.0)}, (), heights=heights)
    places = np.random.default_rng(1).uniform(-100, 400, (400, 2))
    found = height_at(hole, places)
    low, high = heights[:, 2].min(), heights[:, 2].max()
    assert np.isfinite(found).all()
    assert low - 0.26 * (high - low) <= found.min() <= found.max() <= high + 0.26 * (high - low)


def test_the_height_grid_of_two_heights_a_hair_apart():
    text = HOLE.format(units="yards", left=-20, right=20) + "heights: [[0, 0, 3], [0, 0.000000001, 9]]\n"
    hole = hole_of(parse(text, "f.yaml"))
    heights = height_grid(hole, area_grid(hole))
    assert np.allclose(heights, 6.0)


# ─── Courses ──────────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    "name", ["../secret.yaml", "/etc/hostname", "deep/../../secret.yaml", "link.yaml", "x/../../s"]
)
def test_a_course_names_only_files_in_its_folder(tmp_path, name):
    (tmp_path / "secret.yaml").write_text("top secret: do not show\n")
    folder = tmp_path / "club"
    folder.mkdir()
    if name == "link.yaml":
        try:
            (folder / name).symlink_to("../secret.yaml")
        except OSError:
            pytest.skip("no links here")
    (folder / "course.yaml").write_text(yaml.safe_dump({"name": "Club", "holes": [name]}))
    with pytest.raises(BadFile) as caught:
        check_file(folder / "course.yaml")
    expected = "a hole file in or below the folder of the course file"
    assert str(caught.value).endswith(f"course.yaml:2: holes > no. 1: expected {expected}, found '{name}'")
    assert "secret: do" not in str(caught.value)


def test_a_course_with_a_name_that_no_file_can_have(tmp_path):
    (tmp_path / "course.yaml").write_text(f"name: Club\nholes: [{'ü' * 200}]\n", "utf-8")
    with pytest.raises(BadFile, match="file name too long" if os.name == "posix" else "."):
        check_file(tmp_path / "course.yaml")


# ─── What `fit` would write ───────────────────────────────────────────────────────────────────────────────────────────

SESSIONS = {
    "a swing of 300 letters": ("s.csv:2: swing: expected a name of 1 to 80 letters, found 'xx", "x" * 300, 100),
    "a swing with a mark that can't be seen": ("s.csv:2: swing: expected a name", "a\u200bb", 100),
    "a swing that no ball flies": ("s.csv:2: carry: expected a carry that a ball can fly", "full", 340),
}


@pytest.mark.parametrize("case", SESSIONS)
def test_fit_writes_nothing_that_check_would_refuse(simcaddie, case):
    said, swing, carry = SESSIONS[case]
    club = "driver" if carry < 300 else "lob wedge"
    rows = [f"{club},{swing},{carry + n},{n}" for n in range(6)]
    Path("s.csv").write_text("\n".join(["club,swing,carry,side", *rows]) + "\n", "utf-8")
    ran = simcaddie("fit", "s.csv", "-o", "me.yaml")
    assert ran.code == 2
    assert said in ran.err
    assert max(len(line) for line in ran.err.splitlines()) < 200
    assert not Path("me.yaml").exists()


def test_a_name_too_long_is_told_by_fit(simcaddie):
    Path("s.csv").write_text("club,swing,carry,side\n" + "".join(f"7 iron,,{130 + n},{n}\n" for n in range(6)))
    ran = simcaddie("fit", "s.csv", "--name", "x" * 300, "-o", "me.yaml")
    assert ran.code == 2
    assert "which `check` would refuse: name: expected a name of 1 to 80 letters" in ran.err
    assert not Path("me.yaml").exists()


def test_more_sequences_than_fit_the_memory_are_refused():
    with pytest.raises(BadRequest, match="at most 1000000 sequences"):
        Request(sequences=200_000_000).check()
