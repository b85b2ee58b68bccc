"""Quantiles of carry, the usual miss, and what lies between neighbours."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from helpers import club, club_golfer
from hypothesis import given
from hypothesis import strategies as st

from simcaddie.base.surfaces import Lie
from simcaddie.features.bag.analysis import alike, fillers, gap_words, gaps, holes
from simcaddie.player.carries import SwingCarry, carry_quantile, carry_share, swing_carries
from simcaddie.player.defaults import make_swing
from simcaddie.player.pattern import course_pattern
from simcaddie.player.swing import Club

GOLFER = club_golfer()
PATTERN = course_pattern(GOLFER, GOLFER.swings[3], Lie())


@given(st.floats(0.01, 0.99))
def test_quantiles_and_shares_undo_each_other(share):
    assert carry_share(PATTERN, carry_quantile(PATTERN, share)) == pytest.approx(share, abs=1e-9)


def test_quantiles_are_those_of_drawn_balls():
    rng = np.random.default_rng(1)
    strikes = (PATTERN.solid, PATTERN.fat, PATTERN.thin)
    which = rng.choice(3, 400_000, p=[s.share for s in strikes])
    carry = np.array([s.carry for s in strikes])[which] + np.array([s.carry_sd for s in strikes])[which] * rng.normal(
        size=which.size
    )
    for share in (0.2, 0.25, 0.75):
        assert carry_quantile(PATTERN, share) == pytest.approx(np.quantile(carry, share), abs=0.15)


def test_carries_stand_longest_first_and_short_balls_are_short():
    carries = swing_carries(GOLFER)
    averages = [each.average for each in carries]
    assert averages == sorted(averages, reverse=True)
    assert {each.swing.title for each in carries} == {swing.title for swing in GOLFER.swings}
    for each in carries:
        assert each.short < each.low < each.average
        assert each.low < each.high


@pytest.mark.parametrize(("side", "miss"), [(9.0, "right"), (-9.0, "left"), (1.0, "either way")])
def test_the_usual_miss_is_the_likelier_side(side, miss):
    swing = make_swing("7 iron", "full", 126.0, loft=33.0, side=side, side_sd=10.0)
    player = replace(GOLFER, bag=(Club("7 iron", 33.0, (swing,)),))
    assert swing_carries(player)[0].miss == miss


def carry(title: str, average: float, half: float = 4.0) -> SwingCarry:
    name, _, rest = title.partition(" ") if title.startswith("half") else ("full", "", title)
    swing = make_swing(rest, name, average, loft=45.0)
    return SwingCarry(swing, average, average - half - 1, average + half - 1, average - half - 3, 0.5)


def test_a_hole_needs_room_and_empty_middle_halves():
    far, near = carry("9 iron", 108.0), carry("gap wedge", 90.0)
    assert [gap.yards for gap in holes([far, near])] == [18.0]
    assert holes([carry("9 iron", 101.0), near]) == ()
    assert holes([carry("driver", 208.0, half=20.0), carry("5 wood", 190.0, half=15.0)]) == ()
    assert [gap.clear for gap in gaps([far, near])] == [10.0]


def test_a_part_swing_fills_a_hole_between_full_ones():
    carries = [carry("9 iron", 108.0), carry("half 5 iron", 99.0), carry("gap wedge", 88.0)]
    ((part, gap),) = fillers(carries)
    assert (part.swing.title, gap.longer.average, gap.shorter.average) == ("half 5 iron", 108.0, 88.0)
    assert holes(carries) == ()
    assert gap_words(carries, 1.0, "yd") == [
        "The half 5 iron (99) fills the gap between 9 iron (108) and gap wedge (88)."
    ]
    assert gap_words([carries[0], carries[2]], 1.0, "yd") == [
        "A gap of 20 yd between 9 iron (108) and gap wedge (88): few balls land in it."
    ]


def test_clubs_that_carry_alike_are_told_in_the_player_s_units():
    carries = [carry("4 hybrid", 153.0), carry("half driver", 152.0), carry("5 iron", 149.0), carry("6 iron", 140.0)]
    assert [(gap.longer.swing.title, gap.shorter.swing.title) for gap in alike(carries)] == [("4 hybrid", "5 iron")]
    (line,) = gap_words(carries, 1 / 0.9144, "m")
    assert line == "4 hybrid and 5 iron carry alike, 140 and 136: one of them will do."


def test_one_club_has_no_gaps():
    player = replace(GOLFER, bag=(club("driver", 200.0),))
    assert gaps(swing_carries(player)) == ()
    assert gap_words(swing_carries(player), 1.0, "yd") == []
