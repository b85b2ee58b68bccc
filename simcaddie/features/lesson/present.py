"""A lesson in a pupil's words: one because-sentence, the number that would change the answer, homework; and as data.

Homework is for the range, so its goals are told in range numbers: a goal on the course as a share of what is now, of
the range's own number.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Final

from simcaddie.base.records import picked, plain
from simcaddie.base.units import told
from simcaddie.console.document import Document, Text
from simcaddie.decision.break_even import switch_words, when_data
from simcaddie.decision.pair import TWENTY, because_words, pair_title
from simcaddie.decision.phrases import aim_words, day_words, place_words
from simcaddie.decision.why import why_data
from simcaddie.features.lesson.analysis import Lesson, Side
from simcaddie.player.estimated import estimates_told, swings_of
from simcaddie.player.swing import Swing
from simcaddie.solve.ahead import NODES
from simcaddie.solve.quadrature import SETS

__all__ = [
    "Headline",
    "Task",
    "because",
    "glossary",
    "headline",
    "homework",
    "lesson_data",
    "played_words",
    "present",
    "setting",
    "title",
]

WITHIN_ONE_SD: Final = 0.683  # of a normal: the middle two in three, and a little


@dataclass(frozen=True, slots=True)
class Headline:
    """The number that would change the answer, to be written large, and what it is in a sentence."""

    number: str
    text: str


@dataclass(frozen=True, slots=True)
class Task:
    """One piece of homework: what, and how; ``count`` is what the pupil writes down of twenty balls, or empty."""

    title: str
    text: str
    count: str = ""


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def title(lesson: Lesson) -> str:
    """Ask the lesson's question: "Driver or 5 wood?"."""
    return pair_title(lesson.sides[0].title, lesson.sides[1].title)


def _units(lesson: Lesson) -> str:
    return lesson.answer.position.hole.units


def _to_pin(lesson: Lesson) -> float:
    position = lesson.answer.position
    return math.dist(position.place.at, position.pins[0] if len(position.pins) == 1 else position.hole.pin())


def setting(lesson: Lesson) -> str:
    """Say where the question is asked, and what net par is there."""
    answer = lesson.answer
    hole, received = answer.position.hole, answer.strokes_received
    strokes = f"{abs(received) or 'no'} stroke{'' if abs(received) <= 1 else 's'}"
    gets = f"You {'get' if received >= 0 else 'give'} {strokes} here"
    away = told(_to_pin(lesson), hole.units)
    where = f"{hole.name}, par {hole.par}, from the {place_words(answer)}, {away} from the pin"
    day = f" The day: {day_words(answer.request.day)}." if answer.request.day is not None else ""
    return f"{where}. {gets}: net par is {answer.net_par}.{day}"


def played_words() -> str:
    """Say how the two were compared."""
    return f"Both were judged by the same {SETS * NODES:,} first balls, each for what it leaves."


def because(lesson: Lesson) -> str:
    """Say in one sentence which to play, and why."""
    first, other = lesson.first.measure, lesson.other.measure
    return because_words(first, other, lesson.explanation, lesson.answer.objective.level)


def _of_twenty(share: float) -> str:
    return f"{round(TWENTY * share)} in {TWENTY}"


def headline(lesson: Lesson) -> Headline:
    """Return the number that would change the answer; the number is empty where nothing would."""
    point = lesson.headline
    if point is None:
        tried = switch_words(lesson.answer, lesson.points[0]) if lesson.points else ""
        return Headline("", tried and f"Nothing that we tried turns it: {tried}")
    text, at = switch_words(lesson.answer, point), point.at
    if isinstance(at, str):
        return Headline(f"{at} trust", text)
    at = float(at or 0.0)
    if point.kind == "mishits":
        return Headline(f"{_of_twenty(at)} mishit", text)
    if point.kind == "spread":
        return Headline(f"{told(at, _units(lesson))} either side", text)
    return Headline(f"{point.title}: {told(abs(at), _units(lesson))} {'farther' if at > 0 else 'nearer'}", text)


def _swing(lesson: Lesson, side: Side) -> Swing | None:
    swings, number = lesson.answer.position.player.swings, side.measure.option.swing
    return swings[number] if number < len(swings) else None


def _trusted(lesson: Lesson) -> Task:
    side, swing = lesson.first, _swing(lesson, lesson.first)
    routine = lesson.answer.position.player.routine
    how = f"Before each your routine: {routine}. " if routine else ""
    how += "All twenty at this one target."
    if swing is None:
        near, away = (told(yards, _units(lesson)) for yards in (3.0, _to_pin(lesson)))
        return Task(f"{_capital(side.title)}, {TWENTY} balls from {away}", how, f"within {near}")
    passes = round(TWENTY * (1.0 - swing.fat - swing.thin) * WITHIN_ONE_SD)
    gate, units = 2.0 * swing.side_sd, _units(lesson)
    text = (
        f"Mark two points {told(swing.carry, units)} out, {told(gate, units)} apart: that is the gate. {how} "
        f"About {passes} in {TWENTY} should pass the gate."
    )
    return Task(f"{_capital(side.title)}, {TWENTY} balls through a gate", text, "through the gate")


def _goal(lesson: Lesson) -> Task:
    """Return what to work at: the goal that would bring the other choice level, or none."""
    other, swing, times = lesson.other, _swing(lesson, lesson.other), _goal_share(lesson)
    if swing is not None and times is not None:
        if lesson.headline is not None and lesson.headline.kind == "mishits":
            now = swing.fat + swing.thin
            text = f"Count fat and thin ones: now about {_of_twenty(now)}, the goal is {_of_twenty(now * times)}."
            count = "fat or thin"
        else:
            gates = (told(2.0 * swing.side_sd * share, _units(lesson)) for share in (times, 1.0))
            text = "A gate {} wide; two in three should pass it, as they now pass one of {}.".format(*gates)
            count = "through the gate"
        return Task(f"{_capital(other.title)}, {TWENTY} balls: the goal", f"{text} Then we ask again.", count)
    if lesson.level:
        return Task("Choose once", "Name your club for this stroke before the round, and keep to it.")
    return Task(
        f"{_capital(other.title)}: not here",
        "Neither fewer mishits nor straighter balls with it would turn the choice on this stroke: practise what pays.",
    )


def _goal_share(lesson: Lesson) -> float | None:
    """Return by how much the other choice's mishits or spread would have to shrink, None where that is no goal."""
    point = lesson.headline
    if point is None or point.b != lesson.other.title or point.kind not in ("mishits", "spread"):
        return None
    now, at = float(point.now), float(point.at or 0.0)
    return at / now if at < now else None


def _next(lesson: Lesson) -> Task:
    side = lesson.first
    if not side.then:
        putts = f"Ten putts from {told(side.leave, _units(lesson))}, one ball each, from ten different places."
        return Task("Then the putt", putts, "two putts")
    balls = f"It leaves {told(side.leave, _units(lesson))}. Ten balls, each at a new target, played as on the course."
    return Task(f"Then what it leaves: {side.then}", balls, "on target")


def glossary(lesson: Lesson) -> str:
    """Explain the few words of the trade that the page uses."""
    par = lesson.answer.net_par
    return (
        f"Net par: par and the strokes you get on this hole, here {par}. Blow-up: two or more over that. Mishit: fat "
        "or thin. Like for like: from the same kind of ground."
    ) + _estimates(lesson, " {}.")


def _estimates(lesson: Lesson, form: str = "{}") -> str:
    """Explain the mark of estimates, where one of the two clubs bears it."""
    numbers = (side.measure.option.swing for side in lesson.sides)
    told = estimates_told(swings_of(lesson.answer.position.player, numbers))
    return told and form.format(told)


def homework(lesson: Lesson) -> tuple[Task, ...]:
    """Return the pupil's homework: the club that wins, the goal, the shot that follows."""
    return (_trusted(lesson), _goal(lesson), _next(lesson))


def present(lesson: Lesson) -> Document:
    """Return the because-sentence: the rest stands on the page."""
    return [Text(line) for line in (because(lesson), _estimates(lesson)) if line]


# ─── As data ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _side(lesson: Lesson, side: Side) -> dict[str, Any]:
    return {
        **picked(side, "title", aim_deg="measure.option.aim"),
        "aim": aim_words(lesson.answer.position, side.measure),
        "mean": side.mean,
        "of_ten": dict(side.of_ten),
        "of_hundred": dict(zip(("under", "net_par", "one_over", "blow_up"), side.of_hundred, strict=True)),
        "then": side.then or None,
        "leave_yd": side.leave,
        "twenty": [picked(ball, x_yd="x", y_yd="y", finish="finish") for ball in side.balls],
    }


def lesson_data(lesson: Lesson) -> dict[str, Any]:
    """Return what a lesson's page shows as plain data, schema "lesson/1"."""
    answer, told = lesson.answer, headline(lesson)
    return {
        "schema": "lesson/1",
        **picked(answer, hole="position.hole.name", player="position.player.name"),
        "from": place_words(answer),
        "pin": answer.request.pin or "middle",
        **picked(answer, "net_par", seed="request.seed", sequences="request.sequences"),
        **picked(lesson, play="first.title", level="level"),
        "because": because(lesson),
        "options": [_side(lesson, side) for side in lesson.sides],
        "difference": lesson.difference,
        "reasons": [
            {**picked(reason, "title detail strokes"), "shown": reason.hundredths / 100} for reason in lesson.reasons
        ],
        "why": why_data(lesson.explanation),
        "change": {"number": told.number or None, "sentence": told.text},
        "tried": [when_data(answer, point) for point in lesson.points],
        "homework": plain(homework(lesson)),
    }
