"""The same question on several days, to see where the choice flips."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from simcaddie.air.day import Day
from simcaddie.golfer.player import Player
from simcaddie.ground.hole import Hole
from simcaddie.strategy.compare import compare
from simcaddie.strategy.measure import Measure
from simcaddie.strategy.request import Comparison, Request

__all__ = ["OnDay", "compare_days", "days_words"]


@dataclass(frozen=True, slots=True)
class OnDay:
    """The answer on one day; ``usual`` is what the first day's choice does on it, None where it wasn't asked about."""

    name: str
    answer: Comparison
    usual: Measure | None

    @property
    def costs(self) -> float | None:
        """What the first day's choice of club costs on this day, in the objective's units."""
        return None if self.usual is None else self.usual.worth - min(m.worth for m in self.answer.options)

    @property
    def flips(self) -> bool:
        """Whether the day asks for another club: the first day's is no longer level with the best."""
        return self.costs is not None and self.costs > self.answer.objective.level


def compare_days(
    hole: Hole, player: Player, request: Request, days: Sequence[tuple[str, Day]]
) -> tuple[OnDay, ...]:
    """Return the answers to one question on several days, in their order; the first is what others are held against.

    Raises
    ------
    BadRequest
        As ``compare`` does.
    """
    found: list[OnDay] = []
    for name, day in days:
        answer = compare(hole, player, replace(request, day=day, robust=False))
        title = found[0].answer.best.title if found else answer.best.title
        usual = next((m for m in answer.options if m.title == title), None)
        found.append(OnDay(name, answer, usual))
    return tuple(found)


def days_words(found: Sequence[OnDay]) -> str:
    """Say where the choice flips."""
    first, *others = found
    flips = [one for one in others if one.flips]
    if not flips:
        return f"The {first.answer.best.title} is the choice, or level with it, on every one of these days."
    parts = [f"on {one.name} to the {one.answer.best.title} (the other costs {one.costs:.2f})" for one in flips]
    return f"From the {first.answer.best.title} of {first.name} the choice flips {'; '.join(parts)}."
