"""What must hold whatever the hole: mirrors, and that more to choose from is never worse.

The exhaustive search is exact for its nodes, so that there more clubs or aim lines can only help. The race throws
actions away early; there the valued law may lose a hundredth of a stroke.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from helpers import box, busy_hole, club, club_golfer, mirrored_hole, mirrored_player
from solving import (
    Question,
    ask,
    busy_question,
    busy_solution,
    converged,
    demo,
    every_action,
    first_law,
    mean_of,
    tee_law,
)

from simcaddie.base.streams import Purpose
from simcaddie.course.hole import Area, Hole
from simcaddie.io.find import find_hole, find_player
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player
from simcaddie.model import arrays as r
from simcaddie.model.states import states_at
from simcaddie.solve import search
from simcaddie.solve.quadrature import node_sets
from simcaddie.solve.solution import Solution, solve

COUNT = 32  # nodes
TOY_CELL = 8.0  # yd
TWO_THIRDS = ("driver", "7 iron", "sand wedge")


def mirrored_states(one: r.Problem, other: r.Problem) -> np.ndarray:
    """Return the state of ``other`` that mirrors each state of ``one``."""
    s = one.states
    return states_at(other.states, s.lie, -s.xy[:, 0], s.xy[:, 1])


def solved(hole: Hole, player) -> tuple[Question, Solution]:
    question = ask(hole, player)
    return question, solve(question.problem, question.grid, question.place)


@pytest.fixture(scope="module")
def busy() -> tuple[Question, Solution]:
    return busy_question(), busy_solution()


def test_a_mirrored_hole_and_player_have_mirrored_values_and_laws(busy):
    one, here = busy
    other, there = solved(mirrored_hole(busy_hole()), mirrored_player(club_golfer()))
    match = mirrored_states(one.problem, other.problem)
    assert (match >= 0).all()
    assert np.abs(here.value.to_go - there.value.to_go[match]).max() < 1e-9
    assert np.abs(here.pmf - there.pmf[:, match]).max() < 1e-9
    for swing, aim in ((0, -0.1), (3, 0.04), (len(club_golfer().swings), 0.0)):
        pmf = first_law(here, one.place, swing, one.pin_line + aim)
        back = first_law(there, other.place, swing, other.pin_line - aim)
        assert np.abs(pmf - back).max() < 1e-9


def test_the_mirror_shows(busy):
    """The same golfer on the mirrored hole is another problem: what was compared above was no hole like its mirror."""
    one, here = busy
    other, there = solved(mirrored_hole(busy_hole()), club_golfer())
    match = mirrored_states(one.problem, other.problem)
    assert np.abs(here.value.to_go - there.value.to_go[match]).max() > 0.01


def small_hole() -> Hole:
    return Hole(
        "Small (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"p": (6.0, 262.0)},
        (
            Area("fairway", box(-12, 90, 16, 240)),
            Area("green", box(-6, 250, 18, 274)),
            Area("bunker", box(-14, 236, -6, 256)),
            Area("water", box(10, 150, 34, 190), marking="red"),
        ),
        boundary=box(-40, -10, 44, 300),
    )


def values(clubs: tuple[str, ...], fan: np.ndarray) -> np.ndarray:
    """Return the converged exhaustive values of a bag on the small hole; longest and shortest club are in every bag."""
    carries = {"driver": 190.0, "5 wood": 165.0, "7 iron": 130.0, "9 iron": 110.0, "sand wedge": 70.0}
    bag = tuple(club(name, carries[name]) for name in clubs)
    question = ask(small_hole(), club_golfer(bag=bag))
    return converged(question.on_cells(TOY_CELL).problem, fan, COUNT).value


FAN = np.radians([-10.0, 0.0, 10.0])
NESTED = np.radians([-20.0, -10.0, -5.0, 0.0, 5.0, 10.0, 20.0])


@pytest.fixture(scope="module")
def base() -> np.ndarray:
    return values(TWO_THIRDS, FAN)


@pytest.mark.parametrize("extra", ["5 wood", "9 iron"])
def test_a_club_more_is_nowhere_worse(base, extra):
    more = values((TWO_THIRDS[0], extra, *TWO_THIRDS[1:]), FAN)
    assert (more - base).max() <= 1e-9
    assert (base - more).max() > 0.01  # somewhere it helps


def test_more_aim_lines_are_nowhere_worse(base):
    wider = values(TWO_THIRDS, NESTED)
    assert (wider - base).max() <= 1e-9
    assert (base - wider).max() > 0.01


def test_racing_loses_next_to_nothing_against_trying_every_action():
    """What the race throws away early, on few nodes, it would seldom have chosen on all of them."""
    problem = ask(small_hole(), club_golfer()).on_cells(TOY_CELL).problem
    nodes, many = node_sets(256, Purpose.CHOOSE), np.full(problem.states.lie.size, 256)
    to_go = converged(problem, FAN, COUNT).value
    actions = every_action(problem, NESTED)
    winner, *_ = search.race(problem, to_go, nodes, actions, many)
    every = search.action_values(problem, to_go, nodes, actions, 256)
    least = np.minimum.reduceat(every, np.flatnonzero(np.diff(actions.state, prepend=-1)))
    loss = search.action_values(problem, to_go, nodes, winner, 256) - least
    assert np.array_equal(winner.state, np.arange(problem.states.lie.size))
    assert loss.min() >= -1e-12
    assert loss.mean() < 0.005
    assert np.quantile(loss, 0.99) < 0.15
    hasty, *_ = search.race(problem, to_go, nodes, actions, np.full(many.size, 16))  # on few nodes it does lose
    assert (search.action_values(problem, to_go, nodes, hasty, 256) - least).mean() > 0.01


@pytest.mark.parametrize(
    ("hole", "player", "left_out"),
    [
        pytest.param("curlew-inlet", "wren", (1, 4), marks=pytest.mark.slow),
        ("millpond", "scratch", (2, 6)),
        pytest.param("weir-lawn", "slow-swing-30", (1, 3), marks=pytest.mark.slow),
    ],
)
def test_with_racing_a_club_more_costs_at_most_a_hundredth(hole, player, left_out):
    """Clubs in the middle of the bag, so that how far touch shots reach stays the same."""
    full = demo(hole, player)
    whole = mean_of(tee_law(solve(full.problem, full.grid, full.place), full))
    golfer = read_player(find_player(player))
    for number in left_out:
        bag = tuple(one for i, one in enumerate(golfer.bag) if i != number)
        less = ask(read_hole(find_hole(hole)), replace(golfer, bag=bag))
        assert whole <= mean_of(tee_law(solve(less.problem, less.grid, less.place), less)) + 0.01
