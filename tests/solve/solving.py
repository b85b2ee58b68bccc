"""What the solver's tests share: a question with its table, solutions that are kept, and a golfer without spread."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from scipy import stats

from simcaddie.air.day import Day
from simcaddie.files.find import demo_files, find_hole, find_player
from simcaddie.files.hole_file import read_hole
from simcaddie.files.player_file import read_player
from simcaddie.golfer.defaults import make_swing
from simcaddie.golfer.player import Club, Player, Putting
from simcaddie.ground.grid import AreaGrid, area_grid
from simcaddie.ground.hole import Hole
from simcaddie.play import kernel as k
from simcaddie.play import records as r
from simcaddie.play.everyday import guess_to_go
from simcaddie.play.pack import pack
from simcaddie.play.states import build_states
from simcaddie.simulate import first_strokes, play_sequences
from simcaddie.solve import Solution, first_stroke_law, search, solve
from simcaddie.streams import kernel_key
from simcaddie.surfaces import NAMES, Lie, TouchLie, code

HOLES = tuple(demo_files("holes"))
PLAYERS = tuple(demo_files("players"))
Place = tuple[float, float, int]


@dataclass(frozen=True)
class Question:
    """A player on a hole's first tee, to its first pin."""

    hole: Hole
    table: r.Table
    grid: AreaGrid
    place: Place

    def on_cells(self, cell: float) -> r.Table:
        """Return the table with states of ``cell`` yards."""
        return self.table._replace(states=build_states(self.grid, self.place, cell))

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


def state_of(table: r.Table, place: Place) -> int:
    return k.state_at(table.states, place[2], place[0], place[1])


def choice_at(solution: Solution, question: Question) -> tuple[int, float]:
    """Return (swing, bearing from +y) that best play takes at the place asked from."""
    state = state_of(solution.table, question.place)
    return int(solution.policy.swing[state]), question.pin_line + float(solution.policy.bearing[state])


def tee_law(solution: Solution, question: Question, nodes: int = 2**16) -> np.ndarray:
    return first_stroke_law(solution, question.place, *choice_at(solution, question), nodes=nodes)


def mean_of(law: np.ndarray) -> float:
    return float(law @ np.arange(law.size))


def tee_scores(solution: Solution, question: Question, n: int, seed: int) -> np.ndarray:
    """Return the scores of ``n`` sequences of best play from the place asked from, in mirrored pairs."""
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


def converged(table: r.Table, fan: np.ndarray, nodes: np.ndarray, within: float = 1e-11) -> search.Choice:
    """Return the choice among every swing and every line of ``fan``, swept until no value moves."""
    choice, plan = search.Choice.unmade(guess_to_go(table).to_go), search.every_plan(nodes[None], fan)
    for _ in range(400):
        if search.choose_all(table, choice, plan) <= within:
            return choice
    raise AssertionError("the exhaustive search does not settle")


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
