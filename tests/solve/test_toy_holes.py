"""Toy holes that can be solved by hand: solver and simulator both give the exact answer.

Corridors with out of bounds on both sides, a golfer without mishits or run who holes every putt, pins where no full
stroke can hole out. Tees stand in the middle of a cell, so that a ball played again comes from the very same place.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from helpers import box
from scipy.special import ndtr
from solving import Question, ask, choice_at, exact_golfer, mean_of, state_of, tee_law, tee_scores, tried_out

from simcaddie.course.hole import Area, Hole
from simcaddie.decision.measure import pair_means, standard_error
from simcaddie.model import arrays as r
from simcaddie.solve.solution import Solution, follow, solve

TEE = (1.0, 1.0)
NODE_ERROR = 0.005  # strokes: one node in 1,024 more or fewer on one side of an edge, twice over
N = 200_000
FAN = np.radians([0.0, -6.0, 6.0])  # of level lines the straightest
SWEEPS = 10  # where no way leads home values grow for ever
TOY_CELL = 8.0  # yd

search_ways = pytest.mark.parametrize("exhaustive", [False, True], ids=["racing", "exhaustive"])


def corridor(half: float, length: float, pin: tuple[float, float], *areas: Area) -> Hole:
    """Return a hole between two straight boundaries, ``half`` yd to either side of the tee."""
    boundary = box(TEE[0] - half, -20.0, TEE[0] + half, length)
    tee = Area("tee", box(TEE[0] - 3.0, TEE[1] - 3.0, TEE[0] + 3.0, TEE[1] + 3.0))
    return Hole("Toy (invented)", 3, {"t": TEE}, {"p": pin}, (tee, *areas), boundary=boundary)


def strip(kind: str, low: float, high: float) -> Area:
    return Area(kind, box(-40.0, low, 40.0, high))


def answers(hole: Hole, *spreads: tuple[float, float, float], exhaustive: bool) -> tuple[Question, Solution]:
    """Return best play by ``solve``, or by trying every action on 8-yd cells, valued likewise."""
    question = ask(hole, exact_golfer(*spreads))
    if not exhaustive:
        return question, solve(question.problem, question.grid, question.place)
    question = question.on_cells(TOY_CELL)
    choice, _ = tried_out(question.problem, FAN, 64, SWEEPS)
    policy = r.Policy(choice.swing, choice.bearing)
    return question, follow(question.problem, policy, choice.value, question.place)


@search_ways
def test_two_sure_strokes_and_a_putt_are_three(exhaustive):
    """150 yd and 150 yd over 290: the ball lies 11 yd past the pin, on the green, and the putt drops."""
    hole = corridor(14.0, 320.0, (1.0, 290.0), strip("fairway", 120, 180), strip("green", 275, 310))
    question, solution = answers(hole, (150.0, 0.0, 0.0), exhaustive=exhaustive)
    pmf = tee_law(solution, question)
    assert pmf[3] == pytest.approx(1.0, abs=1e-12)
    assert solution.to_go[state_of(solution.problem, question.place)] == pytest.approx(3.0, abs=1e-12)
    assert (tee_scores(solution, question, 2000, seed=1) == 3).all()


@search_ways
@pytest.mark.parametrize("sds", [0.7, 1.0, 1.6])
def test_out_of_bounds_again_and_again_is_a_geometric_law(exhaustive, sds):
    """One club, straight on average; out of bounds with chance p costs stroke and distance (Rule 18.2).

    In bounds it finds the green: down in 2. Else 2 strokes are gone and all is as before. So P(2 + 2j) = p^j (1 − p),
    and E = 2 + p E = 2/(1 − p). Along a line at angle θ the ball is carry · sin θ + side · cos θ off the middle.
    """
    half, carry = 12.0, 160.0
    hole = corridor(half, 200.0, (1.0, 141.0), strip("green", 135, 185))
    question, solution = answers(hole, (carry, 0.0, half / sds), exhaustive=exhaustive)
    swing, bearing = choice_at(solution, question)
    assert swing == 0
    aside, spread = carry * math.sin(bearing), half / sds * math.cos(bearing)
    out = float(ndtr((-half - aside) / spread) + ndtr((aside - half) / spread))
    assert 2.0 / (1.0 - out) - 2.0 / (1.0 - 2.0 * ndtr(-sds)) < 0.02  # straight is best; 64 nodes see no difference
    exact = np.zeros(solution.cap + 1)
    exact[2 : solution.cap : 2] = out ** np.arange(solution.cap // 2 - 1) * (1.0 - out)
    exact[solution.cap] = 1.0 - exact.sum()
    pmf = tee_law(solution, question)
    assert np.abs(pmf - exact).max() < NODE_ERROR / 2
    assert mean_of(pmf) == pytest.approx(mean_of(exact), abs=NODE_ERROR)
    # Not picked up at a cap, 64 nodes or more
    chosen = solution.value.to_go[state_of(solution.problem, question.place)]
    assert chosen == pytest.approx(2.0 / (1.0 - out), rel=0.05)
    scores = tee_scores(solution, question, N, seed=2)
    assert set(np.unique(scores)) <= {2, 4, 6, 8, 10, 12}
    pairs = pair_means(scores)
    assert abs(pairs.mean() - mean_of(exact)) < 4 * standard_error(pairs)


@search_ways
@pytest.mark.parametrize(("edge", "gambles"), [(191.0, False), (182.5, True)])
def test_a_gamble_is_taken_when_it_comes_off_more_than_two_times_in_three(exhaustive, edge, gambles):
    """The long club carries 190 ± 10 yd and must carry ``edge``; the short one goes 100 yd, never more or less.

    Laid up: 100, 100 and a putt, 3. The gamble comes off with q = Φ((191 − edge)/10) and is then down in 2; else it
    costs stroke and distance, and is the right thing again: E = 2 + (1 − q) E = 2/q, less than 3 for q > 2/3.
    """
    hole = corridor(
        14.0,
        280.0,
        (1.0, 262.0),
        strip("fairway", 90, 110),
        strip("out_of_bounds", 110, edge),
        strip("green", edge, 275),
    )
    question, solution = answers(hole, (100.0, 0.0, 0.0), (190.0, 10.0, 0.0), exhaustive=exhaustive)
    comes_off = float(ndtr((TEE[1] + 190.0 - edge) / 10.0))
    exact = 2.0 / comes_off if gambles else 3.0
    assert min(3.0, 2.0 / comes_off) == exact
    assert choice_at(solution, question)[0] == int(gambles)
    pmf = tee_law(solution, question)
    assert pmf[2] == pytest.approx(comes_off if gambles else 0.0, abs=NODE_ERROR / 2)
    # picked up at 12, after five gambles that failed: a shortfall of less than (1 − q)^5 · E
    shortfall = (1.0 - comes_off) ** 5 * exact if gambles else 0.0
    assert mean_of(pmf) == pytest.approx(exact, abs=NODE_ERROR + shortfall)
    scores = tee_scores(solution, question, N, seed=3)
    pairs = pair_means(scores)
    if gambles:
        assert abs(pairs.mean() - exact) < 4 * standard_error(pairs) + shortfall
        assert abs((scores == 2).mean() - comes_off) < 4 * standard_error(pair_means(scores == 2))
    else:
        assert (scores == 3).all()
