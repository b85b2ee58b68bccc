"""A sheet presented: each hole's decisions in few words, for a page that is read at arm's length; and as data."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Final

from simcaddie.base.records import picked
from simcaddie.base.units import SHORT, YARDS_PER, angle_between, unit_vector
from simcaddie.course.route import aim_in_degrees, nearest_landmark
from simcaddie.features.sheet.analysis import NEAR_GREEN, ON, Flip, Sheet, SheetHole, Stroke

__all__ = ["Decision", "decisions", "facts", "flip_words", "sheet_data", "target"]

AT: Final = 3.0  # yd: nearer than this is "at" a thing
MIDDLE: Final = 7.0  # yd: nearer to the middle of the green than this is the middle


@dataclass(frozen=True, slots=True)
class Decision:
    """One decision: its number and name, what to play, and a few lines of how."""

    number: int
    name: str
    play: str
    lines: tuple[str, ...]


def _shown(hole: SheetHole, yards: float) -> str:
    return f"{yards / YARDS_PER[hole.hole.units]:.0f}"


def _carry(hole: SheetHole, stroke: Stroke) -> float:
    player = hole.on.player
    if stroke.swing >= len(player.swings):
        return stroke.left
    return player.swings[stroke.swing].carry * player.lies[stroke.lie].carry


def target(hole: SheetHole, stroke: Stroke) -> str:
    """Say where a stroke goes: an approach by where it usually finishes, others by a landmark on their aim line.

    In degrees from the flag where no landmark is near the line.
    """
    ground = hole.hole
    if stroke.leaves <= NEAR_GREEN or stroke.green >= ON:
        return _on_green(hole, stroke)
    near = nearest_landmark(ground, stroke.start, stroke.bearing, _carry(hole, stroke))
    if near is not None:
        mark, aside = near
        if abs(aside) < AT:
            return f"at the {mark.name}"
        way = f"{SHORT[ground.units]} {'right' if aside > 0 else 'left'}"
        return f"{_shown(hole, abs(aside))} {way} of the {mark.name}"
    turn = math.remainder(stroke.bearing - angle_between(stroke.start, ground.pin()), 2.0 * math.pi)
    told = aim_in_degrees(math.degrees(turn))
    return "at the flag" if told == "at the pin" else f"{told} of the flag"


def _on_green(hole: SheetHole, stroke: Stroke) -> str:
    """Say where on the green a stroke usually finishes, or that it goes towards it."""
    if stroke.finish_lie != "green":
        return f"towards the middle, leaves {_shown(hole, stroke.leaves)}"
    centre = hole.hole.green.centroid
    dx, dy = unit_vector(angle_between(stroke.start, (centre.x, centre.y)))
    off = stroke.finish[0] - centre.x, stroke.finish[1] - centre.y
    long, right = off[0] * dx + off[1] * dy, off[0] * dy - off[1] * dx
    if math.hypot(long, right) < MIDDLE:
        return "to the middle of the green"
    if abs(right) > abs(long):
        return f"to the {'right' if right > 0 else 'left'} of the green"
    return f"to the {'back' if long > 0 else 'front'} of the green"


def _tee(hole: SheetHole) -> Decision:
    stroke = hole.line[0]
    lines = [target(hole, stroke)]
    if hole.carry is not None:
        lines.append(f"carry {_shown(hole, hole.carry.yards)}: {hole.carry.title}")
    if hole.reach is not None:
        lines.append(f"not {_shown(hole, hole.reach.yards)}: {hole.reach.title}")
    if hole.approach == 0:
        lines += _miss(hole)
    if stroke.level:
        lines.append(f"as good: {' or '.join(stroke.level[:2])}")
    return Decision(1, "Tee", stroke.title, tuple(lines))


def _miss(hole: SheetHole) -> list[str]:
    miss = hole.miss
    return [f"miss {miss.best}, not {miss.worst}"] if miss.best else []


def decisions(hole: SheetHole) -> tuple[Decision, ...]:
    """Return at most three decisions: the tee shot, what follows (out of trouble too), and the approach."""
    found, trouble = [_tee(hole)], hole.trouble
    between = hole.line[1 : hole.approach]
    ways = [(stroke.title, f"{target(hole, stroke)}, leaves {_shown(hole, stroke.leaves)}") for stroke in between]
    if trouble:
        name = {"lost": "lost ball"}.get(trouble.finish, trouble.finish.replace("_", " "))
        kind = f"{name} (1 ball in {round(1 / trouble.often)})"
        out = f"{trouble.title}, leaves {_shown(hole, trouble.leaves)}"
    if ways:
        (first, way), *others = ways
        lines = [", ".join(other) for other in others] + ([f"if in {kind}: {out}"] if trouble else [])
        found.append(Decision(2, "Then", first, (way, *lines)))
    elif trouble:
        found.append(Decision(2, "If in trouble", kind, (out,)))
    if hole.approach > 0:
        stroke = hole.line[hole.approach]
        told = f"from {_shown(hole, stroke.left)}, {target(hole, stroke)}"
        found.append(Decision(len(found) + 1, "Approach", stroke.title, (told, *_miss(hole))))
    return tuple(found)


def _flip(hole: SheetHole, flip: Flip) -> str:
    when = "Into the wind (12 mph)" if flip.when == "wind" else f"Pin {flip.when}"
    which = "" if flip.stroke == 0 else " for the approach" if flip.stroke == hole.approach else " then"
    aim = f", {target(hole, flip.instead)}" if flip.when == "wind" and flip.stroke == 0 else ""
    return f"{when}: {flip.instead.title}{which}{aim}"


def flip_words(hole: SheetHole) -> tuple[str, ...]:
    """Say what flips the plan, or that a head wind doesn't."""
    told = [_flip(hole, flip) for flip in hole.flips]
    if not any(flip.when == "wind" for flip in hole.flips):
        told.append("Into the wind (12 mph): same clubs")
    return tuple(told)


def facts(hole: SheetHole, length: float) -> str:
    """Say par, stroke index and length (yards) of a hole."""
    index = f" · index {hole.hole.stroke_index}" if hole.hole.stroke_index is not None else ""
    return f"par {hole.hole.par}{index} · {_shown(hole, length)} {SHORT[hole.hole.units]}"


# ─── As data ────────────────────────────────────────────────────────────────────────────────────────────────────────


def sheet_data(answer: Sheet) -> dict[str, Any]:
    """Return a sheet as plain data, schema "sheet/1": what its pages say."""
    return {
        "schema": "sheet/1",
        **picked(answer, course="title", player="player.name", tee="tee", playing_handicap="handicap"),
        "holes": [_hole_data(hole) for hole in answer.holes],
    }


def _hole_data(hole: SheetHole) -> dict[str, Any]:
    return {
        "number": hole.number or None,
        **picked(hole.hole, "name par stroke_index"),
        **picked(hole, "strokes net_par"),
        "line": [_stroke_data(hole, stroke) for stroke in hole.line],
        "carry": hole.carry and picked(hole.carry, yd="yards", what="title"),
        "do_not_reach": hole.reach and picked(hole.reach, yd="yards", what="title"),
        "trouble": hole.trouble and picked(hole.trouble, "finish often", play="title", leaves_yd="leaves"),
        "miss": picked(hole.miss, **{"on": "best", "not": "worst", "dearer": "dearer"}),
        "flips": [
            {"when": flip.when, "stroke": flip.stroke + 1, **picked(flip, title="instead.title", saves="saves")}
            for flip in hole.flips
        ],
        "decisions": [picked(decision, "name play lines") for decision in decisions(hole)],
        "sentences": list(flip_words(hole)),
    }


def _stroke_data(hole: SheetHole, stroke: Stroke) -> dict[str, Any]:
    return {
        "title": stroke.title,
        "target": target(hole, stroke),
        "bearing_deg": math.degrees(stroke.bearing),
        **picked(stroke, from_yd="start", lie="lie", left_yd="left", leaves_yd="leaves"),
        **picked(stroke, stays_out_of_trouble="safe", on_the_green="green", as_good="level"),
    }
