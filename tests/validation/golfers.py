"""Golfers of every level against published values: what each comes to, by playing.

A golfer plays six neutral holes, short to long, best play found once; all else follows from sequences with one luck
(common random numbers), so that a golfer a little different can be played along the same lines. The tour's table by
distance and lie is valued exactly, from every cell.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray
from reference import club_golfers as facts
from reference.putts import TOUR as TOUR_PUTTS
from validation import strokes
from validation.counted import KEY, PlayedOut, feet_left, on_green, played_out, tee_shots
from validation.neutral import EVERYWHERE, Played, ground_of
from validation.rounds import PARS, ByLength, better_half, lengths, mean

from simcaddie.base.surfaces import code
from simcaddie.course.grid import AreaGrid
from simcaddie.course.hole import Hole
from simcaddie.model.arrays import Problem, Rest
from simcaddie.model.build import pack, pack_putting, pack_swings, pack_touch
from simcaddie.player.day_form import day_form, form_days, on_day
from simcaddie.player.putting import PUTT_FEET, make_share, putt_law, short_share
from simcaddie.player.reference import REFERENCES, golfer
from simcaddie.player.swing import Player
from simcaddie.simulate import first_strokes
from simcaddie.solve.memo import chosen
from simcaddie.solve.solution import QUICK, Chosen, Effort, follow

Floats = NDArray[np.float64]

# index, driver carry: the model golfers, those who score about so much, and one of each published band of handicap
WHO = REFERENCES | {
    "scores 80": (6.0, 215.0),
    "band 6-12.9": (9.5, 205.0),
    "scores 90": (facts.SCORES_NINETY, 192.0),
    "scores 100": (25.0, 175.0),
    "index 36": (36.0, 152.0),
}
YARDS = {"tour": (6500.0, 7000.0)} | {name: row[2:] for name, row in facts.LENGTH_RATING.items()}
CLUB_YARDS = (6250.0, 6250.0)
HOLES, BALLS, LONG = 6, 3000, 290.0  # holes a golfer, balls a hole; yards from which a tee shot counts as one
BANDS = ("band 6-12.9", "scores 100", "index 36")
NODES = (256, 1024)  # balls a place of the tour's table
SAND = (14.0, -4.0)  # yd from the pin: a bunker at the side of the green, 14.6 yd away
FROM_150 = [(x, y) for x in (-12.0, -8.0, -4.0, 0.0, 4.0) for y in (226.0, 230.0, 234.0)]


@dataclass(frozen=True)
class Ground:
    """One hole of one golfer: solved once, then played by whoever is a little different."""

    hole: Hole
    grid: AreaGrid
    problem: Problem
    best: Chosen

    def first(self, problem: Problem, place: tuple[float, float], lie: str, n: int = BALLS) -> Rest:
        """Return first strokes of ``problem`` from a place, along the lines of best play."""
        states, pin = problem.states, self.hole.pin()
        column, row = int((place[0] - states.x0) // states.cell), int((place[1] - states.y0) // states.cell)
        state = states.of_cell[code(lie), row, column]
        line = float(np.arctan2(pin[0] - place[0], pin[1] - place[1])) + float(self.best.policy.bearing[state])
        swing = int(self.best.policy.swing[state])
        return first_strokes(problem, self.best.value, (*place, code(lie)), swing, line, KEY, n)

    def out(self, problem: Problem, place: tuple[float, float], lie: str, n: int = BALLS) -> PlayedOut:
        """Return ``n`` balls played out from a place."""
        first = self.first(problem, place, lie, n)
        return played_out(problem, self.best.policy, self.best.value, first, self.hole.pin())


def with_player(problem: Problem, player: Player) -> Problem:
    """Return the same hole for a golfer with the same clubs."""
    return problem._replace(swings=pack_swings(player), touch=pack_touch(player), putting=pack_putting(player, 0.0))


def prepared(player: Player, length: float, effort: Effort = QUICK) -> Ground:
    """Return a neutral hole with a golfer's best play on it."""
    hole, grid = ground_of(length)
    problem = pack(hole, player, hole.place(), hole.pin(), grid=grid)
    return Ground(hole, grid, problem, chosen(problem, grid, (0.0, 0.0, code("tee")), effort=effort))


@dataclass(frozen=True)
class Golfer:
    """All that one golfer is measured on."""

    name: str
    at: Floats
    holes: tuple[Ground, ...]
    mid: Ground | None  # 380 yd, for shots from 150
    table: tuple[Played, Played] | None


def prepare(name: str, player: Player) -> Golfer:
    """Solve what a golfer is measured on."""
    short, long = YARDS.get(name, CLUB_YARDS)
    at = np.linspace(lengths(short).min() - 1, lengths(long).max() + 1, HOLES)
    mid = prepared(player, 380.0, EVERYWHERE) if name in ("tour", "scores 90") else None
    table = (strokes.neutral(player), strokes.opened(player)) if name == "tour" else None
    return Golfer(name, at, tuple(prepared(player, float(length)) for length in at), mid, table)


def seen(who: Golfer, player: Player, *, brief: bool = False) -> dict[str, float]:
    """Return all values that ``player`` comes to along the best play of ``who``; ``brief`` those of the fit alone."""
    found, grounds = {}, who.holes
    problems = [with_player(ground.problem, player) for ground in grounds]
    outs = [ground.out(problem, (0.0, 0.0), "tee") for ground, problem in zip(grounds, problems, strict=True)]
    law = ByLength(who.at, np.array([out.pmf(player.putting) for out in outs]))
    yards = np.array(YARDS.get(who.name, CLUB_YARDS))
    holes = lengths(float(yards.mean()))
    found["mean 6500"] = mean(law.round(6500.0))
    if who.name in facts.LENGTH_RATING:
        per, constant, *_ = facts.LENGTH_RATING[who.name]
        halves = [better_half(law.round(float(total))) for total in (yards[0], yards.mean(), yards[1])]
        found["level"] = halves[1] - (float(yards.mean()) / per + constant)
        found["per 1000 yd"] = 1000.0 * (halves[2] - halves[0]) / float(yards[1] - yards[0])
    elif who.name != "tour":
        found["level"] = better_half(law.round(6250.0)) - facts.better_half_of(player.handicap_index or 0.0, 6250.0)
    three = [out.three_putts(player.putting) for out in outs]
    found["three-putts"] = float(np.interp(holes, who.at, three).sum())
    shots = np.array([tee_shots(out.first) for out in outs])
    long = holes[holes > LONG]
    for column, key in enumerate(("fairway", "rough or sand", "recovery", "penalised")):
        found[key] = float(np.interp(long, who.at, shots[:, column]).mean())
    pin = grounds[3].hole.pin()
    sand = grounds[3].out(problems[3], (pin[0] + SAND[0], pin[1] + SAND[1]), "bunker").pmf(player.putting)
    found["sand in two"] = float(sand[:3].sum())
    found["half holed from"] = float(np.interp(-0.5, -make_share(PUTT_FEET, player.putting), PUTT_FEET))
    found["short at 10 ft"] = short_share(10.0, player.putting)
    if who.name in (facts.EXCEPTIONAL if brief else BANDS):
        found |= odds(who, player, problems)
    if who.mid:
        found |= _from_150(who.mid, player)
    if who.table:
        found |= _table(who.table, player)
    if who.name == "tour":
        found |= _putts(player)
    return found


def _from_150(mid: Ground, player: Player) -> dict[str, float]:
    problem = with_player(mid.problem, player)
    balls = [mid.first(problem, place, "fairway", 2000) for place in FROM_150]
    there = Played(mid.hole, mid.grid, None)  # type: ignore[arg-type]
    return {
        "greens from 150": float(np.mean([on_green(rest).mean() for rest in balls])),
        "feet from 150": float(np.median(np.concatenate([feet_left(there, rest) for rest in balls]))),
    }


def _putts(player: Player) -> dict[str, float]:
    found = {}
    law = putt_law(player.putting)
    for feet, _one, _three, *_ in TOUR_PUTTS:
        found[f"one putt {feet} ft"] = float(make_share(float(feet), player.putting))
        found[f"three putts {feet} ft"] = float(np.interp(feet, PUTT_FEET, law[:, 2:].sum(axis=1)))
    return found


def _table(table: tuple[Played, Played], player: Player) -> dict[str, float]:
    def again(there: Played) -> Played:
        old = there.solution
        problem = with_player(old.problem, player)
        way = follow(problem, old.policy, old.value.to_go, (0.0, 0.0, code("tee")), nodes=NODES, visits=old.visits)
        return Played(there.hole, there.grid, way)

    found = strokes.errors_of(*(again(there) for there in table))
    return {f"{kind} {yards}": error for kind, row in found.items() for yards, error in row.items()}


def _adjusted(law: ByLength, index: float) -> Floats:
    """Return the law of a round as it was handed in for handicapping, the most on a hole cut off."""
    pmf = np.ones(1)
    handicap = index * facts.rating_and_slope(6250.0)[1] / 113.0
    for length, par in zip(lengths(6250.0), PARS, strict=True):
        hole, most = law.hole(float(length)), facts.most_on_a_hole(handicap, int(par))
        pmf = np.convolve(pmf, np.append(hole[:most], hole[most:].sum()))
    return pmf


def odds(who: Golfer, player: Player, problems: list[Problem]) -> dict[str, float]:
    """Return ln of once in how many rounds a differential is so far below the index, day form included."""
    rng, draws, n = np.random.default_rng(18), 20_000, 1000
    days = form_days(day_form(player.handicap_index))
    laws = []
    for day in days:
        today = pack_swings(on_day(player, day))
        outs = [
            ground.out(problem._replace(swings=today), (0.0, 0.0), "tee", n).pmf(player.putting)
            for ground, problem in zip(who.holes, problems, strict=True)
        ]
        laws.append(_adjusted(ByLength(who.at, np.array(outs)), player.handicap_index or 0.0))
    pmf = np.average(laws, axis=0, weights=[day.weight for day in days])
    rounds = rng.choice(pmf.size, size=(draws, 20), p=pmf / pmf.sum())
    rating, slope = facts.rating_and_slope(6250.0)
    differentials = (rounds - rating) * 113.0 / slope
    index = 0.96 * np.sort(differentials, axis=1)[:, :10].mean(axis=1)
    below = np.concatenate([[0.0], np.cumsum(pmf)])  # chance of fewer than k
    found = {}
    for row in range(7):
        most = rating + (index - row) * slope / 113.0
        chance = float(np.interp(most + 0.5, np.arange(below.size) - 0.0, below).mean())  # a score is a whole number
        found[f"odds {row}"] = float(np.log(1.0 / max(chance, 1e-9)))
    at = np.arange(pmf.size)
    means = np.array([mean(law) for law in laws])
    weights = np.array([day.weight for day in days])
    found["sd of form"] = float(np.sqrt(weights @ (means - weights @ means) ** 2))
    found["sd of rounds"] = float(np.sqrt(pmf @ (at - pmf @ at) ** 2))
    return found


@cache
def golfer_of(name: str) -> Player:
    """Return a golfer of ``WHO`` as the program makes it."""
    index, driver = WHO[name]
    return golfer(index, driver)


def all_seen(names: tuple[str, ...] = tuple(WHO)) -> Mapping[str, Mapping[str, float]]:
    """Return what every golfer comes to, solved anew."""
    return {name: seen(prepare(name, golfer_of(name)), golfer_of(name)) for name in names}
