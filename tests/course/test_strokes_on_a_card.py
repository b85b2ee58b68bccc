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
        (3, "a stroke index of its own", "1, which hole 1 has as well"),
    ]


@pytest.mark.parametrize(
    ("indexes", "told"),
    [
        ([*range(1, 13)], "a round is played over 9 or 18 holes, not over 12"),
        ([*range(1, 18), 1], "Test, hole 18: expected a stroke index of its own, found 1, which hole 1 has as well"),
    ],
)
def test_what_is_no_card(indexes, told):
    with pytest.raises(BadRequest) as caught:
        card_of(course(indexes))
    assert told in str(caught.value)


@pytest.mark.parametrize("indexes", [[None] * 18, [*range(1, 18), None]])
def test_without_all_stroke_indexes_strokes_go_by_length(indexes):
    lengths = [300 + 7 * (5 * number % 18) for number in range(18)]
    made = [replace(lane(), stroke_index=i, pins={"m": (0.0, at)}) for i, at in zip(indexes, lengths, strict=True)]
    card = card_of(Course("Test", tuple(made), tuple(f"{i}.yaml" for i in range(18))))
    assert card.by_length
    assert sorted(card.order) == [*range(1, 19)]
    for first, parity in ((0, 1), (9, 0)):
        nine = range(first, first + 9)
        assert {card.order[hole] % 2 for hole in nine} == {parity}
        assert sorted(nine, key=lambda hole: card.order[hole]) == sorted(nine, key=lambda hole: -lengths[hole])
    assert sum(card.strokes(13)) == 13


def test_a_card_with_all_its_indexes_goes_by_them():
    assert not card_of(course([*range(1, 19)])).by_length
