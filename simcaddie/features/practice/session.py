"""A session from what pays: balls in proportion to strokes saved, in random order, each with a target of its own.

Random practice, another club and another target every ball, is learnt more slowly and kept better than blocked practice
(J. B. Shea and R. L. Morgan, J. Exp. Psychol.: Human Learning and Memory 5, 1979). So no club comes twice running. What
is hit on the range stands together, and what is played about the green: nobody walks between two balls.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from simcaddie.base.errors import BadRequest
from simcaddie.base.surfaces import BY_NAME
from simcaddie.base.units import told
from simcaddie.decision.practice import Practice, PracticeRow
from simcaddie.player.putting import longest_touch
from simcaddie.player.swing import Player

__all__ = ["MINUTES_A_BALL", "Ball", "session"]

MINUTES_A_BALL: Final = 1.0  # as on the course, not ball after ball; common practice, no source
FEWEST_BALLS, MOST_BALLS = 4, 300
LEAST: Final = 0.02  # strokes a round: what saves less gets no balls of its own
IRON_LOFT: Final = 20.0  # degrees: with less it is a fairway that is aimed at
_SIDES: Final = ("left edge", "middle", "right edge")
_LIES: Final = ("fairway", "rough", "bunker")
_PUTTS: Final = (3, 30)  # ft


@dataclass(frozen=True, slots=True)
class Ball:
    """One ball: what is played, and at what; ``club`` tells which may not follow itself.

    ``where`` it is played: on the range, or about the green.
    """

    title: str
    club: str
    target: str
    where: Literal["range", "green"]


def _club(practice: Practice, row: PracticeRow) -> str:
    return practice.player.swings[row.thing.swings[0]].club if row.thing.swings else row.thing.title


def shares(practice: Practice, balls: int) -> dict[str, int]:
    """Return how many balls each thing gets, by title, in proportion to what closing its gap saves.

    No club gets more than half (rounded up), so that it need never follow itself. Where too little pays, everything
    that a round calls for gets a little.
    """
    weights = {row.thing.title: row.gap.saved for row in practice.rows if row.gap.saved >= LEAST}
    clubs = {row.thing.title: _club(practice, row) for row in practice.rows}
    if len({clubs[title] for title in weights}) < 2:
        weights |= {row.thing.title: max(row.gap.saved, LEAST) for row in practice.rows}
    if len({clubs[title] for title in weights}) < 2:
        raise BadRequest("a session needs at least two clubs that the round calls for")
    weights = _capped(weights, clubs)
    whole = sum(weights.values())
    exact = {title: balls * weight / whole for title, weight in weights.items()}
    counts = {title: int(share) for title, share in exact.items()}
    room = {club: (balls + 1) // 2 - sum(counts[t] for t in counts if clubs[t] == club) for club in set(clubs.values())}
    for title in sorted(exact, key=lambda t: counts[t] - exact[t]) * 2:
        if sum(counts.values()) < balls and room[clubs[title]] > 0:
            counts[title] += 1
            room[clubs[title]] -= 1
    return {title: count for title, count in counts.items() if count}


def _capped(weights: dict[str, float], clubs: dict[str, str]) -> dict[str, float]:
    """Return the weights with no club above half of all."""
    for club in {clubs[title] for title in weights}:
        mine = sum(weight for title, weight in weights.items() if clubs[title] == club)
        others = sum(weights.values()) - mine
        if mine > others:
            weights = {t: weight * (others / mine if clubs[t] == club else 1.0) for t, weight in weights.items()}
    return weights


def _order(counts: dict[str, int], clubs: dict[str, str], rng: np.random.Generator) -> list[str]:
    """Return the titles in random order, no club twice running."""
    left, order, last = dict(counts), list[str](), ""
    while any(left.values()):
        by_club: dict[str, int] = {}
        for title, count in left.items():
            by_club[clubs[title]] = by_club.get(clubs[title], 0) + count
        most = max(by_club, key=lambda club: by_club[club])
        must = 2 * by_club[most] > sum(by_club.values())  # it fits only if it comes now
        may = [t for t, n in left.items() if n and clubs[t] != last and (not must or clubs[t] == most)]
        may = may or [t for t, n in left.items() if n]  # one club alone has to follow itself
        weight = np.array([left[title] for title in may], float)
        title = may[int(rng.choice(len(may), p=weight / weight.sum()))]
        order.append(title)
        left[title] -= 1
        last = clubs[title]
    return order


def _target(player: Player, row: PracticeRow, rng: np.random.Generator) -> str:
    if row.thing.putting:
        return f"a hole {int(rng.integers(_PUTTS[0], _PUTTS[1] + 1))} ft away"
    if row.thing.touch:
        lie = _LIES[int(rng.integers(len(_LIES)))]
        far = int(rng.integers(8, max(9, round(longest_touch(player, player.lies[lie])) + 1)))
        return f"a pin {told(far, player.units)} away, from {BY_NAME[lie].article} {lie}"
    swing = player.swings[row.thing.swings[0]]
    ground = "green" if swing.loft >= IRON_LOFT else "fairway"
    return f"{ground} at {told(swing.carry, player.units)}, {_SIDES[int(rng.integers(len(_SIDES)))]}"


def session(practice: Practice, balls: int, seed: int) -> tuple[Ball, ...]:
    """Return a session of ``balls`` balls, on the range first, in an order and with targets drawn from ``seed``.

    Raises
    ------
    BadRequest
        Too few or too many balls, or fewer than two clubs to change between.
    """
    if not FEWEST_BALLS <= balls <= MOST_BALLS:
        raise BadRequest(f"a session has {FEWEST_BALLS} to {MOST_BALLS} balls, not {balls}")
    rows = {row.thing.title: row for row in practice.rows}
    clubs = {title: _club(practice, row) for title, row in rows.items()}
    rng = np.random.default_rng([seed, balls])
    counts = shares(practice, balls)
    on_range = {title: many for title, many in counts.items() if rows[title].thing.swings}
    about = {title: many for title, many in counts.items() if not rows[title].thing.swings}
    made: list[Ball] = []
    for title in (*_order(on_range, clubs, rng), *_order(about, clubs, rng)):
        target = _target(practice.player, rows[title], rng)
        before = next((ball.target for ball in reversed(made) if ball.title == title), "")
        while target == before:  # another target than last time
            target = _target(practice.player, rows[title], rng)
        made.append(Ball(title, clubs[title], target, "range" if title in on_range else "green"))
    return tuple(made)
