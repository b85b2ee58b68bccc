"""A lesson in a pupil's words: one because-sentence, the number that would change the answer, homework.

Homework is for the range, so its goals are told in range numbers: a goal on the course as a share of what is now, of
the range's own number.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from simcaddie.golfer.player import Swing
from simcaddie.solve.ahead import NODES
from simcaddie.solve.nodes import SETS
from simcaddie.strategy.day_words import day_words
from simcaddie.strategy.explain import Part, finds_words
from simcaddie.strategy.lesson import LEAST_REASON, TWENTY, Lesson, Side
from simcaddie.strategy.switch_words import switch_words
from simcaddie.strategy.turning import SwitchPoint
from simcaddie.strategy.words import place_words

__all__ = [
    "Headline",
    "Task",
    "because",
    "glossary",
    "headline",
    "homework",
    "played_words",
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


def title(lesson: Lesson) -> str:
    """Ask the lesson's question: "Driver or 5 wood?"."""
    one, other = (side.title for side in lesson.sides)
    return f"{one[:1].upper()}{one[1:]} or {other}?"


def _to_pin(lesson: Lesson) -> float:
    scene = lesson.answer.scene
    return math.dist(scene.place.at, scene.pins[0] if len(scene.pins) == 1 else scene.hole.pin())


def setting(lesson: Lesson) -> str:
    """Say where the question is asked, and what net par is there."""
    answer = lesson.answer
    hole, received = answer.scene.hole, answer.strokes_received
    strokes = f"{abs(received) or 'no'} stroke{'' if abs(received) <= 1 else 's'}"
    gets = f"You {'get' if received >= 0 else 'give'} {strokes} here"
    where = f"{hole.name}, par {hole.par}, from the {place_words(answer)}, {_to_pin(lesson):.0f} yd from the pin"
    day = f" The day: {day_words(answer.request.day)}." if answer.request.day is not None else ""
    return f"{where}. {gets}: net par is {answer.net_par}.{day}"


def played_words() -> str:
    """Say how the two were compared."""
    return f"Both were judged by the same {SETS * NODES:,} first balls, each for what it leaves."


def _dearest(lesson: Lesson) -> Part | None:
    parts = [part for part in lesson.explanation.parts if part.by_share >= LEAST_REASON]
    return max(parts, key=lambda part: part.by_share, default=None)


def _reason(lesson: Lesson) -> str:
    """Say what the dearest part of the difference is: where balls finish, or how far off they lie."""
    told, dearest, other = lesson.explanation, _dearest(lesson), lesson.other.title
    if dearest is not None and dearest.by_share >= told.by_place:
        gain = ""
        if told.nearer >= 1.0 and told.by_place <= -LEAST_REASON:
            gain = f", and its {told.nearer:.0f} yd less to go don't make up for that"
        return f"because the {other} {finds_words(dearest)}{gain}"
    if told.nearer <= -1.0 and told.by_place >= LEAST_REASON:
        return f"because the {other} leaves {-told.nearer:.0f} yd more, like for like"
    return f"because many small things add up against the {other}"


def because(lesson: Lesson) -> str:
    """Say in one sentence which to play, and why."""
    first, other = lesson.first, lesson.other
    if lesson.level:
        start = f"The {first.title} and the {other.title} score alike here ({first.mean:.2f} and {other.mean:.2f} "
        if first.measure.trust == other.measure.trust:
            return f"{start}strokes on average), so play the one that you would rather hit."
        return f"{start}strokes on average), so play the {first.title}, because you trust it more."
    scores = f"{first.mean:.2f} strokes on average against {other.mean:.2f}"
    return f"Play the {first.title} here: {scores}, {_reason(lesson)}."


def _of_twenty(share: float) -> str:
    return f"{round(TWENTY * share)} in {TWENTY}"


def headline(lesson: Lesson) -> Headline:
    """Return the number that would change the answer; the number is empty where nothing would."""
    point = lesson.headline
    if point is None:
        text = f"Nothing that we tried turns it: {_told(lesson, lesson.points[0])}" if lesson.points else ""
        return Headline("", text)
    if isinstance(point.at, str):
        return Headline(f"{point.at} trust", _told(lesson, point))
    at = float(point.at or 0.0)
    if point.kind == "mishits":
        number = f"{_of_twenty(at)} mishit"
    elif point.kind == "spread":
        number = f"{at:.0f} yd either side"
    else:
        number = f"{point.title}: {abs(at):.0f} yd {'farther' if at > 0 else 'nearer'}"
    return Headline(number, _told(lesson, point))


def _told(lesson: Lesson, point: SwitchPoint) -> str:
    return switch_words(lesson.answer, point)


def _swing(lesson: Lesson, side: Side) -> Swing | None:
    swings, number = lesson.answer.scene.player.swings, side.measure.option.swing
    return swings[number] if number < len(swings) else None


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _trusted(lesson: Lesson) -> Task:
    side, swing = lesson.first, _swing(lesson, lesson.first)
    routine = lesson.answer.scene.player.routine
    how = f"Before each your routine: {routine}. " if routine else ""
    how += "Change club and target after every ball: random, not blocked."
    if swing is None:
        return Task(f"{_capital(side.title)}, {TWENTY} balls from {_to_pin(lesson):.0f} yd", how, "within 3 yd")
    passes = round(TWENTY * (1.0 - swing.fat - swing.thin) * WITHIN_ONE_SD)
    gate = 2.0 * swing.side_sd
    text = (
        f"Mark two points {swing.carry:.0f} yd out, {gate:.0f} yd apart: that is the gate. {how} "
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
            gates = (f"{2.0 * swing.side_sd * share:.0f} yd" for share in (times, 1.0))
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
        return Task(
            "Then the putt",
            f"Ten putts from {side.leave:.0f} yd, one ball each, from ten different places.",
            "two putts",
        )
    return Task(
        f"Then what it leaves: {side.then}",
        f"It leaves {side.leave:.0f} yd. Ten balls, each at a new target, played as on the course.",
        "on target",
    )


def glossary(lesson: Lesson) -> str:
    """Explain the few words of the trade that the page uses."""
    par = lesson.answer.net_par
    return (
        f"Net par: par and the strokes you get on this hole, here {par}. Blow-up: two or more over that. Mishit: fat "
        "or thin. Like for like: from the same kind of ground."
    )


def homework(lesson: Lesson) -> tuple[Task, ...]:
    """Return the pupil's homework: the club that wins, the goal, the shot that follows."""
    return (_trusted(lesson), _goal(lesson), _next(lesson))
