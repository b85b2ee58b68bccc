"""What the solver's tests share: questions, solutions that are kept, an exhaustive search, a short hole."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from helpers import box, busy_hole, club, club_golfer
from scipy import stats

from simcaddie.air.day import Day
from simcaddie.files.find import demo_files, find_hole, find_player
from simcaddie.files.hole_file import read_hole
from simcaddie.files.player_file import read_player
from simcaddie.golfer.defaults import make_swing
from simcaddie.golfer.player import Club, Player, Putting
from simcaddie.ground.grid import AreaGrid, area_grid
from simcaddie.ground.hole import Area, Hole
from simcaddie.play import records as r
from simcaddie.play.everyday import guess_to_go
from simcaddie.play.pack import pack
from simcaddie.play.states import build_states, states_at
from simcaddie.simulate import first_strokes, play_sequences
from simcaddie.solve import search
from simcaddie.solve.actions import Actions, Choice, all_actions
from simcaddie.solve.ahead import Ahead
from simcaddie.solve.nodes import ANSWER, CHOOSE, node_sets
from simcaddie.solve.solution import Solution, solve
from simcaddie.streams import kernel_key
from simcaddie.surfaces import NAMES, Lie, TouchLie, code

HOLES = tuple(demo_files("holes"))
PLAYERS = tuple(demo_files("players"))
SMALL_CELL = 2.0  # yd
Place = tuple[float, float, int]


@dataclass(frozen=True)
class Question:
    """A player on a hole's first tee, to its first pin."""

    hole: Hole
    table: r.Table
    grid: AreaGrid
    place: Place

    def on_cells(self, cell: float) -> Question:
        """Return the question with states of ``cell`` yards."""
        table = self.table._replace(states=build_states(self.grid, self.place, cell))
        return Question(self.hole, table, self.grid, self.place)

    @property
    def pin_line(self) -> float:
        return math.atan2(self.table.ground.pin_x - self.place[0], self.table.ground.pin_y - self.place[1])


def ask(hole: Hole, player: Player, day: Day | None = None) -> Question:
    tee, grid = hole.place(), area_grid(hole)
    return Question(hole, pack(hole, player, tee, hole.pin(), grid=grid, day=day), grid, (*tee.at, code(tee.lie)))


@cache
def demo(hole: str, player: str) -> Question:
    return ask(read_hole(find_hole(hole)), read_player(find_player(player)))


@cache
def demo_solution(hole: str, player: str) -> Solution:
    question = demo(hole, player)
    return solve(question.table, question.grid, question.place)


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
    return solve(question.table, question.grid, question.place)


@cache
def busy_question() -> Question:
    return ask(busy_hole(), club_golfer())


@cache
def busy_solution() -> Solution:
    question = busy_question()
    return solve(question.table, question.grid, question.place)


def state_of(table: r.Table, place: Place) -> int:
    return int(states_at(table.states, place[2], place[0], place[1]))


def choice_at(solution: Solution, question: Question) -> tuple[int, float]:
    """Return (swing, bearing from +y) that a policy takes at the place asked from."""
    state = state_of(solution.table, question.place)
    return int(solution.policy.swing[state]), question.pin_line + float(solution.policy.bearing[state])


def first_law(solution: Solution, place: Place, swing: int, bearing: float, times: int = 1) -> np.ndarray:
    """Return the law of a first stroke by looking ahead, with ``times`` all the nodes that ``laws`` has."""
    ahead = Ahead.of(solution)
    purposes = [ANSWER, *range(100, 99 + times)]  # each is another lot of sets
    return np.mean([ahead.laws(place, swing, bearing, purpose=p)[0].mean(axis=0) for p in purposes], axis=0)


def tee_law(solution: Solution, question: Question, times: int = 1) -> np.ndarray:
    return first_law(solution, question.place, *choice_at(solution, question), times)


def mean_of(law: np.ndarray) -> float:
    return float(law @ np.arange(law.size))


def tee_scores(solution: Solution, question: Question, n: int, seed: int) -> np.ndarray:
    """Return the scores of ``n`` sequences of a policy from the place asked from, in mirrored pairs."""
    key = kernel_key(seed)
    first = first_strokes(solution.table, solution.value, question.place, *choice_at(solution, question), key, n)
    return play_sequences(solution.table, solution.policy, solution.value, first, key, solution.cap).score


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


def every_action(table: r.Table, fan: np.ndarray) -> Actions:
    """Return every swing and touch shot along every line of ``fan``, at every state (all round from bad lies)."""
    return all_actions(table, np.arange(table.states.lie.size), fan, every=True)


def tried_out(table: r.Table, fan: np.ndarray, count: int, sweeps: int, within: float = 0.0) -> tuple[Choice, float]:
    """Return the choice among every action over ``count`` nodes, 32 or more, and the last sweep's largest change.

    The race begins with all nodes and ends there, so that nothing drops out early; the nodes that chose give the value.
    Of level lines the first of ``fan`` is taken.
    """
    states, nodes = table.states.lie.size, node_sets(count, CHOOSE)
    choice = Choice(np.zeros(states, np.int16), np.zeros(states), guess_to_go(table).to_go)
    actions, most, change = every_action(table, fan), np.full(states, count), np.inf
    while sweeps and change > within:
        change = search.improve(table, choice, search.Both(nodes, nodes), actions, most, least=count)
        sweeps -= 1
    return choice, change


def converged(table: r.Table, fan: np.ndarray, count: int, within: float = 1e-11) -> Choice:
    """Return what ``tried_out`` does, swept until no value moves."""
    choice, change = tried_out(table, fan, count, 400, within)
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
