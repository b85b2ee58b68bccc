"""Looking one stroke ahead gives the law that whole sequences have, for any first stroke and any way to play on.

A mean may differ from that of 200,000 plain sequences by 3 standard errors, both sides counted, and 0.003 for cells and
nodes; a chance likewise.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from helpers import club_golfer
from solving import Question, busy_question, busy_solution, choice_at, short_question, short_solution

from simcaddie.base.streams import kernel_key
from simcaddie.decision.measure import pair_means, standard_error
from simcaddie.model import arrays as r
from simcaddie.model.build import pack_ground
from simcaddie.model.heuristics import everyday
from simcaddie.model.left import strokes_left
from simcaddie.simulate import first_strokes, play_sequences
from simcaddie.solve.ahead import NODES, Ahead
from simcaddie.solve.objective import aimed_policy
from simcaddie.solve.quadrature import SETS
from simcaddie.solve.solution import Solution, follow

N = 200_000
SLACK = 0.003  # strokes, or a chance: cells and nodes
TOTALS = np.arange(13)


@pytest.fixture(scope="module")
def question() -> Question:
    return busy_question()


@pytest.fixture(scope="module")
def best() -> Solution:
    return busy_solution()


@pytest.fixture(scope="module")
def sound(question, best) -> Solution:
    policy = everyday(question.problem, club_golfer(), "sound", question.hole.green_middle)
    return follow(question.problem, policy, best.value.to_go, question.place)


def hold(
    solution: Solution, question: Question, swing: int, bearing: float, policy: r.Policy, ahead: Ahead, seed: int
) -> None:
    """Compare the mean, and the chance of every total, of a first stroke with plain sequences."""
    key = kernel_key(seed)
    pmfs = ahead.pmfs(question.place, swing, bearing)[0]
    first = first_strokes(solution.problem, solution.value, question.place, swing, bearing, key, N)
    score = play_sequences(solution.problem, policy, solution.value, first, key, solution.cap).score
    for worth in (TOTALS, *np.eye(TOTALS.size)):
        pairs, sets = pair_means(worth[score]), pmfs @ worth
        error = math.hypot(standard_error(pairs), standard_error(sets))
        assert abs(pairs.mean() - sets.mean()) < 3 * error + SLACK


@pytest.mark.parametrize(("swing", "aim"), [(None, 0.0), (0, -8.0), (4, 3.0), (11, 20.0), (13, 0.0)])
def test_with_best_play_to_follow(question, best, swing, aim):
    """The best stroke, drives at the water, an iron, a wedge into the trees, a touch shot from the tee."""
    own, line = choice_at(best, question)
    at = line if swing is None else question.pin_line + math.radians(aim)
    hold(best, question, own if swing is None else swing, at, best.policy, Ahead.of(best), seed=21)


@pytest.mark.parametrize(("swing", "aim"), [(0, 2.0), (4, -10.0)])
def test_with_everyday_play_to_follow(question, sound, swing, aim):
    at = question.pin_line + math.radians(aim)
    hold(sound, question, swing, at, sound.policy, Ahead.of(sound), seed=22)


def test_with_play_that_depends_on_the_strokes_used(question, best):
    """Playing against a blow-up: what follows depends on the first ball's penalties, and its law has a row for each."""
    policy, after = aimed_policy(best, lambda total: (total >= 7).astype(float))
    assert policy.swing.size == best.cap * best.policy.swing.size
    at = question.pin_line - math.radians(8.0)
    hold(best, question, 0, at, policy, Ahead.of(best, after), seed=23)


def test_on_a_short_hole_from_the_best_stroke():
    solution, question = short_solution(), short_question()
    hold(solution, question, *choice_at(solution, question), solution.policy, Ahead.of(solution), seed=24)


def test_the_comparison_would_notice_other_play_to_follow(question, best, sound):
    """It has teeth: the law of everyday play is not that of best play."""
    with pytest.raises(AssertionError):
        hold(best, question, 0, question.pin_line, best.policy, Ahead.of(sound), seed=25)


def test_means_balls_and_laws_are_one_answer(question, best):
    """They come from the same first balls. A cap moves the means: a ball that is picked up later counts the cap."""
    ahead, at = Ahead.of(best), question.pin_line + np.radians([0.0, -8.0])
    pmfs = ahead.pmfs(question.place, [0, 4], at)
    means = ahead.means(question.place, [0, 4], at, purpose=13)
    assert pmfs.shape == (2, SETS, best.cap + 1)
    assert np.abs(pmfs.sum(axis=2) - 1.0).max() < 1e-9
    assert np.abs(pmfs @ TOTALS - means).max() < 1e-3
    assert means.std() > 0.02  # sets and options differ
    for row, swing in enumerate((0, 4)):
        balls = ahead.balls(question.place, swing, at[row])
        assert balls.rest.x.size == SETS * NODES
        assert np.abs(balls.strokes.reshape(SETS, NODES).mean(axis=1) - means[row]).max() < 1e-9


def test_with_several_pins_balls_on_the_green_count_the_putts_to_each(question, best):
    ahead, at = Ahead.of(best), question.pin_line
    grounds = [pack_ground(question.hole, question.grid, pin) for pin in ((14.0, 355.0), (22.0, 366.0))]
    short = (15.0, 240.0, question.place[2])  # from here greens are hit
    both = ahead.means(short, 5, at, pins=grounds, sets=4)
    each = [ahead.means(short, 5, at, pins=[ground], sets=4) for ground in grounds]
    assert np.abs(both - np.mean(each, axis=0)).max() < 1e-12
    assert np.abs(each[0] - each[1]).max() > 1e-3
    own = ahead.means(short, 5, at, pins=[question.problem.ground], sets=4)
    assert np.array_equal(own, ahead.means(short, 5, at, sets=4))


def test_sets_are_independent_draws_and_options_share_them(question, best):
    """The spread of the sets is that of the answer; a degree's turn of the aim changes it by less, being paired."""
    ahead, at = Ahead.of(best), question.pin_line + np.radians([0.0, 1.0])
    answers = np.array([ahead.pmfs(question.place, [0, 0], at, purpose=p) @ TOTALS for p in range(100, 116)])
    whole = answers[:, 0].mean(axis=1)  # sixteen answers, each from its own sets
    due = answers[:, 0].std(axis=1, ddof=1).mean() / math.sqrt(SETS)
    assert 0.55 * due < whole.std(ddof=1) < 1.6 * due  # χ² with 15 degrees of freedom: once in a thousand outside
    apart = standard_error((answers[:, 1] - answers[:, 0]).ravel())
    alone = math.hypot(*(standard_error(answers[:, row].ravel()) for row in (0, 1)))
    assert apart < 0.8 * alone


def test_strokes_used_choose_the_row_of_what_follows(question, best):
    """With a law that says 5 more after one stroke and 6 more after two, the first ball's strokes decide."""
    states, cap = best.policy.swing.size, best.cap
    after = np.zeros((3, states, cap + 1))
    after[0, :, 1] = after[1, :, 5] = after[2, :, 6] = 1.0
    ahead = Ahead.of(best, after)
    balls = ahead.balls(question.place, 0, question.pin_line - math.radians(8.0))
    off = ~(question.problem.ground.kinds[balls.rest.surface, r.KIND_PUTTING] > 0.0)
    assert set(np.unique(balls.rest.added[off])) == {1, 2}
    assert np.array_equal(balls.strokes[off], np.where(balls.rest.added[off] == 1, 6.0, 8.0))
    left = strokes_left(question.problem, ahead.mean_to_go, balls.rest)
    assert np.array_equal(left[off], np.where(balls.rest.added[off] == 1, 5.0, 6.0))
    pmf = ahead.pmfs(question.place, 0, question.pin_line - math.radians(8.0))[0].mean(axis=0)
    assert pmf[8] == pytest.approx((balls.rest.added[off] == 2).sum() / balls.rest.x.size, abs=1e-9)
