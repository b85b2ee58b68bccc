"""Course and playing handicaps against the worked examples of the Rules of Handicapping."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference.handicapping import (
    ALLOWANCES as PUBLISHED_ALLOWANCES,
)
from reference.handicapping import (
    COURSE_HANDICAPS,
    MATCH,
    NINE_HOLES,
    NINES_TOGETHER,
    PLAYING_HANDICAPS,
    PLUS_PLAYERS,
)

from simcaddie.base.errors import BadRequest
from simcaddie.scoring.handicap import (
    ALLOWANCES,
    course_handicap,
    course_handicap_nine,
    match_handicaps,
    playing_handicap,
    rounded,
)


@pytest.mark.parametrize("case", COURSE_HANDICAPS)
def test_course_handicap(case):
    index, slope, rating, par, exact, whole, _, _ = case
    found = course_handicap(index, slope, rating, par)
    assert float(found) == pytest.approx(exact, abs=5e-5)
    assert rounded(found) == whole


@pytest.mark.parametrize("case", NINE_HOLES)
def test_course_handicap_of_nine_holes(case):
    index, slope, rating, par, exact, whole, _, _ = case
    found = course_handicap_nine(index, slope, rating, par)
    assert float(found) == pytest.approx(exact, abs=5e-5)
    assert rounded(found) == whole


def test_two_nines_come_to_the_course_handicap_of_eighteen():
    """To what rounding the slope of 131.5 to 132 makes of it."""
    (first, slope_1), (second, slope_2), (whole, slope) = NINES_TOGETHER
    assert first + second == pytest.approx(whole)
    both = course_handicap_nine(20, slope_1, first, 36) + course_handicap_nine(20, slope_2, second, 36)
    assert float(both) == pytest.approx(float(course_handicap(20, slope, whole, 72)), abs=20 * 0.5 / 113 + 1e-9)


@pytest.mark.parametrize(("course", "share", "playing", "why", "known"), PLUS_PLAYERS)
def test_plus_players_round_up(course, share, playing, why, known):
    assert playing_handicap(Decimal(course), Decimal(share)) == playing


@pytest.mark.parametrize("case", PLAYING_HANDICAPS)
def test_playing_handicap_rounds_last(case):
    index, slope, rating, par, share, whole, _, _ = case
    assert playing_handicap(course_handicap(index, slope, rating, par), Decimal(share)) == whole


def test_rounding_first_would_give_another_playing_handicap():
    course = course_handicap(11.4, 132, 71.0, 71)
    assert playing_handicap(course, 0.95) == 13
    assert playing_handicap(rounded(course), 0.95) == 12


# Rule 5.1c and the notes to Rule 6.1: a half goes towards +∞, below zero too. Seen for tenths: −1.55 → −1.5.
@pytest.mark.parametrize(
    ("value", "whole"),
    [(-15.4, -15), (-15.5, -15), (-15.6, -16), (14.5, 15), (0.5, 1), (-0.5, 0), (14.499999, 14)],
)
def test_a_half_rounds_up(value, whole):
    assert rounded(value) == whole


def test_a_half_is_a_half_in_decimals():
    # 35.4 + 69.1 − 70 is 34.5; in binary floats it comes to 34.499…, which would round down.
    assert 35.4 * 113 / 113 + (69.1 - 70) < 34.5
    assert rounded(course_handicap(35.4, 113, 69.1, 70)) == 35


def test_a_plus_handicap_moves_up_towards_zero_under_an_allowance():
    # Appendix C, seen: +4 at 85 % is +3.4, and rounds to +3.
    assert playing_handicap(-4, 0.85) == -3


@given(st.decimals(-8, 54, places=1))
def test_on_neutral_ground_the_course_handicap_is_the_index(index):
    assert course_handicap(index, 113, 72, 72) == index


@given(st.decimals(-8, 54, places=1), st.integers(55, 155))
def test_nine_holes_are_half_of_eighteen(index, slope):
    """Rule 6.1b, from memory: on two like nines each has half the course handicap."""
    both = course_handicap(index, slope, 70, 72)
    assert float(2 * course_handicap_nine(index, slope, 35, 36)) == pytest.approx(float(both), abs=1e-12)


def test_allowances_are_the_recommended_ones():
    assert {form: int(100 * share) for form, share in ALLOWANCES.items()} == PUBLISHED_ALLOWANCES


def test_the_lowest_of_a_match_plays_off_nought():
    assert match_handicaps(MATCH[0]) == list(MATCH[1])
    assert match_handicaps([]) == []
    assert match_handicaps([-2, 3]) == [0, 5]


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((18, 54, 72, 72), "a slope rating lies between 55 and 155, not at 54"),
        ((18, 156, 72, 72), "a slope rating lies between 55 and 155, not at 156"),
        ((54.1, 113, 72, 72), "a handicap index is at most 54, not 54.1"),
        ((float("nan"), 113, 72, 72), "a handicap index must be a number, not nan"),
        ((18, 113, float("inf"), 72), "a course rating must be a number, not inf"),
    ],
)
def test_impossible_ratings_are_refused(arguments, message):
    with pytest.raises(BadRequest) as caught:
        course_handicap(*arguments)
    assert str(caught.value) == message


def test_an_allowance_above_one_is_refused():
    with pytest.raises(BadRequest, match="an allowance lies between 0 and 1, not at 95"):
        playing_handicap(18, 95)
