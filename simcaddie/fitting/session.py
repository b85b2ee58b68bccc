"""A range session as records: balls in yards, which of them go together, and which no golfer hit."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np

from simcaddie.player.swing import title_of

__all__ = ["STRIKES", "Ball", "Key", "Misread", "by_swing", "first_balls", "misread", "without_warm_up"]

Key = tuple[str, str]  # club, swing
STRIKES: Final = ("solid", "fat", "thin")


@dataclass(frozen=True, slots=True)
class Ball:
    """One ball hit on the range: yards, ``side`` to the right of the aim line.

    ``order`` counts the balls of a session as they were hit; ``routine`` says whether it had the player's routine
    before it, ``first`` whether it was hit as the first ball of a stroke on the course is, with consequence. All these,
    and ``total``, may be unknown. ``session`` numbers the sessions, the newest last; ``line`` is the
    line of its file. ``strike`` is how it was struck (of ``STRIKES``), "" where nobody said; of a mishit carry and side
    may be nan: it then counts as one, and no more.
    """

    club: str
    swing: str
    carry: float
    side: float
    total: float | None = None
    order: float | None = None
    routine: bool | None = None
    first: bool | None = None
    session: int = 0
    line: int = 0
    strike: str = ""

    @property
    def told(self) -> bool:
        """Whether all that is known of it is how it was mishit."""
        return math.isnan(self.carry)

    @property
    def title(self) -> str:
        """What a coach calls its swing."""
        return title_of(self.club, self.swing)


def _row(ball: Ball) -> tuple[float, ...]:
    """Return what sorts balls the same way, whatever the order of their rows."""
    return (
        ball.session,
        ball.order if ball.order is not None else -1.0,
        ball.carry,
        ball.side,
        ball.total if ball.total is not None else -1.0,
        -1.0 if ball.routine is None else float(ball.routine),
    )


def by_swing(balls: Iterable[Ball]) -> dict[Key, tuple[Ball, ...]]:
    """Return the balls of each (club, swing), swings by name and balls by their numbers: no row's place counts."""
    groups: dict[Key, list[Ball]] = {}
    for ball in balls:
        groups.setdefault((ball.club, ball.swing), []).append(ball)
    return {key: tuple(sorted(groups[key], key=_row)) for key in sorted(groups)}


def without_warm_up(balls: Iterable[Ball], number: int) -> tuple[Ball, ...]:
    """Return the balls but the first ``number`` of each session: by their order, by line where it isn't known."""
    sessions: dict[int, list[Ball]] = {}
    for ball in balls:
        sessions.setdefault(ball.session, []).append(ball)
    kept = []
    for session in sorted(sessions):
        kept += _in_order(sessions[session])[number:]
    return tuple(kept)


def _in_order(balls: list[Ball]) -> list[Ball]:
    last = float("inf")
    return sorted(balls, key=lambda ball: (last if ball.order is None else ball.order, ball.line))


def first_balls(balls: Iterable[Ball]) -> frozenset[Ball]:
    """Return each session's balls that came first after a change of club, its very first one included.

    Where it is told of a ball whether it counts as one, that holds; else its order must be known. To be asked of all
    balls hit, also those that are refused later.
    """
    balls = tuple(balls)
    firsts = {ball for ball in balls if ball.first}
    last: tuple[int, str] | None = None
    known = [ball for ball in balls if ball.order is not None]
    for ball in sorted(known, key=lambda ball: (ball.session, ball.order, ball.line)):
        if ball.first is None and (ball.session, ball.club) != last:
            firsts.add(ball)
        last = (ball.session, ball.club)
    return frozenset(firsts)


# ─── Misread balls: what no golfer hit is refused by rule and shown, never dropped in silence ─────────────────────────
#
# The rule, common practice, no source: a carry from 2 to 400 yd; not more than 150 yd aside; not more than 60° off
# the line, 10 yd granted; the total between 15 yd less and 150 yd more than the carry; and, where a swing has eight
# balls or more, no carry beyond 1.6 times the carry that a quarter of them reach (a wedge that flew 250 yd). Short
# balls are not misread: they are mishits.

SHORTEST: Final = 2.0  # yd
LONGEST: Final = 400.0
WIDEST: Final = 150.0
STEEPEST: Final = math.tan(math.radians(60.0))
FEW: Final = 8
TOO_FAR: Final = 1.6


@dataclass(frozen=True, slots=True)
class Misread:
    """A ball that is refused: which of its numbers (``where``), what was expected there, and what was found."""

    ball: Ball
    where: str
    expected: str
    found: str


def misread(balls: Iterable[Ball]) -> tuple[Misread, ...]:
    """Return the measured balls that the rule refuses, in order of session and line."""
    balls = tuple(ball for ball in balls if not ball.told)
    refused = [wrong for ball in balls if (wrong := _by_itself(ball))]
    gone = {wrong.ball for wrong in refused}
    for group in by_swing(ball for ball in balls if ball not in gone).values():
        refused += _too_far(group)
    return tuple(sorted(refused, key=lambda wrong: (wrong.ball.session, wrong.ball.line)))


def _by_itself(ball: Ball) -> Misread | None:
    if not SHORTEST <= ball.carry <= LONGEST:
        return Misread(ball, "carry", f"from {SHORTEST:g} to {LONGEST:g} yd", f"{ball.carry:.4g} yd")
    if not abs(ball.side) <= WIDEST:
        return Misread(ball, "side", f"at most {WIDEST:g} yd either way", f"{ball.side:.4g} yd")
    if abs(ball.side) > 10.0 + STEEPEST * ball.carry:
        angle = math.degrees(math.atan2(abs(ball.side), ball.carry))
        return Misread(ball, "side", "at most 60° off the line", f"{angle:.0f}°")
    if ball.total is not None and not -15.0 <= ball.total - ball.carry <= 150.0:
        return Misread(ball, "total", f"about its carry of {ball.carry:.4g} yd, or more", f"{ball.total:.4g} yd")
    return None


def _too_far(group: tuple[Ball, ...]) -> list[Misread]:
    if len(group) < FEW:
        return []
    bound = TOO_FAR * float(np.percentile([ball.carry for ball in group], 75))
    expected = f"at most {bound:.0f} yd for the {group[0].title}, by its other balls"
    return [Misread(ball, "carry", expected, f"{ball.carry:.4g} yd") for ball in group if ball.carry > bound]
