"""Yardages: a row a hazard, and as data."""

from __future__ import annotations

from typing import Any, NamedTuple

from simcaddie.base.records import picked
from simcaddie.console.document import Document, Text, figures, table, words
from simcaddie.course.distances import Yardages
from simcaddie.course.route import aim_in_degrees

__all__ = ["Measured", "measured_data", "present"]


class Measured(NamedTuple):
    """What was measured: on which hole, from where, along which line (degrees right of the pin)."""

    hole: str
    start: str
    aim: float
    found: Yardages


def present(measured: Measured) -> Document:
    """Return the green's yardages and a row a hazard."""
    hole, start, aim, found = measured
    green = found.green
    pins = ", ".join(f"{pin} pin {far:.0f}" for pin, far in green.pins.items())
    rows = (
        (
            hazard.area.title,
            hazard.side,
            *("–" if far is None else f"{far:.0f}" for far in (hazard.reach, hazard.carry, hazard.near, hazard.far)),
        )
        for hazard in found.hazards
    )
    return [
        Text(f"{hole}, from the {start}, line {aim_in_degrees(aim)}. Yards."),
        Text(f"Green: front {green.front:.0f}, middle {green.middle:.0f}, back {green.back:.0f}. {pins}."),
        table(
            (*words("hazard", "side", wraps=True), *figures("reach", "carry", "nearest", "farthest")), rows, ruled=False
        ),
        Text("Reach and carry are along the line; nearest and farthest as the crow flies."),
    ]


def measured_data(measured: Measured) -> dict[str, Any]:
    """Return yardages as data, schema "yardages/1"."""
    keys = {"name": "area.title", "kind": "area.kind", "side": "side", "reach": "reach", "carry": "carry"}
    found = measured.found
    return {
        "schema": "yardages/1",
        **{"hole": measured.hole, "from": measured.start, "aim_deg": measured.aim},
        "hazards": [picked(hazard, **keys, nearest="near", farthest="far") for hazard in found.hazards],
        "green": picked(found.green, "front middle back pins"),
    }
