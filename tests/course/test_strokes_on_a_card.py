"""Strokes on a card: they always add up, and fall in the order of the stroke indexes."""

from __future__ import annotations

from dataclasses import replace

import pytest
from helpers import lane
from hypothesis import given
from hypothesis import strategies as st

from simcaddie.base.errors import BadRequest
from simcaddie.course.card import Card, card_of, index_faults
from simcaddie.course.course import Course

ORDERS = st.sampled_from([9, 18]).flatmap(lambda n: st.permutations(range(1, n + 1)))


def course(indexes):
    holes = tuple(replace(lane(), stroke_index=index) for index in indexes)
    return Course("Test", holes, tuple(f"{i}.yaml" for i in range(len(holes))))


@given(ORDERS, st.integers(-12, 80))
def test_strokes_add_up_to_the_playing_handicap(order, handicap):
    """−12 … 80: indexes from −8 to 54 on slopes of 55 to 155."""
    card = Card((4,) * len(order), tuple(order))
    strokes = card.strokes(handicap)
    assert sum(strokes) == handicap
    assert sum(card.net_pars(handicap)) == 4 * len(order) + handicap
    assert max(strokes) - min(strokes) <= 1
    by_order = [strokes[order.index(at)] for at in range(1, len(order) + 1)]
    assert by_order == sorted(by_order, reverse=True)


def test_nine_holes_of_an_eighteen_hole_card_keep_their_order():
    card = card_of(course([5, 17, 1, 9, 3, 13, 7, 15, 11]))
    assert card.order == (3, 9, 1, 5, 2, 7, 4, 8, 6)
    assert card.strokes(2) == (0, 0, 1, 0, 1, 0, 0, 0, 0)


def test_faults_of_indexes_name_the_hole():
    assert index_faults([1, None, 3, 1]) == [
        (1, "a `stroke_index` from 1 to 18 on every hole of a round (hole 2)", "none"),
        (3, "a stroke index of its own", "1, which hole 1 has as well"),
    ]


@pytest.mark.parametrize(
    ("indexes", "told"),
    [
        ([*range(1, 13)], "a round is played over 9 or 18 holes, not over 12"),
        ([1, 2, 3, 4, None, 6, 7, 8, 9], "Test, hole 5: expected a `stroke_index`"),
        ([*range(1, 18), 1], "Test, hole 18: expected a stroke index of its own, found 1, which hole 1 has as well"),
    ],
)
def test_what_is_no_card(indexes, told):
    with pytest.raises(BadRequest) as caught:
        card_of(course(indexes))
    assert told in str(caught.value)
