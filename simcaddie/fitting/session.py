"""A range session as records: balls in yards, and what of them goes together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from simcaddie.golfer.player import title_of

__all__ = ["Ball", "Key", "by_swing", "first_balls", "without_warm_up"]

Key = tuple[str, str]  # club, swing


@dataclass(frozen=True, slots=True)
class Ball:
    """One ball hit on the range: yards, ``side`` to the right of the aim line.

    ``order`` counts the balls of a session as they were hit; ``routine`` says whether it had the player's routine
    before it. Both, and ``total``, may be unknown. ``session`` numbers the sessions, the newest last; ``line`` is the
    line of its file.
    """

    club: str
    swing: str
    carry: float
    side: float
    total: float | None = None
    order: float | None = None
    routine: bool | None = None
    session: int = 0
    line: int = 0

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

    Only balls whose order is known take part. To be asked of all balls hit, also those that are refused later.
    """
    firsts = set()
    last: tuple[int, str] | None = None
    known = [ball for ball in balls if ball.order is not None]
    for ball in sorted(known, key=lambda ball: (ball.session, ball.order, ball.line)):
        if (ball.session, ball.club) != last:
            firsts.add(ball)
        last = (ball.session, ball.club)
    return frozenset(firsts)
