"""Stroke indexes from difficulty: the published example, what Appendix E asks, and orders known by construction."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from simcaddie.scoring.allocation import asked_of, difficulty, places, proposed_indexes

# Hardest to easiest such that the guidance has nothing to move: the hardest of each nine stands in its middle three.
GOOD = (7, 13, 3, 17, 1, 11, 5, 15, 9, 8, 14, 4, 18, 2, 12, 6, 16, 10)


def test_difficulty_is_that_of_the_published_example():
    """Rules of Handicapping 2020, Appendix E: scratch 4.2, bogey 5.3, par 4: 4.2 + 5.3 − 8 = 1.5."""
    assert difficulty(4.2, 5.3, 4) == pytest.approx(1.5)


def by_index(indexes) -> list[float]:
    return [2.0 - 0.1 * index for index in indexes]


def test_a_course_ordered_by_construction_keeps_its_order():
    assert proposed_indexes(by_index(GOOD)) == GOOD
    assert [one.met for one in asked_of(GOOD, by_index(GOOD))] == [True] * 4


@pytest.mark.parametrize("holes", [1, 3, 9, 17])
def test_other_numbers_of_holes_go_in_plain_order(holes):
    order = tuple(np.random.default_rng(holes).permutation(holes) + 1)
    assert proposed_indexes(by_index(order)) == order
    assert asked_of(order, by_index(order)) == ()


@given(st.permutations(range(1, 19)))
def test_any_order_gives_each_index_once_odd_ones_first(order):
    found = proposed_indexes(by_index(order))
    assert sorted(found) == list(range(1, 19))
    assert {index % 2 for index in found[:9]} == {1}
    met = asked_of(found, by_index(order))
    assert met[0].met
    assert met[1].met
    assert met[2].met


@given(st.permutations(range(1, 19)))
def test_a_nines_first_stroke_falls_in_its_middle_if_a_hole_there_is_hard_enough(order):
    """The lowest index of a nine stands in its middle triad (Appendix E); the exception is from memory."""
    rank, found = places(by_index(order)), proposed_indexes(by_index(order))
    for nine, lowest in ((range(9), 1), (range(9, 18), 2)):
        hole, middle = found.index(lowest), nine[3:6]
        hard = [one for one in middle if rank[one] <= 6]
        assert hole == (min(hard, key=lambda one: rank[one]) if hard else min(nine[1:-1], key=lambda one: rank[one]))


def test_each_thing_asked_is_told_where_it_is_missed():
    swapped = [*GOOD]
    swapped[0], swapped[9] = swapped[9], swapped[0]
    assert not asked_of(swapped, by_index(GOOD))[0].met
    ends = [*GOOD]
    ends[0], ends[4] = ends[4], ends[0]
    middle, end, neighbours = asked_of(ends, by_index(GOOD))[1:]
    assert (middle.met, middle.holes) == (False, (1,))
    assert (end.met, end.holes, end.memory) == (False, (1,), True)
    assert neighbours.met
    beside = [*GOOD]
    beside[3], beside[6] = beside[6], beside[3]
    assert asked_of(beside, by_index(GOOD))[3].holes == (3, 4)
