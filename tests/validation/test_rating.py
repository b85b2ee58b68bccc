"""Length ratings: the better half of rounds on neutral courses grows with length as the Course Rating System says.

The slope (strokes per yard) is the check: no number was fitted to it alone. The level served to choose the rows of
skill at scratch and 18; what is left of it is bounded here, the bogey woman's by more: her 24 lies beyond those rows.
"""

from __future__ import annotations

import numpy as np
import pytest
from reference.club_golfers import LENGTH_RATING
from validation.rounds import better_half, by_length, lengths, mean

from simcaddie.player.reference import reference

# Strokes a round that the level may be off: the scratch man was moved to five strokes behind the tour, as published.
LEFT = {"bogey woman": 4.0, "scratch man": 2.0}


def ratings(name: str, holes: int, courses: int) -> tuple[np.ndarray, np.ndarray]:
    """Return yards and better halves over neutral courses of the golfer's range of lengths."""
    _, _, short, long = LENGTH_RATING[name]
    yards = np.linspace(short, long, courses)
    pmfs = by_length(reference(name), lengths(short).min() - 1, lengths(long).max() + 1, holes)
    return yards, np.array([better_half(pmfs.round(total)) for total in yards])


def hold(name: str, holes: int, courses: int) -> None:
    per, constant, _, _ = LENGTH_RATING[name]
    yards, halves = ratings(name, holes, courses)
    assert np.polyfit(yards, halves, 1)[0] * per == pytest.approx(1.0, abs=0.10)
    assert np.abs(halves - (yards / per + constant)).max() < LEFT.get(name, 1.6)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["scratch man", "bogey woman"])
def test_slope_of_the_length_rating(name):
    hold(name, holes=4, courses=3)


@pytest.mark.slow
@pytest.mark.parametrize("name", LENGTH_RATING)
def test_slope_of_the_length_rating_on_more_lengths(name):
    hold(name, holes=9, courses=5)


def test_better_half_and_mean_of_small_laws():
    pmf = np.array([0.0, 0.25, 0.25, 0.5])
    assert mean(pmf) == pytest.approx(2.25)
    assert better_half(pmf) == pytest.approx(1.5)
    odd = np.array([0.2, 0.6, 0.2])  # half of the scores: all the 0s and half of the 1s
    assert better_half(odd) == pytest.approx(0.6)
