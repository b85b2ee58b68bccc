"""``simcaddie export-map``: holes as GeoJSON, to be looked at over a photograph."""

from __future__ import annotations

import re
import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from simcaddie.cli.shared import Json, NoSeed, Verbose, note, took
from simcaddie.errors import BadRequest

if TYPE_CHECKING:
    from simcaddie.ground.hole import Hole

__all__ = ["export_map"]


def export_map(
    holes: Annotated[list[str], typer.Argument(metavar="HOLE", help="Hole files, or a course file for all of its.")],
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="FILE", help="Where to write the GeoJSON.")
    ] = Path("holes.geojson"),
    json: Json = None,
    seed: NoSeed = 0,
    verbose: Verbose = False,
) -> int:
    """Write holes as GeoJSON (WGS 84), for a look over a photograph.

    Any map editor that opens GeoJSON shows it. Moved points and new outlines come back with import-map. Each hole
    file must say where its point [0, 0] lies (`origin`), as those made by import-map do.
    """
    from simcaddie.files import write_json, write_text
    from simcaddie.files.map_export import geojson_text

    started = time.perf_counter()
    found = [pair for name in holes for pair in _records(name)]
    numbered = _numbered(found)
    write_text(output, geojson_text(numbered))
    if json is not None:
        rows = [{"hole": ref, "name": hole.name} for ref, hole in numbered.items()]
        write_json({"schema": "export-map/1", "file": str(output), "holes": rows}, json)
    note(f"Written: {output}, {len(numbered)} {'hole' if len(numbered) == 1 else 'holes'}")
    took(started, verbose)
    return 0


def _records(name: str) -> list[tuple[str, Hole]]:
    """Return (file name, hole) of a hole file, or of each hole of a course file."""
    from simcaddie.course.record import Course
    from simcaddie.files import check_file, find_hole
    from simcaddie.ground.hole import Hole

    path = find_hole(name)
    record = check_file(path)
    if isinstance(record, Course):
        return list(zip(record.files, record.holes, strict=True))
    if not isinstance(record, Hole):
        raise BadRequest(f"{name} is a player file; expected hole files or a course file")
    return [(path.name, record)]


def _numbered(found: list[tuple[str, Hole]]) -> dict[str, Hole]:
    """Return holes by number: those that all file names have (hole-07.yaml), else in the order given."""
    names = [re.fullmatch(r"hole-([a-z0-9][a-z0-9-]*)", Path(file).stem) for file, _ in found]
    refs = [re.sub(r"^0+(?=\d)", "", name[1]) for name in names if name]
    if len(set(refs)) < len(found):
        refs = [str(number) for number in range(1, len(found) + 1)]
    return {ref: hole for ref, (_, hole) in zip(refs, found, strict=True)}
