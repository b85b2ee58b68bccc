"""A sheet's decisions in few words, for a page that is read at arm's length."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from simcaddie.ground.targets import aim_in_degrees, nearest_landmark
from simcaddie.strategy.sheet import Flip, SheetHole
from simcaddie.strategy.sheet_stroke import NEAR_GREEN, ON, Stroke
from simcaddie.units import SHORT, YARDS_PER, angle_between, unit_vector

__all__ = ["Decision", "decisions", "facts", "flip_words", "target"]

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
    swings = player.swings
    if stroke.swing >= len(swings):
        return stroke.left
    return swings[stroke.swing].carry * player.lies[stroke.lie].carry


def target(hole: SheetHole, stroke: Stroke) -> str:
    """Say where a stroke goes: an approach by where it usually finishes, others by a landmark on their aim line.

    In degrees from the flag where no landmark is near the line.
    """
    ground = hole.hole
    if stroke.leaves <= NEAR_GREEN or stroke.green >= ON:
        return _on_green(hole, stroke)
    near = nearest_landmark(ground, stroke.start, stroke.bearing, _carry(hole, stroke))
    if near is not None:
        return _beside(hole, near[1], f"at the {near[0].name}", f"of the {near[0].name}")
    turn = math.degrees(math.remainder(stroke.bearing - angle_between(stroke.start, ground.pin()), 2.0 * math.pi))
    told = aim_in_degrees(turn)
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


def _beside(hole: SheetHole, aside: float, at: str, off: str) -> str:
    if abs(aside) < AT:
        return at
    return f"{_shown(hole, abs(aside))} {SHORT[hole.hole.units]} {'right' if aside > 0 else 'left'} {off}"


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


def _often(share: float) -> str:
    return f"1 ball in {round(1 / share)}"


def _trouble(hole: SheetHole) -> list[str]:
    found = hole.trouble
    if found is None:
        return []
    finish = {"lost": "lost ball", "unplayable": "unplayable"}.get(found.finish, found.finish.replace("_", " "))
    return [f"{finish} ({_often(found.often)}): {found.title}, leaves {_shown(hole, found.leaves)}"]


def _between(hole: SheetHole) -> list[str]:
    """Say the strokes between the tee shot and the approach."""
    return [
        f"{stroke.title}, {target(hole, stroke)}, leaves {_shown(hole, stroke.leaves)}"
        for stroke in hole.line[1 : hole.approach]
    ]


def _miss(hole: SheetHole) -> list[str]:
    miss = hole.miss
    return [f"miss {miss.best}, not {miss.worst}"] if miss.best else []


def decisions(hole: SheetHole) -> tuple[Decision, ...]:
    """Return at most three decisions: the tee shot, what follows (out of trouble too), and the approach."""
    found, between, trouble = [_tee(hole)], _between(hole), _trouble(hole)
    if between:
        lines = between[1:] + [f"if in {line}" for line in trouble]
        first, _, rest = between[0].partition(", ")
        found.append(Decision(2, "Then", first, (rest, *lines)))
    elif trouble:
        kind, _, way = trouble[0].partition(": ")
        found.append(Decision(2, "If in trouble", kind, (way,)))
    if hole.approach > 0:
        stroke = hole.line[hole.approach]
        lines = [f"from {_shown(hole, stroke.left)}, {target(hole, stroke)}", *_miss(hole)]
        found.append(Decision(len(found) + 1, "Approach", stroke.title, tuple(lines)))
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
