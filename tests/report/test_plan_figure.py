"""The plan's sheet: no text on another, colours that are told apart, clubs where the policy has them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from helpers import busy_hole, club_golfer

from simcaddie.base.surfaces import code
from simcaddie.charts.labels import clipped, overlaps, renderer_of, shown_texts, text_box
from simcaddie.charts.page import CAUTIONS
from simcaddie.charts.style import lightness
from simcaddie.decision.line_of_play import plan
from simcaddie.features.plan.figure import (
    MOST_CLASSES,
    club_classes,
    club_map,
    draw_plan,
    lab_to_srgb,
    plan_figure,
    ramp,
)
from simcaddie.io.find import demo_files
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player

HOLES, PLAYERS = demo_files("holes"), demo_files("players")
QUICK = (("kettle-drain", "wren"),)
EVERYWHERE = shapely.box(-1e4, -1e4, 1e4, 1e4)


@pytest.fixture(scope="module")
def busy():
    return plan(busy_hole(), club_golfer())


def texts(figure):
    return [text.get_text() for text, _ in shown_texts(figure)]


def stands_free(figure):
    """Assert that no text overlaps another, is cut off, or leaves its own half of the sheet."""
    assert overlaps(figure) == []
    assert clipped(figure) == []
    renderer = renderer_of(figure)
    for ax in figure.axes:
        frame = shapely.box(*ax.bbox.extents).buffer(1.0)
        for text in ax.texts:
            assert frame.contains(text_box(text, renderer)), text.get_text()


@pytest.mark.parametrize(
    ("name", "player"),
    [
        pytest.param(name, player, marks=[] if (name, player) in QUICK else [pytest.mark.slow])
        for name in HOLES
        for player in ("wren", "scratch")
    ],
)
def test_texts_of_every_demo_plan_stand_free(name, player):
    hole, golfer = read_hole(HOLES[name]), read_player(PLAYERS[player])
    made = plan(hole, golfer)
    figure = plan_figure(made)
    stands_free(figure)
    written = texts(figure)
    assert CAUTIONS in written
    for number, leg in enumerate(made.legs):
        assert f"{number + 1} · {leg.title}\n{leg.to_go:.2f} to go" in written
    for area in hole.areas:
        assert any(area.name in text for text in written)


@pytest.mark.slow
def test_a_late_stroke_stands_free():
    hole = read_hole(HOLES["weir-lawn"])
    far = tuple(area for area in hole.areas if area.kind != "trees" or area.name == "hanger wood")
    made = plan(replace(hole, areas=far), read_player(PLAYERS["wren"]), spot="behind")
    figure = plan_figure(made)
    stands_free(figure)
    assert "trees" not in texts(figure)  # none in view


@pytest.mark.slow  # test_style.py has the quick form
def test_same_plan_same_bytes(busy, tmp_path):
    for name in ("plan.png", "plan.svg", "plan.pdf"):
        one, other = tmp_path / name, tmp_path / f"again-{name}"
        draw_plan(busy, one)
        draw_plan(busy, other)
        assert one.read_bytes() == other.read_bytes()


def test_the_map_shows_the_policys_clubs(busy):
    """In the middle of plain ground, where all around agree, the map's club is the policy's."""
    clubs, states = club_map(busy, EVERYWHERE), busy.solution.problem.states
    agreed = 0
    fairway = states.of_cell[code("fairway")]
    for iy in range(2, fairway.shape[0] - 2):
        for ix in range(2, fairway.shape[1] - 2):
            around = fairway[iy - 2 : iy + 3, ix - 2 : ix + 3]
            swings = busy.solution.policy.swing[around]
            if (around >= 0).all() and (swings == swings[0, 0]).all():
                block = round(states.cell / clubs.cell)
                drawn = clubs.which[iy * block + 1, ix * block + 1]
                if busy.grid.surface[iy * block + 1, ix * block + 1] == code("fairway"):
                    assert int(swings[0, 0]) in clubs.classes[drawn].swings
                    agreed += 1
    assert agreed > 3


def test_water_green_and_out_of_bounds_have_no_club(busy):
    clubs = club_map(busy, EVERYWHERE)
    for kind in ("water", "green", "out_of_bounds"):
        assert (clubs.which[busy.grid.surface == code(kind)] == -1).all()
    assert (clubs.which[busy.grid.surface == code("fairway")] >= 0).all()


def test_groups_are_few_and_hold_every_club_once(busy):
    counts = np.ones(len(busy.player.swings) + 3, int)
    classes = club_classes(busy.player, counts)
    assert len(classes) == MOST_CLASSES
    assert sorted(swing for each in classes for swing in each.swings) == list(range(counts.size))
    carries = [max((busy.player.swings[i].carry for i in c.swings if i < counts.size - 3), default=0) for c in classes]
    assert carries == sorted(carries, reverse=True)
    assert classes[-1].title == "touch shot"


def test_few_clubs_stand_alone(busy):
    counts = np.zeros(len(busy.player.swings) + 3, int)
    counts[[0, 2]] = 5
    assert [each.title for each in club_classes(busy.player, counts)] == ["driver", "hybrid"]


@pytest.mark.parametrize("count", range(2, MOST_CLASSES + 1))
def test_colours_differ_evenly_in_grey(count):
    """CIE L*, by the formulas of CIE 15 and IEC 61966-2-1 in ``style.lightness``, which knows nothing of the ramp."""
    levels = [lightness(colour) for colour in ramp(count)]
    steps = -np.diff(levels)
    assert steps.min() > 5.0
    assert steps.max() - steps.min() < 1.0


def test_colours_differ_for_the_colour_blind():
    """Red-blind and green-blind, after Viénot, Brettel and Mollon 1999 (matrices from memory): steps stay apart."""
    to_lms = np.array([[17.8824, 43.5161, 4.11935], [3.45565, 27.1554, 3.86714], [0.0299566, 0.184309, 1.46709]])
    red_blind = np.array([[0, 2.02344, -2.52581], [0, 1, 0], [0, 0, 1]])
    green_blind = np.array([[1, 0, 0], [0.494207, 0, 1.24827], [0, 0, 1]])
    colours = np.array([[int(c[i : i + 2], 16) / 255 for i in (1, 3, 5)] for c in ramp(MOST_CLASSES)])
    for blind in (red_blind, green_blind):
        seen = np.clip(colours**2.2 @ (np.linalg.inv(to_lms) @ blind @ to_lms).T, 0, 1) ** (1 / 2.2)
        levels = [lightness("#" + "".join(f"{round(255 * c):02x}" for c in colour)) for colour in seen]
        assert (-np.diff(levels) > 4.0).all()


def test_lab_colours():
    """Greys of CIELAB: L* 0, 50 and 100 are #000000, #777777 and #ffffff (CSS Color 4's own example; from memory)."""
    lab = np.array([[0.0, 0.0, 0.0], [50.0, 0.0, 0.0], [100.0, 0.0, 0.0]])
    np.testing.assert_allclose(255 * lab_to_srgb(lab), [[0] * 3, [119] * 3, [255] * 3], atol=0.6)
