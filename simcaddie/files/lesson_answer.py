"""A lesson as data: schema "lesson/1"."""

from __future__ import annotations

from typing import Any

from simcaddie.strategy.explain import why_data
from simcaddie.strategy.lesson import Lesson, Side
from simcaddie.strategy.lesson_words import because, headline, homework
from simcaddie.strategy.switch_words import when_data
from simcaddie.strategy.words import aim_words, place_words

__all__ = ["lesson_data"]


def _side(lesson: Lesson, side: Side) -> dict[str, Any]:
    return {
        "title": side.title,
        "aim_deg": side.measure.option.aim,
        "aim": aim_words(lesson.answer.scene, side.measure),
        "mean": side.mean,
        "of_ten": dict(side.of_ten),
        "of_hundred": dict(zip(("under", "net_par", "one_over", "blow_up"), side.of_hundred, strict=True)),
        "then": side.then or None,
        "leave_yd": side.leave,
        "twenty": [{"x_yd": ball.x, "y_yd": ball.y, "finish": ball.finish} for ball in side.balls],
    }


def lesson_data(lesson: Lesson) -> dict[str, Any]:
    """Return a lesson as plain data: what its page shows."""
    answer, told = lesson.answer, headline(lesson)
    return {
        "schema": "lesson/1",
        "hole": answer.scene.hole.name,
        "player": answer.scene.player.name,
        "from": place_words(answer),
        "pin": answer.request.pin or "middle",
        "net_par": answer.net_par,
        "seed": answer.request.seed,
        "sequences": answer.request.sequences,
        "play": lesson.first.title,
        "level": lesson.level,
        "because": because(lesson),
        "options": [_side(lesson, side) for side in lesson.sides],
        "difference": lesson.difference,
        "reasons": [
            {"title": part.title, "detail": part.detail, "strokes": part.strokes, "shown": part.hundredths / 100}
            for part in lesson.reasons
        ],
        "why": why_data(lesson.explanation),
        "change": {"number": told.number or None, "sentence": told.text},
        "tried": [when_data(answer, point) for point in lesson.points],
        "homework": [{"title": task.title, "text": task.text, "count": task.count} for task in homework(lesson)],
    }
