"""The score law and the policy: chances that add up, actions that are allowed, bytes that don't depend on threads."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from helpers import busy_hole, club_golfer
from solving import Question, ask, mean_of

from simcaddie.play import records as r
from simcaddie.solve import Solution, first_stroke_law, solve
from simcaddie.surfaces import NAMES


@pytest.fixture(scope="module")
def question() -> Question:
    return ask(busy_hole(), club_golfer())


@pytest.fixture(scope="module", params=[12, 7], ids=["cap 12", "cap 7"])
def solution(request, question) -> Solution:
    return solve(question.table, question.grid, question.place, cap=request.param)


def test_every_state_has_a_law(solution):
    law = solution.law
    assert law.shape == (solution.cap + 1, solution.table.states.lie.size)
    assert (law >= -1e-12).all()
    assert np.abs(law.sum(axis=0) - 1.0).max() < 1e-12
    assert (law[0] == 0.0).all()  # nobody is in the hole before a stroke
    assert np.abs(solution.to_go - sum(n * law[n] for n in range(solution.cap + 1))).max() < 1e-12
    assert (solution.to_go >= 1.0).all()


def test_a_first_stroke_has_a_law(solution, question):
    for swing in (0, 5, len(club_golfer().swings)):
        law = first_stroke_law(solution, question.place, swing, question.pin_line)
        assert law.shape == (solution.cap + 1,)
        assert (law >= -1e-12).all()
        assert law.sum() == pytest.approx(1.0, abs=1e-12)
        assert 2.0 < mean_of(law) <= solution.cap


def test_a_lower_cap_only_moves_what_lies_beyond_it(question):
    high = solve(question.table, question.grid, question.place, cap=12)
    low = solve(question.table, question.grid, question.place, cap=7)
    assert np.array_equal(low.law[:7], high.law[:7])
    assert np.abs(low.law[7] - high.law[7:].sum(axis=0)).max() < 1e-12


def test_every_state_has_an_action_that_its_lie_allows(solution):
    table, swing = solution.table, solution.policy.swing
    swings = table.swings.table.shape[1]
    assert (swing >= 0).all()
    assert (swing < swings + table.touch.reach.size).all()
    full = swing < swings
    assert full.any()
    assert (~full).any()
    assert (table.swings.table[table.states.lie[full], swing[full], r.SW_USABLE] > 0.0).all()
    assert np.isfinite(solution.policy.bearing).all()
    assert (np.abs(solution.policy.bearing) <= np.pi + 0.2).all()


def test_some_lies_rule_out_clubs_so_that_the_check_above_can_fail(question):
    usable = question.table.swings.table[:, :, r.SW_USABLE] > 0.0
    assert not usable[NAMES.index("heather"), 0]
    assert usable[NAMES.index("tee"), 0]


def test_values_settle(solution):
    """The last sweep changed no value by much, and the values that chose are near those of the law."""
    assert 0.0 <= solution.residual < 0.5
    often = solution.often
    assert solution.sweeps >= 1
    assert np.isfinite(solution.value.to_go).all()
    assert abs(np.mean(solution.value.to_go[often] - solution.to_go[often])) < 0.1


SCRIPT = """
import hashlib, sys
sys.path[:0] = [{tests!r}, {here!r}]
from helpers import busy_hole, club_golfer
from solving import ask, tee_law
from simcaddie.solve import solve
question = ask(busy_hole(), club_golfer())
solution = solve(question.table, question.grid, question.place)
digest = hashlib.sha256()
for column in (*solution.policy, *solution.value, solution.law, tee_law(solution, question)):
    digest.update(column.tobytes())
print(digest.hexdigest())
"""


def test_the_bytes_do_not_depend_on_the_number_of_threads():
    here = Path(__file__).parent
    code = SCRIPT.format(tests=str(here.parent), here=str(here))
    seen = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "SIMCADDIE_THREADS": str(count)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        for count in (1, 2)
    }
    assert [len(digest) for digest in seen] == [64]
