"""What the day makes of every swing, presented: two tables to pencil in before the round; and as data."""

from __future__ import annotations

from typing import Any

from simcaddie.base.cautions import BY_HAND, PLAY
from simcaddie.base.records import picked
from simcaddie.base.units import YARDS_PER
from simcaddie.console.document import GAP, Block, Document, Heading, Table, Text, figures, table, words
from simcaddie.decision.phrases import day_data, day_words
from simcaddie.features.day.analysis import SwingToday, Target, Today, rules_of_practice

__all__ = ["present", "today_data"]


def _either_way(length: float, more: str, less: str) -> str:
    """Say how far which of two ways; a dash for nothing."""
    return "–" if abs(length) < 0.5 else f"{abs(length):.0f} {more if length > 0 else less}"


def _swings(swings: tuple[SwingToday, ...], unit: float) -> Table:
    return table(
        (*words("swing"), *figures("calm carry", "carry today", "drift", "carry and run")),
        (
            (
                s.title,
                f"{s.calm / unit:.0f}",
                f"{s.carry / unit:.0f}",
                _either_way(s.drift / unit, "right", "left"),
                f"{s.total / unit:.0f}",
            )
            for s in swings
        ),
        gap="wide",
    )


def _targets(targets: tuple[Target, ...], unit: float) -> Table:
    return table(
        (*figures("to carry", "up or down", "plays as"), *words("lands nearest")),
        (
            (
                f"{t.far / unit:.0f}",
                _either_way(t.rise / unit, "up", "down"),
                "out of reach" if t.plays is None else f"{t.plays / unit:.0f}",
                t.title or "–",
            )
            for t in targets
        ),
        gap="wide",
    )


def present(today: Today) -> Document:
    """Return swings, targets, the rules of practice beside the model, and the caution."""
    units = today.hole.units
    unit = YARDS_PER[units]
    blocks: list[Block] = [
        Heading(today.hole.name, f", from the {today.asked_from}, along the line to the pin. {units.capitalize()}."),
        Text(f"{today.player.name}; the day: {day_words(today.day)}"),
        GAP,
        _swings(today.swings, unit),
        GAP,
        _targets(today.targets, unit),
    ]
    if rules := rules_of_practice(today.player):
        title, into, down, high = rules
        told = (
            f"Rule of practice (no source), and the model for this player's {title}: into the wind 1 % of the carry a "
            f"mph, the model {into:.1f}; downwind half of that, the model {down:.1f}; 10 {units} up plays 10 longer, "
            f"the model {high:.0f}."
        )
        blocks += [GAP, Text(told)]
    return [*blocks, GAP, Text(f"{BY_HAND} {PLAY}", quiet=True)]


def today_data(today: Today) -> dict[str, Any]:
    """Return the day's swings and targets as plain data, schema "today/1"."""
    yards = {"calm_carry_yd": "calm", "carry_yd": "carry", "drift_yd": "drift", "total_yd": "total"}
    return {
        "schema": "today/1",
        **picked(today, hole="hole.name", player="player.name"),
        "from": today.asked_from,
        "day": day_data(today.day),
        "swings": [picked(swing, swing="title", **yards) for swing in today.swings],
        "targets": [picked(t, yards="far", rise_yd="rise", plays_yd="plays", swing="title") for t in today.targets],
    }
