"""Shot patterns: shares, what multiplies what, and a floor on spread from the course rating tables."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from helpers import club_golfer
from hypothesis import given
from hypothesis import strategies as st
from reference.accuracy import BOGEY_MEN, SHARE

from simcaddie.base.surfaces import BY_NAME, SURFACES, Lie
from simcaddie.player.defaults import CLUBS, make_swing
from simcaddie.player.pattern import MAX_MISHITS, Pattern, course_pattern, usable
from simcaddie.player.swing import Player

GOLFER = club_golfer()


def strikes(pattern: Pattern):
    return (pattern.solid, pattern.fat, pattern.thin)


@given(st.floats(0, 0.5), st.floats(0, 0.5), st.floats(0.5, 3), st.sampled_from(["range", "course"]))
def test_shares_sum_to_one_and_mishits_are_capped(fat, thin, rate, source):
    swing = replace(GOLFER.swings[0], fat=fat, thin=thin, source=source)
    pattern = course_pattern(GOLFER, swing, Lie(mishits=rate))
    assert sum(strike.share for strike in strikes(pattern)) == pytest.approx(1)
    assert min(strike.share for strike in strikes(pattern)) >= 0
    assert pattern.solid.share >= 1 - MAX_MISHITS - 1e-12
    if fat > 0.01:
        assert pattern.thin.share / pattern.fat.share == pytest.approx(thin / fat)


def test_range_numbers_widen_on_the_course_and_course_numbers_do_not():
    swing = make_swing("7 iron", "full", 130.0, loft=33.0, source="range")
    ranged = course_pattern(GOLFER, swing, Lie())
    course = course_pattern(GOLFER, replace(swing, source="course"), Lie())
    assert course.solid.side_sd == swing.side_sd
    assert ranged.solid.side_sd == pytest.approx(1.25 * swing.side_sd)
    assert ranged.solid.carry_sd == pytest.approx(1.25 * swing.carry_sd)
    assert ranged.fat.share + ranged.thin.share == pytest.approx(1.5 * (swing.fat + swing.thin))
    assert ranged.solid.carry == course.solid.carry == swing.carry


def test_low_trust_widens():
    swing = GOLFER.swings[3]
    wide = course_pattern(GOLFER, replace(swing, trust="low"), Lie())
    assert wide.solid.side_sd > course_pattern(GOLFER, swing, Lie()).solid.side_sd


@pytest.mark.parametrize("kind", [kind.name for kind in SURFACES])
def test_no_lie_makes_a_swing_longer_or_surer_than_the_tee(kind):
    for swing in GOLFER.swings:
        tee, there = (course_pattern(GOLFER, swing, BY_NAME[name].lie) for name in ("tee", kind))
        assert there.carry <= tee.carry + 1e-9
        assert there.solid.share <= tee.solid.share + 1e-9


@pytest.mark.parametrize("club", ["driver", "7 iron", "sand wedge"])
def test_mishits_fall_short_and_thin_ones_run(club):
    swing = make_swing(club, "full", 100.0, loft=CLUBS[club].loft)
    pattern = course_pattern(GOLFER, swing, Lie())
    assert pattern.fat.carry < pattern.thin.carry < pattern.solid.carry
    assert pattern.fat.run < pattern.thin.run
    assert pattern.thin.launch < pattern.solid.launch


def test_a_half_swing_fails_less_badly():
    full = course_pattern(GOLFER, make_swing("9 iron", "full", 72.0, loft=41.5), Lie())
    half = course_pattern(GOLFER, make_swing("9 iron", "half", 72.0, loft=41.5), Lie())
    assert half.solid.share > full.solid.share
    assert half.fat.carry > full.fat.carry


def test_loft_and_the_longest_club_decide_what_may_be_used():
    driver, iron = GOLFER.swings[0], next(swing for swing in GOLFER.swings if swing.club == "7 iron")
    assert usable(GOLFER, driver, Lie())
    assert not usable(GOLFER, driver, Lie(min_loft=14.0))
    assert usable(GOLFER, iron, Lie(longest="7 iron"))
    assert not usable(GOLFER, driver, Lie(longest="7 iron"))


def share_inside(player: Player, length: float, width: float, depth: float, seed: int) -> float:
    """Return the share of full shots of ``length`` that land in the rectangle best placed along the line."""
    club = min(
        CLUBS,
        key=lambda name: abs(
            {"driver": 200, "5 wood": 175, "6 iron": 145, "8 iron": 122}.get(name, 98) - length
        ),
    )
    pattern = course_pattern(
        player, make_swing(club, "full", length, loft=CLUBS[club].loft), BY_NAME["fairway"].lie
    )
    rng = np.random.default_rng(seed)
    which = rng.choice(3, 200_000, p=[strike.share for strike in strikes(pattern)])
    means, sds, sides = (
        np.array([getattr(s, key) for s in strikes(pattern)])[which]
        for key in ("carry", "carry_sd", "side_sd")
    )
    carry, side = means + sds * rng.normal(size=which.size), sides * rng.normal(size=which.size)
    inside = [
        (np.abs(carry - length - shift) < depth / 2) & (np.abs(side) < width / 2)
        for shift in range(-10, 11, 2)
    ]
    return float(max(np.mean(some) for some in inside))


@pytest.mark.parametrize("length", BOGEY_MEN)
def test_default_patterns_of_a_club_golfer_are_no_tighter_than_the_rating_tables(length):
    """A floor on spread: the tables' area takes two in three; a rectangle is the largest it can be."""
    assert (
        share_inside(Player("plain (invented)", ()), length, *BOGEY_MEN[length], seed=length) < SHARE + 0.03
    )
