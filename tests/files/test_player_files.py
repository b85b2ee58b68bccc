"""A sound player file becomes the player it describes, what it leaves out filled in."""

from __future__ import annotations

from pathlib import Path

import pytest
from samples import PLAYER

from simcaddie.base.surfaces import BY_NAME, default_lies, default_touch
from simcaddie.base.units import METRES_PER_YARD
from simcaddie.io.check import check_file
from simcaddie.io.find import demo_files
from simcaddie.io.player import club_name, read_player, swing_name
from simcaddie.player.defaults import CLUBS, make_swing, mishit_split
from simcaddie.player.pattern import course_pattern
from simcaddie.player.skill import lies_of, skill_of, touch_of
from simcaddie.player.swing import Player, Putting, RangeToCourse


def _read(tmp_path: Path, text: str) -> Player:
    path = tmp_path / "f.yaml"
    path.write_text(text, "utf-8")
    return read_player(path)


def test_every_key_arrives(tmp_path):
    player = _read(tmp_path, PLAYER)
    assert (player.name, player.handicap_index, player.units) == ("Test Player", 19.4, "yards")
    assert player.range_to_course == RangeToCourse(1.25, 1.5)
    assert player.routine == "one look, then swing"
    assert [swing.title for swing in player.swings] == ["driver", "7 iron", "gap wedge", "half gap wedge"]
    driver, iron, full, half = player.swings
    fat, thin = mishit_split(10.5, 0.14)
    assert driver == make_swing(
        "driver", "full", 193, loft=10.5, carry_sd=13, side=6, side_sd=16, correlation=-0.2, run=17, run_sd=7,
        fat=fat, thin=thin, shots=26,
    )  # fmt: skip
    assert iron == make_swing("7 iron", "full", 123, loft=33, index=19.4)
    assert full == make_swing(
        "gap wedge", "full", 91, loft=51, side=2, fat=0.05, thin=0.04, start_line=-2, index=19.4
    )
    assert half == make_swing(
        "gap wedge", "half", 63, loft=51, carry_sd=5, launch=26, spin=6100, source="course", trust="high", index=19.4
    )


def test_lies_and_touch_are_differences(tmp_path):
    player = _read(tmp_path, PLAYER)
    skill = skill_of(19.4)
    lies, touch = lies_of(skill), touch_of(skill)
    assert player.lies["fairway"] == lies["fairway"]
    assert player.touch["bunker"] == touch["bunker"]
    rough = player.lies["rough"]
    assert (rough.carry, rough.longest, rough.spread) == (0.92, "7 iron", lies["rough"].spread)
    assert (player.touch["rough"].near, player.touch["rough"].far) == (1.5, touch["rough"].far)
    assert player.putting == Putting(1.3, skill.putting_distance, skill.past)
    assert set(player.lies) == set(lies)
    assert set(player.touch) == set(touch)


def test_least_file(tmp_path):
    player = _read(tmp_path, "name: Bare\nbag: [{club: driver, carry: 200}]\n")
    assert player.swings == (make_swing("driver", "full", 200, loft=10.5),)
    assert player == Player(
        "Bare", player.bag, lies=default_lies(), touch=default_touch(), putting=Putting(),
        range_to_course=RangeToCourse(), handicap_index=None,
    )  # fmt: skip


@pytest.mark.parametrize(
    "club",
    [
        "{club: 7 iron, carry: 150}",
        "{club: 7 iron, carry: [150]}",
        "{club: 7 iron, swings: {full: {carry: 150}}}",
        "{club: 7 iron, swings: {Full: {carry: [150]}}}",
        "{club: Seven-Iron, loft: 33, carry: 150}",
    ],
)
def test_ways_to_write_the_same_swing(tmp_path, club):
    player = _read(tmp_path, f"name: Bare\nbag: [{club}]\n")
    assert player.swings == (make_swing("7 iron", "full", 150, loft=33),)


def test_metres_become_yards(tmp_path):
    lies = "lies: {rough: {carry: 0.92, fail_carry: 9, longest: 7 iron}}"
    text = PLAYER.replace("lies: {rough: {carry: 0.92, longest: 7 iron}}", lies)
    yards = _read(tmp_path, text)
    metres = _read(tmp_path, text.replace("units: yards", "units: metres"))
    scale = 1 / METRES_PER_YARD
    for ours, theirs in zip(metres.swings[:1], yards.swings[:1], strict=True):
        assert ours.landing > theirs.landing  # the longer ball comes down more steeply
        for key in ("carry", "carry_sd", "side", "side_sd", "run", "run_sd"):
            assert getattr(ours, key) == pytest.approx(getattr(theirs, key) * scale)
        for key in ("loft", "launch", "spin", "fat", "thin", "correlation"):
            assert getattr(ours, key) == getattr(theirs, key)
    assert metres.lies["rough"].fail_carry == pytest.approx(9 * scale)
    assert metres.lies["rough"].carry == 0.92
    assert metres.touch["rough"].near == pytest.approx(1.5 * scale)
    assert metres.touch["fairway"] == yards.touch["fairway"]


def test_what_a_file_leaves_out_follows_the_index_and_ends_as_that_skill_on_the_course(tmp_path):
    text = (
        "name: B\nhandicap_index: {}\nrange_to_course: {{spread: 1.5, mishits: 2}}\n"
        "bag: [{{club: 7 iron, carry: 150}}]\n"
    )
    good, bad = (_read(tmp_path, text.format(index)) for index in (2, 28))
    for player, index in ((good, 2.0), (bad, 28.0)):
        skill, swing = skill_of(index), player.swings[0]
        pattern = course_pattern(player, swing, BY_NAME["tee"].lie)
        assert pattern.solid.carry_sd == pytest.approx(skill.spread_of_carry(150.0))
        assert pattern.solid.side_sd == pytest.approx(skill.side_sd(150.0, 33.0))
        assert pattern.fat.share + pattern.thin.share == pytest.approx(skill.mishits)
        assert player.putting == skill.putting
    assert good.swings[0].side_sd < bad.swings[0].side_sd
    assert good.touch["rough"].near < bad.touch["rough"].near


def test_one_mishit_given_leaves_the_other_at_its_default(tmp_path):
    player = _read(tmp_path, "name: B\nbag: [{club: 7 iron, carry: 150, mishits: {thin: 0.2}}]\n")
    assert (player.swings[0].fat, player.swings[0].thin) == (
        make_swing("7 iron", "full", 150, loft=33).fat,
        0.2,
    )


def test_no_mishits_at_all(tmp_path):
    player = _read(tmp_path, "name: B\nbag: [{club: 7 iron, carry: [150, 0], mishits: 0}]\n")
    assert (player.swings[0].fat, player.swings[0].thin, player.swings[0].carry_sd) == (0, 0, 0)


def test_a_club_of_one_s_own_needs_only_its_loft(tmp_path):
    player = _read(tmp_path, "name: B\nbag: [{club: Old  Cleek, loft: 23, carry: 150}]\n")
    assert player.swings[0] == make_swing("Old Cleek", "full", 150, loft=23)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("Driver", "driver"), ("D", "driver"), ("1 wood", "driver"), ("1w", "driver"), ("3-Wood", "3 wood"),
        ("3w", "3 wood"), ("wood 5", "5 wood"), ("4H", "4 hybrid"), ("Hybrid", "hybrid"), ("7i", "7 iron"),
        ("iron-7", "7 iron"), ("7IRON", "7 iron"), (" nine   iron ", "9 iron"), ("PW", "pitching wedge"),
        ("gw", "gap wedge"), ("Sand_Wedge", "sand wedge"), ("LW", "lob wedge"), ("Old Cleek", "Old Cleek"),
        ("7 spoon", "7 spoon"), ("13 iron", "13 iron"), ("", ""),
    ],
)  # fmt: skip
def test_club_names(written, name):
    assert club_name(written) == name


def test_club_names_are_fixed_points():
    assert all(club_name(name) == name and club_name(name.upper()) == name for name in CLUBS)


def test_swing_names():
    assert [swing_name(name) for name in ("Full", " three  quarter ")] == ["full", "three quarter"]


@pytest.mark.parametrize("path", demo_files("players").values(), ids=lambda path: path.stem)
def test_demo_players(path):
    player = read_player(path)
    assert check_file(path) == player
    assert "invented" in path.read_text("utf-8").lower()
    assert len(player.bag) <= 13  # Rule 4.1b(1): fourteen clubs, the putter among them
