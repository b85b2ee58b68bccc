"""On holes that turn, ``compare`` finds a line no worse than ``plan`` does, wherever the drawn way goes."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import shapely
from helpers import club_golfer
from shapely import LineString

from simcaddie.course.hole import Area, Hole
from simcaddie.decision.best_aims import best_lines, fan
from simcaddie.decision.compare import compare
from simcaddie.decision.line_of_play import plan
from simcaddie.decision.phrases import bare_words
from simcaddie.decision.request import Request

BAG = (0, 2, 4, 6)
ASK = Request(sequences=400, robust=False)


def bent(seed: int) -> Hole:
    """Return a hole that turns by 30 to 100° after 90 to 220 yd, nothing or trees in the corner: invented."""
    rng = np.random.default_rng([41, seed])
    turn = math.radians(rng.uniform(30.0, 100.0)) * rng.choice([-1.0, 1.0])
    first, second = rng.uniform(90.0, 220.0), rng.uniform(90.0, 220.0)
    corner = (0.0, first)
    pin = (second * math.sin(turn), first + second * math.cos(turn))
    way = LineString([(0.0, 40.0), corner, pin])
    areas = [
        Area("fairway", way.buffer(rng.uniform(12.0, 20.0))),
        Area("green", shapely.Point(pin).buffer(12.0)),
    ]
    if rng.random() < 0.5:
        wood = shapely.Polygon([(0.0, 60.0), corner, pin]).buffer(-20.0)
        if wood.area > 100.0 and wood.geom_type == "Polygon":
            areas.append(Area("trees", wood, height=15.0, density=0.6))
    tees, pins = {"tee": (0.0, 0.0)}, {"pin": pin}
    return Hole(f"bent {seed} (invented)", 4, tees, pins, tuple(areas), line=((0.0, 0.0), corner, pin))


@pytest.mark.parametrize(
    "seed", [*range(4), *(pytest.param(seed, marks=pytest.mark.slow) for seed in range(4, 24))]
)
def test_compare_is_never_beaten_by_plan(seed):
    player = club_golfer()
    player = replace(player, bag=tuple(player.bag[i] for i in BAG if i < len(player.bag)))
    hole = bent(seed)
    ranked = compare(hole, player, ASK)
    best = min(ranked.options, key=lambda m: m.mean)
    assert best.mean <= plan(hole, player).mean + 2.0 * best.se + 0.003


def test_a_line_over_ground_that_nobody_drew_is_told():
    """A sharp corner with nothing in it: the line goes across, and the answer says what that rests on."""
    corner, pin = (0.0, 150.0), (170.0, 160.0)
    hole = Hole(
        "corner (invented)",
        4,
        {"tee": (0.0, 0.0)},
        {"pin": pin},
        (
            Area("fairway", LineString([(0.0, 60.0), corner, pin]).buffer(15.0)),
            Area("green", shapely.Point(pin).buffer(12.0)),
        ),
        line=((0.0, 0.0), corner, pin),
    )
    answer = compare(hole, club_golfer(), ASK)
    assert abs(answer.best.option.aim) < 12.0  # the pin line, 47° off the drawn way
    assert "of which the file draws nothing, so that it counts as rough" in bare_words(answer)
    drawn = replace(hole, areas=(Area("heather", shapely.box(-20.0, -20.0, 200.0, 190.0)), *hole.areas))
    assert bare_words(compare(drawn, club_golfer(), ASK)) == ""


def test_every_local_best_is_looked_at_closer():
    """Two valleys, the deeper one narrow and between the steps of the fan: only a closer look finds it."""

    def look(swings, aims, sets):
        there = np.asarray(aims)
        return 5.0 - 0.3 * np.exp(-(((there + 20.0) / 8.0) ** 2)) - 0.45 * np.exp(-(((there - 15.0) / 0.9) ** 2))

    lines = best_lines(look, [3], fan([0.0]))
    assert lines[3].aim == pytest.approx(15.0)
    assert lines[3].worth == pytest.approx(5.0 - 0.45, abs=0.01)


def test_the_fan_spans_what_it_is_given():
    aims = fan([0.0, 33.5, -10.0])
    assert aims[0] <= -34.0
    assert aims[-1] >= 57.0
    assert {0.0, 33.5, -10.0} <= set(aims)
    assert max(b - a for a, b in pairwise(aims)) <= 2.0
