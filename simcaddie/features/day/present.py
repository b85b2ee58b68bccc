"""What the day makes of every swing, presented: two tables to pencil in before the round; and as data."""

from __future__ import annotations

from typing import Any

from simcaddie.base.cautions import BY_HAND, PLAY
from simcaddie.base.records import picked
from simcaddie.console.document import GAP, Block, Document, Heading, Table, Text, figures, table, words
from simcaddie.decision.phrases import day_data, day_words
from simcaddie.features.day.analysis import SwingToday, Target, Today, rules_of_practice

__all__ = ["present", "today_data"]


def _either_way(yards: float, more: str, less: str) -> str:
    """Say how many yards which of two ways; a dash for none."""
    return "–" if abs(yards) < 0.5 else f"{abs(yards):.0f} {more if yards > 0 else less}"


def _swings(swings: tuple[SwingToday, ...]) -> Table:
    return table(
        (*words("swing"), *figures("calm carry", "carry today", "drift", "carry and run")),
        (
            (s.title, f"{s.calm:.0f}", f"{s.carry:.0f}", _either_way(s.drift, "right", "left"), f"{s.total:.0f}")
            for s in swings
        ),
        gap="wide",
    )


def _targets(targets: tuple[Target, ...]) -> Table:
    return table(
        (*figures("to carry", "up or down", "plays as"), *words("lands nearest")),
        (
            (
                f"{t.far:.0f}",
                _either_way(t.rise, "up", "down"),
                "out of reach" if t.plays is None else f"{t.plays:.0f}",
                t.title or "–",
            )
            for t in targets
        ),
        gap="wide",
    )


def present(today: Today) -> Document:
    """Return swings, targets, the rules of practice beside the model, and the caution."""
    blocks: list[Block] = [
        Heading(today.hole.name, f", from the {today.asked_from}, along the line to the pin. Yards."),
        Text(f"{today.player.name}; the day: {day_words(today.day)}"),
        GAP,
        _swings(today.swings),
        GAP,
        _targets(today.targets),
    ]
    if rules := rules_of_practice(today.player):
        title, into, down, high = rules
        told = (
            f"Rule of practice (no source), and the model for this player's {title}: into the wind 1 % of the carry a "
            f"mph, the model {into:.1f}; downwind half of that, the model {down:.1f}; 10 yards up plays 10 longer, the "
            f"model {high:.0f}."
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
