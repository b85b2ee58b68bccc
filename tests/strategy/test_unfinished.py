"""A hole that can't be finished is told as such, with the reason; one that only is hard is answered."""

from __future__ import annotations

from dataclasses import replace

import pytest
from helpers import box, club_golfer, lane

from simcaddie.base.errors import BadRequest
from simcaddie.course.hole import Area
from simcaddie.decision.compare import compare
from simcaddie.decision.line_of_play import plan
from simcaddie.decision.request import Request

ASK = Request(sequences=200, robust=False)


def island(near: float, units: str = "yards"):
    """Return a lane whose green lies in a lake that begins ``near`` yd from the tee."""
    lake = Area("water", box(-400, near, 400, 700), name="long lake", marking="yellow")
    return replace(lane(lake), units=units)


@pytest.mark.parametrize("ask", [lambda hole, player: compare(hole, player, ASK), plan])
def test_an_island_beyond_every_carry_is_told_with_its_shores(ask):
    with pytest.raises(
        BadRequest,
        match=r"can't be finished from here by club golfer.*one in a hundred.*the long lake "
        r"lies across the way from 20 to 287 yd, and the longest carry is 190 yd",
    ):
        ask(island(20.0), club_golfer())


def test_in_the_units_of_the_hole():
    with pytest.raises(BadRequest, match="from 18 to 262 m"):
        plan(island(20.0, "metres"), club_golfer())


def test_an_island_within_a_carry_is_answered():
    answer = plan(island(150.0), club_golfer())
    assert answer.mean < 11.0


def test_without_water_the_bag_is_to_blame():
    ground = replace(lane(Area("gorse", box(-200, 10, 200, 280))), surround="gorse")
    half = club_golfer(bag=(replace(club_golfer().bag[-1]),))
    with pytest.raises(BadRequest, match="since no shot of this bag holds the green"):
        plan(ground, half)
