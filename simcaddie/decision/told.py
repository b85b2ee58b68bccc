"""Strokes that were played, in words and as data: what the range round and the review say alike."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any, Final

from simcaddie.base.surfaces import BY_NAME, NAMES, TEE
from simcaddie.base.units import FEET_PER_YARD
from simcaddie.base.units import told as length_told
from simcaddie.course.played import HolePlayed, Step, StrokeMark
from simcaddie.course.route import aim_in_degrees
from simcaddie.decision.ledger import Entry, HoleLedger, Place, Reckoner, on_green, total
from simcaddie.decision.options import Option, swing_title
from simcaddie.decision.phrases import line_words
from simcaddie.decision.request import LEVEL

__all__ = [
    "PART_NAMES",
    "dearest",
    "hole_data",
    "hole_played",
    "hole_steps",
    "kind_of_stroke",
    "lie_words",
    "part_steps",
    "parts_data",
    "stroke_words",
]

PART_NAMES: Final = ("choice", "execution", "luck", "putts")
_AT_THE_PIN: Final = 80.0  # yd: a target nearer than this is told from the pin


def _signed(strokes: float) -> str:
    return f"{strokes:+.2f}" if abs(strokes) >= 0.005 else "0.00"


def lie_words(reckoner: Reckoner, place: Place | None) -> str:
    """Say where a ball lies: "the fairway, 152 yd to the pin", "the green, 24 ft", "in the hole"."""
    if place is None:
        return "in the hole"
    hole, lie = reckoner.position.hole, BY_NAME[NAMES[place[2]]]
    away = math.dist(place[:2], reckoner.position.pins[0])
    if on_green(place):
        return f"the green, {FEET_PER_YARD * away:.0f} ft"
    return f"{lie.article} {lie.title}, {length_told(away, hole.units)} to the pin"


def stroke_words(reckoner: Reckoner, place: Place, option: Option) -> str:
    """Say a stroke: the club, and its target by the nearest landmark or in degrees from the pin."""
    title = swing_title(reckoner.position.player, option.swing)
    near = math.dist(place[:2], reckoner.position.pins[0]) < _AT_THE_PIN
    where = aim_in_degrees(option.aim) if near else line_words(reckoner.at(place), option)
    return f"{title}, {where}"


def kind_of_stroke(reckoner: Reckoner, entry: Entry) -> str:
    """Return which part of the game a stroke is of: "tee", "approach" or "touch", as whole sequences count them."""
    if entry.option.swing >= len(reckoner.position.player.swings):
        return "touch"
    first = NAMES[entry.place[2]] == TEE and entry.place[:2] == reckoner.start[:2]
    return "tee" if first and reckoner.position.hole.par > 3 else "approach"


def part_steps(ledgers: Sequence[HoleLedger], names: Sequence[str] = PART_NAMES) -> tuple[Step, ...]:
    """Return what some holes came to, from what was expected by part to the score."""
    expected, score = (sum(getattr(ledger, name) for ledger in ledgers) for name in ("expected", "score"))
    steps = (Step(name, strokes) for name, strokes in zip(names, total(ledgers), strict=True))
    return Step("expected", expected, whole=True), *steps, Step("score", score, whole=True, shown=f"{score:.4g}")


def hole_steps(ledgers: Sequence[HoleLedger]) -> tuple[Step, ...]:
    """Return the same hole by hole."""
    first, *_, last = part_steps(ledgers)
    steps = (
        Step(f"{ledger.number}  {ledger.reckoner.position.hole.name}", ledger.score - ledger.expected)
        for ledger in ledgers
    )
    return first, *steps, last


def hole_played(ledger: HoleLedger, note: str, names: Sequence[str] = PART_NAMES) -> HolePlayed:
    """Return a hole as its page shows it."""
    reckoner, number, marks, rows = ledger.reckoner, 1, [], []
    for entry in ledger.entries:
        pin = reckoner.position.pins[0]
        after = pin if entry.after is None else entry.after[:2]
        end, relief = (after, None) if entry.landed is None else (entry.landed, after)
        title = swing_title(reckoner.position.player, entry.option.swing)
        marks.append(StrokeMark(number, title, entry.place[:2], end, entry.cost, relief))
        costs = ", ".join(
            f"{name} {_signed(strokes)}"
            for name, strokes in zip(names, (entry.choice, entry.execution, entry.luck), strict=False)
        )
        rows.append((f"{number}  {stroke_words(reckoner, entry.place, entry.option)}", costs))
        number += entry.added
    if ledger.putted is not None:
        count, feet = ledger.putted.taken, lie_words(reckoner, ledger.putted.place).rpartition(", ")[2]
        rows.append(
            (f"{number}  {count} putt{'s' * (count != 1)} from {feet}", f"{names[3]} {_signed(ledger.putting)}")
        )
    said = dearest(ledger)
    hole = reckoner.position.hole
    return HolePlayed(hole, note, tuple(marks), part_steps([ledger], names), tuple(rows), (said,) if said else ())


def dearest(ledger: HoleLedger) -> str:
    """Say the choice that cost most on a hole, and the plan; nothing where none cost more than the model can tell."""
    entry = max(ledger.entries, key=lambda entry: entry.choice, default=None)
    if entry is None or entry.choice < LEVEL:
        return ""
    chosen, plan = (stroke_words(ledger.reckoner, entry.place, option) for option in (entry.option, entry.plan))
    where = lie_words(ledger.reckoner, entry.place)
    return f"The dearest choice, from {where}: {chosen}, costs {entry.choice:.2f} more than best play, {plan}."


def parts_data(ledgers: Iterable[HoleLedger]) -> dict[str, float]:
    """Return the parts of some holes together as data."""
    return dict(zip(PART_NAMES, total(ledgers), strict=True))


def _place_data(reckoner: Reckoner, place: Place | None) -> dict[str, Any] | None:
    if place is None:
        return None
    away = math.dist(place[:2], reckoner.position.pins[0])
    return {"x": place[0], "y": place[1], "lie": NAMES[place[2]], "to_pin": away}


def _option_data(reckoner: Reckoner, place: Place, option: Option) -> dict[str, Any]:
    title = swing_title(reckoner.position.player, option.swing)
    return {"club": title, "aim_deg": option.aim, "words": stroke_words(reckoner, place, option)}


def _entry_data(reckoner: Reckoner, entry: Entry) -> dict[str, Any]:
    return {
        **_option_data(reckoner, entry.place, entry.option),
        "kind": kind_of_stroke(reckoner, entry),
        "from": _place_data(reckoner, entry.place),
        "to": _place_data(reckoner, entry.after),
        "strokes": entry.added,
        "before": entry.best,
        "after": entry.came - entry.added,
        "choice": entry.choice,
        "execution": entry.execution,
        "luck": entry.luck,
        "plan": _option_data(reckoner, entry.place, entry.plan),
    }


def hole_data(ledger: HoleLedger) -> dict[str, Any]:
    """Return a hole's ledger as data."""
    putted, hole = ledger.putted, ledger.reckoner.position.hole
    return {
        "number": ledger.number,
        "name": hole.name,
        "par": hole.par,
        "score": ledger.score,
        "picked_up": ledger.left > 0.0,
        "expected": ledger.expected,
        "parts": parts_data([ledger]),
        "strokes": [_entry_data(ledger.reckoner, entry) for entry in ledger.entries],
        "putts": None
        if putted is None
        else {"from": _place_data(ledger.reckoner, putted.place), "taken": putted.taken, "mean": putted.mean},
    }
