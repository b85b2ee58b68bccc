"""The score law and the policy: chances that add up, actions that are allowed, bytes that don't depend on threads."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from helpers import club_golfer
from solving import Question, busy_question, busy_solution, first_law, mean_of, tee_law

from simcaddie.base.surfaces import NAMES
from simcaddie.model import arrays as r
from simcaddie.solve import search
from simcaddie.solve.actions import Actions
from simcaddie.solve.quadrature import node_sets
from simcaddie.solve.solution import Solution, follow, solve


@pytest.fixture(scope="module")
def question() -> Question:
    return busy_question()


@pytest.fixture(scope="module")
def high() -> Solution:
    return busy_solution()


@pytest.fixture(scope="module")
def low(question) -> Solution:
    return solve(question.problem, question.grid, question.place, cap=7)


@pytest.fixture(params=["high", "low"])
def solution(request) -> Solution:
    return request.getfixturevalue(request.param)


def test_every_state_has_a_law(solution):
    pmf = solution.pmf
    assert pmf.shape == (solution.cap + 1, solution.problem.states.lie.size)
    assert (pmf >= -1e-12).all()
    assert np.abs(pmf.sum(axis=0) - 1.0).max() < 1e-12
    assert (pmf[0] == 0.0).all()  # nobody is in the hole before a stroke
    assert np.abs(solution.to_go - sum(n * pmf[n] for n in range(solution.cap + 1))).max() < 1e-12
    assert (solution.to_go >= 1.0).all()


def test_a_first_stroke_has_a_law(solution, question):
    for swing in (0, 5, len(club_golfer().swings)):
        pmf = first_law(solution, question.place, swing, question.pin_line)
        assert pmf.shape == (solution.cap + 1,)
        assert (pmf >= -1e-12).all()
        assert pmf.sum() == pytest.approx(1.0, abs=1e-12)
        assert 2.0 < mean_of(pmf) <= solution.cap


def test_a_lower_cap_only_moves_what_lies_beyond_it(low, high):
    assert np.array_equal(low.pmf[:7], high.pmf[:7])
    assert np.abs(low.pmf[7] - high.pmf[7:].sum(axis=0)).max() < 1e-12


def test_every_state_has_an_action_that_its_lie_allows(solution):
    problem, swing = solution.problem, solution.policy.swing
    swings = problem.swings.rows.shape[1]
    assert (swing >= 0).all()
    assert (swing < swings + problem.touch.reach.size).all()
    full = swing < swings
    assert full.any()
    assert (~full).any()
    assert (problem.swings.rows[problem.states.lie[full], swing[full], r.SW_USABLE] > 0.0).all()
    assert np.isfinite(solution.policy.bearing).all()
    assert (np.abs(solution.policy.bearing) <= np.pi + 0.2).all()


def test_some_lies_rule_out_clubs_so_that_the_check_above_can_fail(question):
    usable = question.problem.swings.rows[:, :, r.SW_USABLE] > 0.0
    assert not usable[NAMES.index("heather"), 0]
    assert usable[NAMES.index("tee"), 0]


def test_values_settle(high, question):
    """The last sweep moved no value by much, those that chose are near those of the law, and strokes give them back.

    That sweep starts from the values of 8-yd cells, other places than its own by up to 3 yd each way: next to a green,
    a tree or water that is worth half a stroke here and there.
    """
    problem, reachable, to_go = high.problem, high.reachable, high.value.to_go
    assert 0.0 < high.residual < 0.75
    assert reachable.size > 100
    assert np.isfinite(to_go).all()
    assert abs(np.mean(to_go[reachable] - high.to_go[reachable])) < 0.1
    actions = Actions(reachable, high.policy.swing[reachable], high.policy.bearing[reachable])
    again = search.action_values(problem, to_go, node_sets(1024, 100), actions, 1024)  # nodes that had no part in it
    assert abs(np.mean(again - to_go[reachable])) < 0.01
    assert np.sqrt(np.mean((again - to_go[reachable]) ** 2)) < 0.05


def test_following_the_policy_of_best_play_comes_to_the_same(high, question):
    """How many nodes a state gets differs a little, since its balls are followed on other cells; the law holds."""
    again = follow(question.problem, high.policy, high.value.to_go, question.place)
    assert again.residual == 0.0
    one, other = tee_law(again, question), tee_law(high, question)
    assert np.abs(one - other).max() < 0.002
    assert mean_of(one) == pytest.approx(mean_of(other), abs=0.003)


SCRIPT = """
import hashlib, sys
sys.path[:0] = [{tests!r}, {here!r}]
from solving import short_question, short_solution, tee_law
question, solution = short_question(), short_solution()
digest = hashlib.sha256()
for column in (*solution.policy, *solution.value, solution.pmf, solution.visits, tee_law(solution, question)):
    digest.update(column.tobytes())
print(digest.hexdigest())
"""


def test_the_bytes_do_not_depend_on_the_number_of_threads():
    here = Path(__file__).parent
    code = SCRIPT.format(tests=str(here.parent), here=str(here))
    running = [
        subprocess.Popen(
            [sys.executable, "-c", code],
            env={**os.environ, "SIMCADDIE_THREADS": str(count)},
            stdout=subprocess.PIPE,
            text=True,
        )
        for count in (1, 2)
    ]
    seen = {one.communicate(timeout=300)[0].strip() for one in running}
    assert [len(digest) for digest in seen] == [64]
