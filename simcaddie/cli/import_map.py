"""``simcaddie import-map``: hole files from a map of a course."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Annotated

import typer

from simcaddie.cli.shared import Json, NoSeed, Verbose, hole_numbers, known_units, note, took
from simcaddie.errors import BadRequest

__all__ = ["import_map"]


def import_map(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A map of a course as GeoJSON.")],
    output: Annotated[
        Path | None, typer.Option("--output", "-o", metavar="FOLDER", help="Where the hole files and course.yaml go.")
    ] = None,
    report_only: Annotated[bool, typer.Option("--report-only", help="Tell what would be made; write nothing.")] = False,
    holes: Annotated[str | None, typer.Option(metavar="LIST", help="Only these holes, as 1-9 or 1,3,10-12.")] = None,
    course: Annotated[
        str | None, typer.Option(metavar="NAME", help="Which course, where the map has several.")
    ] = None,
    units: Annotated[str, typer.Option(metavar="yards|metres", help="Of the files written.")] = "yards",
    water: Annotated[
        str | None,
        typer.Option(
            metavar="red|yellow", help="Marking of water that has none on the map; red, as an assumption, by default."
        ),
    ] = None,
    order: Annotated[
        str | None,
        typer.Option(metavar="lon-lat|lat-lon", help="How positions are written; lon-lat by default, and checked."),
    ] = None,
    replace: Annotated[
        bool, typer.Option("--replace", help="Write over hole files that are there; never over a course.yaml.")
    ] = False,
    json: Json = None,
    seed: NoSeed = 0,
    verbose: Verbose = False,
) -> int:
    """Make hole files from a map of a course (GeoJSON).

    The map has OpenStreetMap's golf tags, or a property `kind` in the words of hole files, and a line from tee to
    green for each hole. Says for each hole what was found, assumed and is missing; what is assumed is marked in the
    files. Look them over: maps are drawn by people.
    """
    from simcaddie.files import write_json
    from simcaddie.files.map_import import import_map as read_map
    from simcaddie.files.map_import import save_map
    from simcaddie.mapdata.words import report_data, report_lines

    started = time.perf_counter()
    if output is None and not report_only:
        raise BadRequest("-o FOLDER says where the files go; --report-only writes none")
    known_units(units)
    imported = read_map(
        file,
        holes=hole_numbers(holes),
        units=units,
        water=_choice("--water", water or "", ("red", "yellow", "")),
        course=course or "",
        order=_choice("--order", order or "", ("lon-lat", "lat-lon", "")),
    )
    said = []
    if output is not None and not report_only and imported.texts:
        said = save_map(imported, output, replace_files=replace)
        said.insert(0, f"Written: {len(imported.texts)} files to {output}; `simcaddie draw` shows each.")
    if json is not None:
        write_json(report_data(imported.draft, str(file)), json)
    if json != "-":
        for line in report_lines(imported.draft, str(file)):
            typer.echo(line)
    for line in said:
        note(line)
    took(started, verbose)
    return 0 if imported.texts else 2


def _choice(option: str, value: str, allowed: tuple[str, ...]) -> str:
    if value not in allowed:
        raise BadRequest(f"{option}: expected {' or '.join(name for name in allowed if name)}, found '{value}'")
    return value
