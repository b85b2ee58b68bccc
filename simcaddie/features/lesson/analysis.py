"""A lesson: two choices for one stroke, as a pupil is shown them.

Both are played with the same random numbers: the same luck. What is shown of each is twenty first balls, where balls
finish of ten, and how the hole ends of a hundred plays; of the two together what makes the difference, in parts that
add up to it, and the number that would change the answer. All are whole numbers that still add up.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from simcaddie.base.errors import BadRequest
from simcaddie.base.surfaces import BY_NAME
from simcaddie.course.hole import Hole
from simcaddie.decision.break_even import Kind, SwitchPoint, switch_points
from simcaddie.decision.compare import compare, pick_two
from simcaddie.decision.measure import Measure, finish_names
from simcaddie.decision.options import TOUCH, named_swings, plain_name, swing_title
from simcaddie.decision.pair import Ball, Reason, first_of, reasons, twenty, wholes
from simcaddie.decision.position import Position
from simcaddie.decision.request import Comparison, Request
from simcaddie.decision.why import Explanation, explain_balls
from simcaddie.model import arrays as r
from simcaddie.model.states import states_at
from simcaddie.player.swing import Player
from simcaddie.solve.ahead import Balls

__all__ = ["Lesson", "Side", "lesson"]

_GOALS: Final[tuple[Kind, ...]] = ("mishits", "spread", "hazard")
_LIMITS: Final[tuple[Kind, ...]] = ("spread", "mishits")


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two choices.

    ``mean`` in strokes, those already played counted; ``of_ten`` (finish, balls), commonest first, adding up to ten;
    ``of_hundred`` how many of 100 plays end under net par, in net par, one over, and two or more over; ``then`` the
    shot that follows most often, empty where balls finish on the green; ``leave`` the mean yards to the pin.
    """

    measure: Measure
    balls: tuple[Ball, ...]
    mean: float
    of_ten: tuple[tuple[str, int], ...]
    of_hundred: tuple[int, int, int, int]
    then: str
    leave: float

    @property
    def title(self) -> str:
        """What a coach calls the choice: "driver", "half gap wedge"."""
        return self.measure.title


@dataclass(frozen=True, slots=True)
class Lesson:
    """Two choices in the order asked for, and what the pupil should learn from them.

    ``first`` is the one to play: the lower mean, or of two level ones that which is trusted more. ``explanation``
    tells why the other costs ``difference`` strokes more; ``reasons`` add up to it. ``points`` say what would change
    the answer, ``headline`` the one to show large, None where nothing would.
    """

    answer: Comparison
    sides: tuple[Side, Side]
    first: Side
    explanation: Explanation
    reasons: tuple[Reason, ...]
    points: tuple[SwitchPoint, ...]

    @property
    def other(self) -> Side:
        """The choice that isn't the one to play."""
        return self.sides[1] if self.first is self.sides[0] else self.sides[0]

    @property
    def difference(self) -> float:
        """Mean strokes of the other choice less those of the first, both played with the same luck."""
        return self.explanation.difference

    @property
    def level(self) -> bool:
        """Tell whether the model can't tell the two apart."""
        return abs(self.difference) <= self.answer.objective.level

    @property
    def headline(self) -> SwitchPoint | None:
        """The change to show: a goal for the other club before a hazard elsewhere before a limit of the first."""
        return next((point for point in self.points if _turns(point)), None)


def _of_ten(first: r.Rest) -> tuple[tuple[str, int], ...]:
    kinds, counts = np.unique(finish_names(first), return_counts=True)
    tens = wholes(list(10.0 * counts / counts.sum()), 10)
    return tuple((str(kinds[i]), tens[i]) for i in np.argsort(-counts, kind="stable") if tens[i])


def _of_hundred(pmf: Mapping[int, float], net_par: int) -> tuple[int, int, int, int]:
    steps = np.zeros(4)
    for score, share in pmf.items():
        steps[min(max(score - net_par, -1), 2) + 1] += share
    under, level, over, more = wholes(list(100.0 * steps / steps.sum()), 100)
    return under, level, over, more


def _then(position: Position, first: r.Rest, lie: str) -> str:
    """Return the swing played most often from where balls finish on their commonest ground; empty on the green."""
    if BY_NAME[lie].putting:
        return ""
    here = finish_names(first) == lie
    number = states_at(position.solutions[0].problem.states, first.surface, first.x, first.y)[here]
    swing = position.policies[0].swing[number[number >= 0]]
    if not swing.size:
        return ""
    return swing_title(position.player, int(np.argmax(np.bincount(np.minimum(swing, len(position.player.swings))))))


def _side(answer: Comparison, measure: Measure, balls: Balls) -> Side:
    position = answer.position
    return Side(
        measure=measure,
        balls=twenty(position, measure.option.swing, measure.bearing, answer.request.seed),
        mean=measure.mean,
        of_ten=_of_ten(balls.rest),
        of_hundred=_of_hundred(measure.score_law, answer.net_par),
        then=_then(position, balls.rest, measure.lie),
        leave=measure.leave,
    )


def _turns(point: SwitchPoint) -> bool:
    return point.at is not None and point.agrees is not False


def _points(answer: Comparison, first: str, other: str, *, level: bool) -> tuple[SwitchPoint, ...]:
    """Return what would change the answer, up to the first thing that does; each that does is solved anew: seconds.

    Goals for the other choice come before a hazard elsewhere, and that before limits of the first choice; between level
    ones trust comes first of all.
    """
    found: list[SwitchPoint] = []
    goals = ("trust", *_GOALS) if level else _GOALS
    for a, b, things in ((first, other, goals), (other, first, _LIMITS)):
        for thing in things:
            found += switch_points(answer, a, b, things=(thing,))
            if found and _turns(found[-1]):
                return tuple(found)
    return tuple(found)


def _named(player: Player, options: tuple[str, str]) -> tuple[str, ...]:
    """Return the clubs to compare, () for all where touch shots are among them; refuse names before the long search."""
    if plain_name(options[0]) == plain_name(options[1]):
        raise BadRequest(f"'{options[0]}' and '{options[1]}' are the same choice: name two different ones")
    clubs = tuple(name for name in options if plain_name(name) != TOUCH)
    named_swings(player, clubs)
    return clubs if len(clubs) == len(options) else ()


def lesson(hole: Hole, player: Player, options: tuple[str, str], request: Request | None = None) -> Lesson:
    """Return the lesson about two choices, clubs or swings by name, as ("driver", "5 wood").

    ``request`` gives the place, the pin and the like, as for ``compare``; its ``clubs`` don't matter.

    Raises
    ------
    BadRequest
        As ``compare``; a name that the bag doesn't have, or twice the same choice.
    """
    answer = compare(hole, player, replace(request or Request(), clubs=_named(player, options)))
    picked = pick_two(answer, *options)
    balls = [answer.position.balls(m.option.swing, m.option.aim) for m in picked]
    sides = (_side(answer, picked[0], balls[0]), _side(answer, picked[1], balls[1]))
    near = abs(sides[0].mean - sides[1].mean) <= answer.objective.level
    first, other = first_of(picked, answer.objective.level)
    explanation = explain_balls(answer.position, (picked[other], picked[first]), (balls[other], balls[first]))
    return Lesson(
        answer=answer,
        sides=sides,
        first=sides[first],
        explanation=explanation,
        reasons=reasons(explanation),
        points=_points(answer, picked[first].title, picked[other].title, level=near),
    )
