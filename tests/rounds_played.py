"""Rounds played in a test, stroke by stroke with the numbers of each, for ledgers to split."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from simcaddie.base.surfaces import NAMES, SURFACES
from simcaddie.decision.finishes import NEAR, NEAR_PUTT, _right_of
from simcaddie.decision.ledger import Parts, Reckoner, ground_means, same_strike, stroke_values
from simcaddie.decision.options import swing_title
from simcaddie.fitting.rounds import RoundRow
from simcaddie.model import arrays as r
from simcaddie.model.arrays import Event
from simcaddie.model.batch import asked, play
from simcaddie.model.kernel import HOLED
from simcaddie.model.left import strokes_left
from simcaddie.model.states import states_at
from simcaddie.player.putting import MAX_PUTTS
from simcaddie.solve.ahead import Ahead
from simcaddie.solve.solution import Solution
from simcaddie.solve.transitions import Steps, putt_pmfs
from simcaddie.solve.values import take_steps

Floats = np.ndarray
PUTTED = np.array([kind.putting for kind in SURFACES])


def lying(x: np.ndarray, y: np.ndarray, lie: np.ndarray) -> r.Rest:
    """Return balls at rest."""
    rest = r.Rest.empty(x.size)
    rest.x[:], rest.y[:], rest.surface[:] = x, y, lie
    return rest


def putts_taken(
    problem: r.Problem, x: np.ndarray, y: np.ndarray, lie: np.ndarray, rng: np.random.Generator
) -> np.ndarray:
    """Draw the putts of balls on the green by the player's law."""
    steps = Steps(np.zeros((x.size, 1), np.int32), np.zeros((x.size, 1), np.int8), np.zeros((x.size, MAX_PUTTS + 1)))
    take_steps(problem, lying(x, y, lie), 1, putt_pmfs(problem), steps, 0, x.size)
    below = steps.green.cumsum(axis=1)
    return (rng.random((x.size, 1)) * below[:, -1:] > below).sum(axis=1)


@dataclass(frozen=True)
class Split:
    """The parts of ``n`` plays of a hole: float64[play] each, and the score."""

    choice: np.ndarray
    execution: np.ndarray
    luck: np.ndarray
    putting: np.ndarray
    score: np.ndarray
    expected: float


def _planned(solution: Solution, x: Floats, y: Floats, lie: np.ndarray) -> r.Asked:
    """Return what best play plays from places."""
    state = states_at(solution.problem.states, lie, x, y)
    assert (state >= 0).all()
    line = np.arctan2(solution.problem.ground.pin_x - x, solution.problem.ground.pin_y - y)
    return asked(x, y, lie, solution.policy.swing[state], line + solution.policy.bearing[state])


def _strike_means(ahead: Ahead, rows: r.Asked, draws: Floats, some: int = 2048) -> Floats:
    parts = [
        ground_means(ahead, r.Asked._make(c[i : i + some] for c in rows), same_strike(draws[:, i : i + some]))[0]
        for i in range(0, rows.x.size, some)
    ]
    return np.concatenate(parts)


def play_hole(solution: Solution, start, n: int, rng: np.random.Generator, *, first=None, sets: int = 2) -> Split:
    """Play a hole ``n`` times by best play, with ``first`` (swing, bearing) as first stroke where told; split it."""
    problem, ahead = solution.problem, Ahead.of(solution)
    x, y, lie = (np.full(n, value, kind) for value, kind in zip(start, (float, float, np.int8), strict=True))
    who, total = np.arange(n), {name: np.zeros(n) for name in ("choice", "execution", "luck", "putting", "score")}
    rows = _planned(solution, x, y, lie)
    chosen = best = np.full(n, stroke_values(ahead, r.Asked._make(column[:1] for column in rows), 64)[0])
    expected = float(best[0])
    if first is not None:
        rows = asked(x, y, lie, *first)
        chosen = np.full(n, stroke_values(ahead, r.Asked._make(column[:1] for column in rows), 64)[0])
    while who.size:
        normals, uniforms, gust = (
            rng.standard_normal((3, who.size)),
            rng.random((3, who.size)),
            rng.standard_normal(who.size),
        )
        draws = np.vstack([normals, uniforms, gust[None]])
        rest = play(problem, ahead.to_go, rows._replace(draw=np.arange(who.size)), draws, 1)
        worth = strokes_left(problem, ahead.mean_to_go, rest)
        down = rest.event == HOLED
        then, green = np.flatnonzero(~down & ~PUTTED[rest.surface]), np.flatnonzero(~down & PUTTED[rest.surface])
        again = _planned(solution, rest.x[then], rest.y[then], rest.surface[then])
        worth[then] = stroke_values(ahead, again, sets) if then.size else 0.0
        parts = Parts(best, chosen, _strike_means(ahead, rows, draws), rest.added + worth)
        for name in ("choice", "execution", "luck"):
            total[name][who] += getattr(parts, name)
        total["score"][who] += rest.added
        taken = putts_taken(problem, rest.x[green], rest.y[green], rest.surface[green], rng)
        total["putting"][who[green]] += taken - worth[green]
        total["score"][who[green]] += taken
        who, rows, best = who[then], again, worth[then]
        chosen = best
    return Split(**total, expected=expected)


# ─── A round as a golfer would write it down ────────────────────────────────────────────────────────────────────────

GONE = {
    Event.PENALTY_AREA: "water",
    Event.OUT_OF_BOUNDS: "out of bounds",
    Event.LOST: "lost",
    Event.UNPLAYABLE: "unplayable",
}


def finish_words(hole, rest: r.Rest, pin, scale: float, step: float = 5.0, off: float = 0.0) -> str:
    """Say where one ball finished as people remember it: the ground, and to ``step`` what was left.

    The golfer is ``off`` by so much, from −1 to 1, of what the program grants people.
    """
    event = Event(int(rest.event[0]))
    if event == Event.HOLED:
        return "holed"
    if event in GONE:
        return GONE[event]
    x, y, kind = float(rest.x[0]), float(rest.y[0]), NAMES[int(rest.surface[0])]
    away = float(np.hypot(x - pin[0], y - pin[1]))
    if kind == "green":
        return f"green {max(1, round((away + off * max(NEAR_PUTT[0], NEAR_PUTT[1] * away)) * 3))} ft"
    away += off * max(NEAR[0], NEAR[1] * away)
    side = _right_of(hole, np.array([x]), np.array([y]))[0]
    words = "" if kind == "fairway" else "right " if side > 0 else "left "
    return f"{words}{kind.replace('_', ' ')} {max(step, step * round(away / scale / step)):.0f}"


def remembered(
    reckoner: Reckoner, number: int, rng: np.random.Generator, *, choose=None, problem=None, scale=1.0, most=25, off=0.0
) -> list[RoundRow]:
    """Return the rows of one play of a hole, in words.

    ``choose`` (place, stroke) gives another stroke than best play's, and the words of its target, or None. ``problem``
    is another table to play on: a player with other patterns, who chooses as this one. Finishes are remembered up to
    ``off`` (0 to 1) as wrongly as the program grants people.
    """
    ahead, player = reckoner.ahead, reckoner.position.player
    table, place, rows = problem or ahead.problem, reckoner.start, []
    while not rows or not rows[-1].finish.endswith(("holed", "putts")):
        assert len(rows) < most
        if PUTTED[place[2]]:
            where = (np.array([value], kind) for value, kind in zip(place, (float, float, np.int8), strict=True))
            rows.append(
                RoundRow(len(rows) + 2, number, "putter", "", f"{int(putts_taken(table, *where, rng)[0])} putts")
            )
            continue
        here = reckoner.at(place)
        option, words = (choose and choose(place, len(rows))) or (reckoner.best(place)[0], "")
        z = np.concatenate([rng.standard_normal(3), rng.random(3), rng.standard_normal(1)])[:, None]
        bearing = here.pin_line + np.radians(option.aim)
        rest = play(table, ahead.to_go, reckoner.rows(place, option.swing, bearing), z, 1)
        title = swing_title(player, option.swing)
        told = finish_words(here.hole, rest, here.pins[0], scale, off=off * rng.uniform(-1.0, 1.0) if off else 0.0)
        rows.append(RoundRow(len(rows) + 2, number, title, words, told))
        place = float(rest.x[0]), float(rest.y[0]), int(rest.surface[0])
    return rows
