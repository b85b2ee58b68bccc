"""A strategy sheet as data: schema "sheet/1"."""

from __future__ import annotations

import math
from typing import Any

from simcaddie.strategy.sheet import Flip, Sheet, SheetHole
from simcaddie.strategy.sheet_facts import Number
from simcaddie.strategy.sheet_stroke import Stroke
from simcaddie.strategy.sheet_words import decisions, flip_words, target

__all__ = ["sheet_data"]


def _stroke(hole: SheetHole, stroke: Stroke) -> dict[str, Any]:
    return {
        "title": stroke.title,
        "target": target(hole, stroke),
        "bearing_deg": math.degrees(stroke.bearing),
        "from_yd": list(stroke.start),
        "lie": stroke.lie,
        "left_yd": stroke.left,
        "leaves_yd": stroke.leaves,
        "stays_out_of_trouble": stroke.safe,
        "on_the_green": stroke.green,
        "as_good": list(stroke.level),
    }


def _number(number: Number | None) -> dict[str, Any] | None:
    return None if number is None else {"yd": number.yards, "what": number.title}


def _flip(flip: Flip) -> dict[str, Any]:
    return {"when": flip.when, "stroke": flip.stroke + 1, "title": flip.instead.title, "saves": flip.saves}


def _hole(hole: SheetHole) -> dict[str, Any]:
    trouble = hole.trouble
    return {
        "number": hole.number or None,
        "name": hole.hole.name,
        "par": hole.hole.par,
        "stroke_index": hole.hole.stroke_index,
        "strokes": hole.strokes,
        "net_par": hole.net_par,
        "line": [_stroke(hole, stroke) for stroke in hole.line],
        "carry": _number(hole.carry),
        "do_not_reach": _number(hole.reach),
        "trouble": trouble
        and {"finish": trouble.finish, "often": trouble.often, "play": trouble.title, "leaves_yd": trouble.leaves},
        "miss": {"on": hole.miss.best, "not": hole.miss.worst, "dearer": hole.miss.dearer},
        "flips": [_flip(flip) for flip in hole.flips],
        "decisions": [{"name": d.name, "play": d.play, "lines": list(d.lines)} for d in decisions(hole)],
        "sentences": list(flip_words(hole)),
    }


def sheet_data(answer: Sheet) -> dict[str, Any]:
    """Return a sheet as plain data: what its pages say."""
    return {
        "schema": "sheet/1",
        "course": answer.title,
        "player": answer.player.name,
        "tee": answer.tee,
        "playing_handicap": answer.handicap,
        "holes": [_hole(hole) for hole in answer.holes],
    }
