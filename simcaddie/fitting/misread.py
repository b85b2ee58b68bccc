"""Balls that no golfer hit: what a sensor misread, refused by rule and shown, never dropped in silence.

The rule, common practice, no source: a carry from 2 to 400 yd; not more than 150 yd aside; not more than 60° off
the line, 10 yd granted; the total between 15 yd less and 150 yd more than the carry; and, where a swing has eight
balls or more, no carry beyond 1.6 times the carry that a quarter of them reach (a wedge that flew 250 yd). Short
balls are not misread: they are mishits.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np

from simcaddie.fitting.session import Ball, by_swing

__all__ = ["Misread", "misread"]

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
    """Return the balls that the rule refuses, in order of session and line."""
    balls = tuple(balls)
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
