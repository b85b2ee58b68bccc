"""``simcaddie yardages``: the numbers a player would write in a notebook."""

from __future__ import annotations

import math
import time
from typing import TYPE_CHECKING, Annotated, Any

import typer

from simcaddie.cli.shared import FromSpot, HoleArg, Json, NoSeed, Tee, Verbose, console, took
from simcaddie.errors import BadRequest

if TYPE_CHECKING:
    from simcaddie.ground.distances import HazardDistance, Yardages

__all__ = ["yardages"]


def yardages(
    hole: HoleArg,
    tee: Tee = None,
    from_spot: FromSpot = None,
    aim: Annotated[
        float | None, typer.Option(metavar="DEG", help="The line, in degrees right of the pin; at the pin by default.")
    ] = None,
    json: Json = None,
    seed: NoSeed = 0,
    verbose: Verbose = False,
) -> int:
    """Measure the way to every hazard and to the green.

    Reach and carry are along the line from tee or spot: where it enters a hazard and where it leaves it. Nearest and
    farthest are as the crow flies.
    """
    from simcaddie.files import find_hole, read_hole, write_json
    from simcaddie.ground.distances import yardages as measure
    from simcaddie.units import angle_between

    started = time.perf_counter()
    if not -360.0 <= (aim or 0.0) <= 360.0:
        raise BadRequest(f"--aim: expected degrees from -360 to 360, found {aim}")
    record = read_hole(find_hole(hole))
    place = record.place(tee, from_spot)
    bearing = angle_between(place.at, record.pin()) + math.radians(aim or 0.0)
    found = measure(record, place.at, bearing)
    asked_from = f"spot {from_spot}" if from_spot else f"{tee or next(iter(record.tees))} tee"
    if json is not None:
        write_json(_data(record.name, asked_from, aim or 0.0, found), json)
    if json != "-":
        _print(record.name, asked_from, aim or 0.0, found)
    took(started, verbose)
    return 0


def _data(name: str, asked_from: str, aim: float, found: Yardages) -> dict[str, Any]:
    def row(hazard: HazardDistance) -> dict[str, Any]:
        return {
            "name": hazard.area.title,
            "kind": hazard.area.kind,
            "side": hazard.side,
            "reach": hazard.reach,
            "carry": hazard.carry,
            "nearest": hazard.near,
            "farthest": hazard.far,
        }

    green = found.green
    return {
        "schema": "yardages/1",
        "hole": name,
        "from": asked_from,
        "aim_deg": aim,
        "hazards": [row(hazard) for hazard in found.hazards],
        "green": {"front": green.front, "middle": green.middle, "back": green.back, "pins": dict(green.pins)},
    }


def _print(name: str, asked_from: str, aim: float, found: Yardages) -> None:
    from rich.table import Table

    from simcaddie.ground.targets import aim_in_degrees

    out = console()
    out.print(f"{name}, from the {asked_from}, line {aim_in_degrees(aim)}. Yards.", markup=False)
    green = found.green
    pins = ", ".join(f"{pin} pin {far:.0f}" for pin, far in green.pins.items())
    out.print(
        f"Green: front {green.front:.0f}, middle {green.middle:.0f}, back {green.back:.0f}. {pins}.", markup=False
    )
    table = Table(box=None, pad_edge=False, header_style="bold")
    for title, side in (
        ("hazard", "left"),
        ("side", "left"),
        ("reach", "right"),
        ("carry", "right"),
        ("nearest", "right"),
        ("farthest", "right"),
    ):
        table.add_column(title, justify="right" if side == "right" else "left")
    for hazard in found.hazards:
        on_line = [f"{far:.0f}" if far is not None else "–" for far in (hazard.reach, hazard.carry)]
        table.add_row(hazard.area.title, hazard.side, *on_line, f"{hazard.near:.0f}", f"{hazard.far:.0f}")
    out.print(table)
    out.print("Reach and carry are along the line; nearest and farthest as the crow flies.", markup=False)
