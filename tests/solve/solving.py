"""What the solver's tests share: questions, solutions that are kept, an exhaustive search, a short hole."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from helpers import box, busy_hole, club, club_golfer
from scipy import stats

from simcaddie.base.streams import Purpose, kernel_key
from simcaddie.base.surfaces import NAMES, Lie, TouchLie, code
from simcaddie.course.grid import AreaGrid, area_grid
from simcaddie.course.hole import Area, Hole
from simcaddie.io.find import demo_files, find_hole, find_player
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player
from simcaddie.model import arrays as r
from simcaddie.model.build import pack
from simcaddie.model.heuristics import guess_to_go
from simcaddie.model.states import build_states, states_at
from simcaddie.player.defaults import make_swing
from simcaddie.player.swing import Club, Player, Putting
from simcaddie.simulate import first_strokes, play_sequences
from simcaddie.solve import search
from simcaddie.solve.actions import Actions, Choice, all_actions
from simcaddie.solve.ahead import Ahead
from simcaddie.solve.quadrature import node_sets
from simcaddie.solve.solution import Solution, solve
from simcaddie.weather.day import Day

HOLES = tuple(demo_files("holes"))
PLAYERS = tuple(demo_files("players"))
SMALL_CELL = 2.0  # yd
Place = tuple[float, float, int]


@dataclass(frozen=True)
class Question:
    """A player on a hole's first tee, to its first pin."""

    hole: Hole
    problem: r.Problem
    grid: AreaGrid
    place: Place

    def on_cells(self, cell: float) -> Question:
        """Return the question with states of ``cell`` yards."""
        problem = self.problem._replace(states=build_states(self.grid, self.place, cell))
        return Question(self.hole, problem, self.grid, self.place)

    @property
    def pin_line(self) -> float:
        return math.atan2(self.problem.ground.pin_x - self.place[0], self.problem.ground.pin_y - self.place[1])


def ask(hole: Hole, player: Player, day: Day | None = None) -> Question:
    tee, grid = hole.place(), area_grid(hole)
    return Question(hole, pack(hole, player, tee, hole.pin(), grid=grid, day=day), grid, (*tee.at, code(tee.lie)))


@cache
def demo(hole: str, player: str) -> Question:
    return ask(read_hole(find_hole(hole)), read_player(find_player(player)))


@cache
def demo_solution(hole: str, player: str) -> Solution:
    question = demo(hole, player)
    return solve(question.problem, question.grid, question.place)


def short_hole() -> Hole:
    """Return 120 yd over a pond, with a bunker, trees, a tilted green, heather and out of bounds close by."""
    return Hole(
        "Short (invented)",
        3,
        {"t": (0.4, 0.3)},
        {"p": (3.0, 120.0)},
        (
            Area("fairway", box(-10, 30, 14, 104)),
            Area("green", box(-8, 108, 14, 131), tilt=(2.0, math.pi)),
            Area("bunker", box(15, 104, 22, 118), name="right bunker"),
            Area("water", box(-28, 62, 2, 82), marking="red"),
            Area("heather", box(-26, 108, -12, 134)),
            Area("trees", box(16, 40, 28, 90), height=12.0, density=0.5),
        ),
        boundary=box(-32, -14, 34, 146),
    )


@cache
def short_question() -> Question:
    bag = (club("8 iron", 122.0), club("9 iron", 108.0), club("sand wedge", 66.0))
    return ask(short_hole(), club_golfer(bag=bag)).on_cells(SMALL_CELL)


@cache
def short_solution() -> Solution:
    question = short_question()
    return solve(question.problem, question.grid, question.place)


@cache
def busy_question() -> Question:
    return ask(busy_hole(), club_golfer())


@cache
def busy_solution() -> Solution:
    question = busy_question()
    return solve(question.problem, question.grid, question.place)


def state_of(problem: r.Problem, place: Place) -> int:
    return int(states_at(problem.states, place[2], place[0], place[1]))


def choice_at(solution: Solution, question: Question) -> tuple[int, float]:
    """Return (swing, bearing from +y) that a policy takes at the place asked from."""
    state = state_of(solution.problem, question.place)
    return int(solution.policy.swing[state]), question.pin_line + float(solution.policy.bearing[state])


def first_law(solution: Solution, place: Place, swing: int, bearing: float, times: int = 1) -> np.ndarray:
    """Return the law of a first stroke by looking ahead, with ``times`` all the nodes that ``pmfs`` has."""
    ahead = Ahead.of(solution)
    purposes = [Purpose.ANSWER, *range(100, 99 + times)]  # each is another lot of sets
    return np.mean([ahead.pmfs(place, swing, bearing, purpose=p)[0].mean(axis=0) for p in purposes], axis=0)


def tee_law(solution: Solution, question: Question, times: int = 1) -> np.ndarray:
    return first_law(solution, question.place, *choice_at(solution, question), times)


def mean_of(pmf: np.ndarray) -> float:
    return float(pmf @ np.arange(pmf.size))


def tee_scores(solution: Solution, question: Question, n: int, seed: int) -> np.ndarray:
    """Return the scores of ``n`` sequences of a policy from the place asked from, in mirrored pairs."""
    key = kernel_key(seed)
    first = first_strokes(solution.problem, solution.value, question.place, *choice_at(solution, question), key, n)
    return play_sequences(solution.problem, solution.policy, solution.value, first, key, solution.cap).score


def merged_chi_square(counts: np.ndarray, expected: np.ndarray, least: float = 20.0) -> float:
    """Return the p-value of counts against what is expected, neighbours merged until each cell expects ``least``."""
    seen, due, here, hoped = [], [], 0.0, 0.0
    for count, want in zip(counts, expected, strict=True):
        here, hoped = here + count, hoped + want
        if hoped >= least:
            seen.append(here)
            due.append(hoped)
            here = hoped = 0.0
    seen[-1] += here
    due[-1] += hoped
    return float(stats.chisquare(seen, np.array(due) * sum(seen) / sum(due)).pvalue)


def every_action(problem: r.Problem, fan: np.ndarray) -> Actions:
    """Return every swing and touch shot along every line of ``fan``, at every state (all round from bad lies)."""
    return all_actions(problem, np.arange(problem.states.lie.size), fan, every=True)


def tried_out(
    problem: r.Problem, fan: np.ndarray, count: int, sweeps: int, within: float = 0.0
) -> tuple[Choice, float]:
    """Return the choice among every action over ``count`` nodes, 32 or more, and the last sweep's largest change.

    The race begins with all nodes and ends there, so that nothing drops out early; the nodes that chose give the value.
    Of level lines the first of ``fan`` is taken.
    """
    states, nodes = problem.states.lie.size, node_sets(count, Purpose.CHOOSE)
    choice = Choice(np.zeros(states, np.int16), np.zeros(states), guess_to_go(problem).to_go)
    actions, most, change = every_action(problem, fan), np.full(states, count), np.inf
    while sweeps and change > within:
        change, _ = search.improve(problem, choice, search.Both(nodes, nodes), actions, most, least=count)
        sweeps -= 1
    return choice, change


def converged(problem: r.Problem, fan: np.ndarray, count: int, within: float = 1e-11) -> Choice:
    """Return what ``tried_out`` does, swept until no value moves."""
    choice, change = tried_out(problem, fan, count, 400, within)
    assert change <= within, "the exhaustive search does not settle"
    return choice


def exact_golfer(*spreads: tuple[float, float, float]) -> Player:
    """Return an invented player without mishits, run or missed putts, from every lie alike.

    One club per (carry, sd of carry, sd of side). Feel shots never move the ball, so nobody chooses them.
    """
    bag = []
    for number, (carry, carry_sd, side_sd) in enumerate(spreads):
        swing = make_swing(
            f"club {number}", "full", carry, loft=40.0, carry_sd=carry_sd, side_sd=side_sd, run=0.0, run_sd=0.0,
            fat=0.0, thin=0.0, source="course",
        )  # fmt: skip
        bag.append(Club(swing.club, swing.loft, (swing,)))
    return Player(
        "exact (invented)",
        tuple(bag),
        lies={name: Lie(fail_carry=0.0) for name in NAMES},
        touch={name: TouchLie(fail=1.0) for name in NAMES},
        putting=Putting(direction_sd=1e-6, distance_sd=1e-6),
    )
