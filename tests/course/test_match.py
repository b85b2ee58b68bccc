"""Match play against every course of a short match, against play by chance, and against what is plain."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from scipy.stats import chisquare

from simcaddie.scoring.match import hole_chances, match_law
from simcaddie.scoring.pmf import Pmf

HOLES = np.array([[0.3, 0.5, 0.2], [0.1, 0.6, 0.3], [0.4, 0.2, 0.4], [0.25, 0.5, 0.25], [0.2, 0.3, 0.5]])


def played(results: tuple[int, ...]) -> tuple[int, int]:
    """Return (holes up, holes left) when the match is over; results are 1, 0 or −1 a hole."""
    up = 0
    for hole, result in enumerate(results):
        up += result
        if abs(up) > len(results) - hole - 1:
            return up, len(results) - hole - 1
    return up, 0


def test_a_short_match_is_what_counting_every_case_gives():
    counted: dict[tuple[int, int], float] = {}
    for case in itertools.product(range(3), repeat=len(HOLES)):
        result = played(tuple(1 - i for i in case))
        counted[result] = counted.get(result, 0.0) + float(np.prod(HOLES[np.arange(len(HOLES)), case]))
    pmf = match_law(HOLES)
    assert pmf.chance == pytest.approx(counted, abs=1e-12)
    assert pmf.win + pmf.tie + pmf.lose == pytest.approx(1.0)
    assert pmf.win == pytest.approx(sum(p for (up, _), p in counted.items() if up > 0))


def test_eighteen_holes_agree_with_matches_played_by_chance():
    rng = np.random.default_rng(3)
    chances = rng.dirichlet([3, 4, 3], size=18)
    pmf = match_law(chances)
    n = 20_000
    drawn = (rng.random((n, 18, 1)) > np.cumsum(chances, axis=1)[None, :, :2]).sum(axis=2)
    seen: dict[tuple[int, int], int] = {}
    for row in 1 - drawn:
        result = played(tuple(row.tolist()))
        seen[result] = seen.get(result, 0) + 1
    often = [result for result, share in pmf.chance.items() if share * n >= 10]
    expected = np.array([pmf.chance[result] * n for result in often])
    found = np.array([seen.get(result, 0) for result in often])
    rest = n - expected.sum()
    if rest > 1e-9:
        expected, found = np.append(expected, rest), np.append(found, n - found.sum())
    assert chisquare(found, expected).pvalue > 1e-4


def test_days_are_mixed_after_the_match():
    weights = np.array([0.25, 0.75])
    both = np.stack([HOLES, HOLES[::-1, ::-1]])
    apart = [match_law(day).chance for day in both]
    mixture = match_law(both, weights).chance
    for result in mixture:
        assert mixture[result] == pytest.approx(0.25 * apart[0].get(result, 0) + 0.75 * apart[1].get(result, 0))


def test_like_players_win_as_often_as_they_lose():
    pmf = match_law(np.tile([0.3, 0.4, 0.3], (18, 1)))
    assert pmf.win == pytest.approx(pmf.lose)
    assert pmf.chance[10, 8] == pytest.approx(0.3**10)  # "10 and 8", the quickest


def test_a_stroke_turns_a_tied_hole():
    four = Pmf(4, np.ones(1))
    assert hole_chances(four, four, 0) == (0.0, 1.0, 0.0)
    assert hole_chances(four, four, 1) == (1.0, 0.0, 0.0)
    assert hole_chances(four, four, -1) == (0.0, 0.0, 1.0)
