"""What pays as data: what ``simcaddie practice`` prints, as JSON with a schema name."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from simcaddie.files.day_answer import day_data
from simcaddie.strategy.practice import Practice, PracticeRow
from simcaddie.strategy.practice_session import Ball
from simcaddie.strategy.practice_words import practice_words

__all__ = ["practice_data"]


def _row(row: PracticeRow) -> dict[str, Any]:
    return {
        "thing": row.thing.title,
        "strokes_a_round": row.played,
        "saves": {change: {"strokes": gain.saved, "se": gain.se} for change, gain in row.gains.items()},
    }


def practice_data(practice: Practice, balls: Sequence[Ball]) -> dict[str, Any]:
    """Return what pays and a session as plain data, schema "practice/1"; strokes a round saved."""
    return {
        "schema": "practice/1",
        "course": practice.course.name,
        "player": practice.player.name,
        "tee": practice.tee,
        "day": day_data(practice.day),
        "seed": practice.seed,
        "sequences": practice.sequences,
        "mean": practice.mean,
        "policy": "as the player is now",
        "rows": [_row(row) for row in practice.rows],
        "all_swings": _row(practice.swings),
        "everything": {"strokes": practice.everything.saved, "se": practice.everything.se},
        "seldom_played": list(practice.seldom),
        "words": practice_words(practice),
        "session": {
            "routine": practice.player.routine,
            "balls": [{"ball": n + 1, "play": ball.title, "target": ball.target} for n, ball in enumerate(balls)],
        },
    }
