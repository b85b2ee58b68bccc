"""``simcaddie import-map``, hole files from a map of a course, and ``export-map``, holes over a photograph."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from simcaddie.base.errors import BadRequest
from simcaddie.console.command import Answer, command
from simcaddie.console.options import DATA, NoChance, Written, hole_numbers, known_units, option

if TYPE_CHECKING:
    from simcaddie.course.hole import Hole

__all__ = ["export_map", "import_map"]


@dataclass(frozen=True, kw_only=True)
class Import(NoChance):
    """What may be said of a map."""

    file: Annotated[Path, typer.Argument(metavar="FILE", help="A map of a course as GeoJSON.")]
    output: Annotated[
        Path | None,
        option("FOLDER", "Where the hole files and course.yaml go.", "--output", "-o"),
        Written(folder=True),
    ] = None
    report_only: Annotated[bool, option("", "Tell what would be made; write nothing.", "--report-only")] = False
    holes: Annotated[str | None, option("LIST", "Only these holes, as 1-9 or 1,3,10-12.")] = None
    course: Annotated[str | None, option("NAME", "Which course, where the map has several.")] = None
    units: Annotated[str, option("yards|metres", "Of the files written.")] = "yards"
    water: Annotated[
        str | None,
        option("red|yellow", "Marking of water that has none on the map; red, as an assumption, by default."),
    ] = None
    order: Annotated[
        str | None, option("lon-lat|lat-lon", "How positions are written; lon-lat by default, and checked.")
    ] = None
    replace: Annotated[
        bool, option("", "Write over hole files that are there; never over a course.yaml.", "--replace")
    ] = False


@command(Import)
def import_map(options: Import) -> Answer:
    """Make hole files from a map of a course (GeoJSON).

    The map has OpenStreetMap's golf tags, or a property `kind` in the words of hole files, and a line from tee to
    green for each hole. Says for each hole what was found, assumed and is missing; what is assumed is marked in the
    files. Look them over: maps are drawn by people.
    """
    from simcaddie.features.open_map.analysis import import_map as read_map
    from simcaddie.features.open_map.analysis import save_map
    from simcaddie.features.open_map.present import present, report_data

    output = None if options.report_only else options.output
    if output is None and not options.report_only:
        raise BadRequest("-o FOLDER says where the files go; --report-only writes none")
    known_units(options.units)
    imported = read_map(
        options.file,
        holes=hole_numbers(options.holes),
        units=options.units,
        water=_choice("--water", options.water or "", ("red", "yellow")),
        course=options.course or "",
        order=_choice("--order", options.order or "", ("lon-lat", "lat-lon")),
    )
    notes, file = [], str(options.file)
    if output is not None and imported.texts:
        said = save_map(imported, output, replace_files=options.replace)
        notes = [f"Written: {len(imported.texts)} files to {output}; `simcaddie draw` shows each.", *said]
    return Answer(
        data=lambda: report_data(imported.draft, file),
        document=lambda: present(imported.draft, file),
        notes=notes,
        code=0 if imported.texts else 2,
    )


def _choice(name: str, value: str, allowed: tuple[str, ...]) -> str:
    """Return a value, '' for none, or refuse it."""
    if value and value not in allowed:
        raise BadRequest(f"{name}: expected {' or '.join(allowed)}, found '{value}'")
    return value


@dataclass(frozen=True, kw_only=True)
class Export(NoChance):
    """What is to be written."""

    holes: Annotated[list[str], typer.Argument(metavar="HOLE", help="Hole files, or a course file for all of its.")]
    output: Annotated[Path, option("FILE", "Where to write the GeoJSON.", "--output", "-o"), DATA] = Path(
        "holes.geojson"
    )


@command(Export)
def export_map(options: Export) -> Answer:
    """Write holes as GeoJSON (WGS 84), for a look over a photograph.

    Any map editor that opens GeoJSON shows it. Moved points and new outlines come back with import-map. Each hole
    file must say where its point [0, 0] lies (`origin`), as those made by import-map do.
    """
    from simcaddie.features.open_map.export import geojson_text
    from simcaddie.io.write import write_text

    holes, file = _numbered([pair for name in options.holes for pair in _records(name)]), options.output
    write_text(file, geojson_text(holes))
    rows = [{"hole": ref, "name": hole.name} for ref, hole in holes.items()]
    return Answer(
        data=lambda: {"schema": "export-map/1", "file": str(file), "holes": rows},
        notes=[f"Written: {file}, {len(holes)} {'hole' if len(holes) == 1 else 'holes'}"],
    )


def _records(name: str) -> list[tuple[str, Hole]]:
    """Return (file name, hole) of a hole file, or of each hole of a course file."""
    from simcaddie.course.course import Course
    from simcaddie.course.hole import Hole
    from simcaddie.io.check import check_file
    from simcaddie.io.find import find_hole

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
