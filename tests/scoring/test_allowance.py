"""Strokes hole by hole against the worked examples, and that they add up."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference.handicapping import MAX_HOLE_SCORES, STROKES

from simcaddie.base.errors import BadRequest
from simcaddie.scoring.formats import net_double_bogey
from simcaddie.scoring.handicap import nine_hole_order, strokes_received


@pytest.mark.parametrize(("handicap", "expected", "source", "known"), STROKES)
def test_strokes_fall_in_the_order_of_the_index(handicap, expected, source, known):
    wanted = {index: count for count, indexes in expected.items() for index in indexes}
    assert len(wanted) == 18
    assert {index: strokes_received(handicap, index) for index in range(1, 19)} == wanted


@pytest.mark.parametrize("holes", [9, 18])
@pytest.mark.parametrize("handicap", range(-10, 55))
def test_the_strokes_of_all_holes_add_up_to_the_handicap(handicap, holes):
    assert sum(strokes_received(handicap, index, holes) for index in range(1, holes + 1)) == handicap


@given(st.integers(-30, 80), st.integers(1, 18), st.integers(1, 18))
def test_a_lower_index_never_gets_fewer_strokes_nor_two_more(handicap, one, other):
    low, high = sorted((one, other))
    assert 0 <= strokes_received(handicap, low) - strokes_received(handicap, high) <= 1


@given(st.integers(-30, 80), st.integers(1, 18))
def test_one_more_stroke_falls_on_one_hole(handicap, index):
    gained = [strokes_received(handicap + 1, i) - strokes_received(handicap, i) for i in range(1, 19)]
    assert sorted(gained) == [0] * 17 + [1]


def test_nine_holes_take_their_order_from_the_published_indexes():
    """Appendix E, second-hand: ascending order; a plus player starts at the highest of that nine."""
    odd = [7, 1, 17, 3, 9, 15, 5, 13, 11]
    places = nine_hole_order(odd)
    assert places == [4, 1, 9, 2, 5, 8, 3, 7, 6]
    assert [index for index, at in zip(odd, places, strict=True) if strokes_received(-1, at, 9)] == [17]


@pytest.mark.parametrize("case", MAX_HOLE_SCORES)
def test_max_hole_score_is_net_double_bogey(case):
    handicap, par, index, most, _, _ = case
    assert net_double_bogey(par + strokes_received(handicap, index)) == most


@pytest.mark.parametrize(("index", "holes"), [(0, 18), (19, 18), (10, 9)])
def test_an_unknown_stroke_index_is_refused(index, holes):
    with pytest.raises(BadRequest, match=f"between 1 and {holes}, not at {index}"):
        strokes_received(18, index, holes)


def test_a_doubled_stroke_index_is_refused():
    with pytest.raises(BadRequest, match="no two holes"):
        nine_hole_order([1, 3, 3])
