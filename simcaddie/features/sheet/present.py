"""A sheet presented: each hole's decisions in few words, for a page that is read at arm's length; and as data."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Final

from simcaddie.base.records import picked
from simcaddie.base.units import SHORT, YARDS_PER, angle_between, unit_vector
from simcaddie.console.document import signed, tenths
from simcaddie.decision.line_of_play import Leg
from simcaddie.decision.options import swing_title
from simcaddie.decision.phrases import stroke_target
from simcaddie.decision.rounds import BY_LENGTH
from simcaddie.features.sheet.analysis import Flip, Hazard, Sheet, SheetHole, approaches
from simcaddie.player.estimated import marked_title

__all__ = ["Decision", "chances", "decisions", "facts", "flip_words", "sheet_data", "target"]

LEAST: Final = 0.01  # of balls: a hazard that they find more seldom is told without how often
WORTH_TELLING: Final = 0.2  # strokes: clubs that cost more are no alternative
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


def target(hole: SheetHole, leg: Leg) -> str:
    """Say where a stroke goes: an approach by where it usually finishes, others by the flag or a landmark."""
    if approaches(leg):
        return _on_green(hole, leg)
    ground = hole.hole
    return stroke_target(ground, hole.on.player, (leg.start, leg.lie, leg.swing, leg.bearing), ground.pin())


def _on_green(hole: SheetHole, leg: Leg) -> str:
    """Say where on the green a stroke usually finishes, or that it goes towards it."""
    if leg.finish_lie != "green":
        return f"towards the middle, leaves {_shown(hole, leg.leaves)}"
    centre = hole.hole.green.centroid
    dx, dy = unit_vector(angle_between(leg.start, (centre.x, centre.y)))
    off = leg.finish[0] - centre.x, leg.finish[1] - centre.y
    long, right = off[0] * dx + off[1] * dy, off[0] * dy - off[1] * dx
    if math.hypot(long, right) < MIDDLE:
        return "to the middle of the green"
    if abs(right) > abs(long):
        return f"to the {'right' if right > 0 else 'left'} of the green"
    return f"to the {'back' if long > 0 else 'front'} of the green"


def one_in(share: float) -> str:
    """Say a share of balls: "1 ball in 8"; of more than two in three "2 balls in 3" and the like.

    >>> one_in(0.125), one_in(0.7), one_in(0.04)
    ('1 ball in 8', '7 balls in 10', '1 ball in 25')
    """
    return f"1 ball in {round(1 / share)}" if share < 0.4 else f"{round(10 * share)} balls in 10"


def hazard_words(hole: SheetHole, hazard: Hazard) -> str:
    """Say what a stroke has to do with a hazard."""
    if hazard.yards is None:
        return f"in play: {hazard.title}" + (f", {one_in(hazard.often)}" if hazard.often >= LEAST else "")
    yards = _shown(hole, hazard.yards)
    return f"carry {yards}: {hazard.title}" if hazard.say == "carry" else f"short of {yards}: {hazard.title}"


def _hazards(hole: SheetHole, number: int) -> list[str]:
    return [hazard_words(hole, hazard) for hazard in hole.hazards[number]]


def _title(hole: SheetHole, leg: Leg) -> str:
    return marked_title(hole.on.player, leg.swing, leg.title)


def _tee(hole: SheetHole) -> Decision:
    leg, trouble = hole.line[0], hole.trouble
    lines = [target(hole, leg), *_hazards(hole, 0)]
    if trouble and trouble.play is None and trouble.title not in {hazard.title for hazard in hole.hazards[0]}:
        lines.append(f"in play: {trouble.title}, {one_in(trouble.often)}")
    if hole.approach == 0:
        lines += _miss(hole)
    if leg.level:
        lines.append(f"as good: {' or '.join(leg.level[:2])}")
    return Decision(1, "Tee", _title(hole, leg), tuple(lines))


def _miss(hole: SheetHole) -> list[str]:
    miss = hole.miss
    return [f"miss {miss.best}, not {miss.worst}"] if miss.best else []


def _way_out(hole: SheetHole) -> tuple[str, str, str] | None:
    """Return the trouble off the tee in words, what to play from there, and what that leaves; None without a recipe."""
    trouble = hole.trouble
    if trouble is None or trouble.play is None:
        return None
    name = {"lost": "lost ball"}.get(trouble.title, trouble.title.replace("_", " "))
    return f"{name}, {one_in(trouble.often)}", trouble.play, f"leaves {_shown(hole, trouble.leaves)}"


def decisions(hole: SheetHole) -> tuple[Decision, ...]:
    """Return at most three decisions: the tee shot, what follows (out of trouble too), and the approach."""
    found, out = [_tee(hole)], _way_out(hole)
    between = range(1, hole.approach)
    if between:
        lines = []
        for number in between:
            leg = hole.line[number]
            start = f"{leg.title}, " if number > 1 else ""
            lines.append(f"{start}{target(hole, leg)}, leaves {_shown(hole, leg.leaves)}")
            lines += _hazards(hole, number)
        if out:
            lines.append(f"if in {out[0]}: {out[1]}, {out[2]}")
        found.append(Decision(2, "Then", _title(hole, hole.line[1]), tuple(lines)))
    elif out:
        found.append(Decision(2, f"If in {out[0]}", out[1], (out[2],)))
    if hole.approach > 0:
        leg = hole.line[-1]
        told = f"from {_shown(hole, leg.left)}, {target(hole, leg)}"
        lines = [told, *_hazards(hole, hole.approach), *_miss(hole)]
        found.append(Decision(len(found) + 1, "Approach", _title(hole, leg), tuple(lines)))
    return tuple(found)


def chances(hole: SheetHole) -> tuple[str, ...]:
    """Return a line a stroke for the desk form: how often it is safe, on the green, and what other clubs cost."""
    told = []
    for number, leg in enumerate(hole.line):
        often = f"on the green {tenths(leg.green)}" if approaches(leg) else f"out of trouble {tenths(leg.safe)}"
        best = next(mean for swing, mean, _ in leg.tried if swing == leg.swing)
        dearer: dict[str, float] = {}
        for swing, mean, _ in leg.tried:
            title = swing_title(hole.on.player, swing)
            if title != leg.title and mean - best < WORTH_TELLING:
                dearer.setdefault(title, mean - best)
        costs = ", ".join(f"{title} {signed(more)}" for title, more in list(dearer.items())[:3])
        told.append(f"{number + 1} {leg.title}: {often} in ten" + (f"; {costs}" if costs else ""))
    return tuple(told)


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


def strokes_told(answer: Sheet) -> list[str]:
    """Say what stands in for the card's stroke indexes, where these are missing."""
    if answer.by_length:
        return [f"{BY_LENGTH} --gross leaves them out."]
    gross = answer.player.handicap_index is not None and any(h.gross and not h.hole.stroke_index for h in answer.holes)
    return ["Holes without a stroke index are shown gross, without strokes."] if gross else []


# ─── As data ────────────────────────────────────────────────────────────────────────────────────────────────────────


def sheet_data(answer: Sheet) -> dict[str, Any]:
    """Return a sheet as plain data, schema "sheet/1": what its pages say."""
    return {
        "schema": "sheet/1",
        **picked(
            answer,
            course="title",
            player="player.name",
            tee="tee",
            playing_handicap="handicap",
            strokes_by_length="by_length",
        ),
        "holes": [_hole_data(hole) for hole in answer.holes],
    }


def _hole_data(hole: SheetHole) -> dict[str, Any]:
    first = hole.hazards[0]
    carry, short = (next((h for h in first if h.say == say), None) for say in ("carry", "short"))
    return {
        "number": hole.number or None,
        **picked(hole.hole, "name par stroke_index"),
        **picked(hole, "strokes net_par"),
        "line": [_leg_data(hole, number) for number in range(len(hole.line))],
        "carry": carry and picked(carry, yd="yards", what="title"),
        "do_not_reach": short and picked(short, yd="yards", what="title"),
        "trouble": hole.trouble and picked(hole.trouble, "often play", finish="title", leaves_yd="leaves"),
        "miss": picked(hole.miss, **{"on": "best", "not": "worst", "dearer": "dearer"}),
        "flips": [
            {"when": flip.when, "stroke": flip.stroke + 1, **picked(flip, title="instead.title", saves="saves")}
            for flip in hole.flips
        ],
        "decisions": [picked(decision, "name play lines") for decision in decisions(hole)],
        "sentences": list(flip_words(hole)),
    }


def _leg_data(hole: SheetHole, number: int) -> dict[str, Any]:
    leg = hole.line[number]
    return {
        "title": leg.title,
        "target": target(hole, leg),
        "bearing_deg": math.degrees(leg.bearing),
        **picked(leg, from_yd="start", lie="lie", left_yd="left", leaves_yd="leaves"),
        **picked(leg, stays_out_of_trouble="safe", on_the_green="green", as_good="level"),
        "hazards": [picked(hazard, "say title often", yd="yards") for hazard in hole.hazards[number]],
    }
