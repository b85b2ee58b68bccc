"""A player made better in one thing: never worse, nothing else changed."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from simcaddie.decision.practice import better_at, closed, halved, straightened, tightened
from simcaddie.player.reference import golfer
from simcaddie.player.skill import skill_of

PLAYER = golfer(20.0, 180.0)


def test_a_closed_gap_is_the_golfer_five_strokes_better():
    """The whole of it, on a player who is the model's own: same carries, an index lower by five."""
    every = set(range(len(PLAYER.swings)))
    better = better_at(PLAYER, closed, every, touch=True, putting=True)
    model = golfer(15.0, 180.0)
    for mine, theirs in zip(better.swings, model.swings, strict=True):
        assert mine.carry == theirs.carry
        assert (mine.carry_sd, mine.side_sd) == pytest.approx((theirs.carry_sd, theirs.side_sd), abs=0.06)
        assert mine.fat + mine.thin == pytest.approx(theirs.fat + theirs.thin, abs=0.006)
    assert better.putting.direction_sd == pytest.approx(model.putting.direction_sd, abs=0.006)
    assert better.touch["rough"].far == pytest.approx(model.touch["rough"].far, abs=1e-9)


def test_what_is_as_good_already_stays():
    tour = replace(golfer(-6.0, 266.0), handicap_index=18.0)
    every = set(range(len(tour.swings)))
    assert better_at(tour, closed, every, touch=True, putting=True) == tour


def test_range_numbers_are_held_against_the_model_on_the_course():
    swing = replace(PLAYER.swings[0], source="range")
    spread = PLAYER.range_to_course.spread
    assert spread > 1.0
    skill = skill_of(15.0)
    found = closed(PLAYER, replace(swing, side_sd=100.0))
    assert found.side_sd * spread == pytest.approx(skill.side_sd(swing.carry, swing.loft))
    assert closed(PLAYER, replace(swing, fat=0.0, thin=0.0)).fat == 0.0


def test_single_changes():
    swing = replace(PLAYER.swings[0], side=9.0, start_line=-2.0)
    assert tightened(PLAYER, swing).side_sd == pytest.approx(0.9 * swing.side_sd)
    assert halved(PLAYER, swing).fat == swing.fat / 2
    straight = straightened(PLAYER, swing)
    assert straight.side == 0.0
    bow = math.tan(math.radians(-2.0)) - 9.0 / swing.carry  # the start against the chord: the curve
    assert math.tan(math.radians(straight.start_line)) == pytest.approx(bow)
    assert straightened(PLAYER, replace(swing, start_line=None)).start_line is None


@pytest.mark.parametrize("change", [closed, tightened, halved, straightened])
def test_only_what_is_practised_changes(change):
    better = better_at(PLAYER, change, {2})
    assert better.touch == PLAYER.touch
    assert better.putting == PLAYER.putting
    for number, (mine, now) in enumerate(zip(PLAYER.swings, better.swings, strict=True)):
        assert number == 2 or mine == now
    assert better.swings[2] == change(PLAYER, PLAYER.swings[2])
