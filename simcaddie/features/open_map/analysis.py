"""A map file to hole files and a course file: their texts, each read back before it is handed on."""

from __future__ import annotations

import math
import os
from collections.abc import Collection
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np
import shapely
from shapely import Polygon

from simcaddie.base.errors import BadFile, BadRequest, Fault
from simcaddie.base.surfaces import GREEN
from simcaddie.base.units import YARDS_PER
from simcaddie.course.course import CourseTee
from simcaddie.features.open_map.areas import Wishes
from simcaddie.features.open_map.draft import HoleDraft
from simcaddie.features.open_map.geojson import read_geojson
from simcaddie.features.open_map.tags import MapData, meaning_of
from simcaddie.features.open_map.whole import MapDraft, draft_map
from simcaddie.io.course import course_text
from simcaddie.io.hole import hole_of
from simcaddie.io.hole_writer import hole_text
from simcaddie.io.write import write_all
from simcaddie.io.yaml_reader import PathLike, parse, shown

__all__ = ["ImportedMap", "import_map", "save_map"]

COURSE_NAME: Final = "course.yaml"
A_THOUSAND_TO_ONE: Final = 6.9  # natural logarithm
ODBL: Final = (
    "OpenStreetMap's data are under the Open Database Licence: name the source wherever you show this file or what is "
    "drawn from it, and pass on what you make of the data under the same licence."
)


@dataclass(frozen=True, slots=True)
class ImportedMap:
    """The texts of the files that a map gives, by name, and the draft that tells how they came about."""

    texts: dict[str, str]
    draft: MapDraft


def import_map(
    path: PathLike,
    *,
    holes: Collection[int] | None = None,
    units: str = "yards",
    water: str = "",
    course: str = "",
    order: str = "",
) -> ImportedMap:
    """Return the hole files and the course file that a map gives; nothing is written.

    Parameters
    ----------
    path : a GeoJSON file
    holes : only holes with these numbers; None for all
    units : "yards" or "metres", of the files written
    water : "red" or "yellow", for water whose marking the map doesn't have; '' for red, marked as assumed
    course : the course's name, where the map has several
    order : "lon-lat" or "lat-lon", how positions are written; '' for the former, unless that can't be right

    Raises
    ------
    BadFile
        Where the file isn't a map that can be read, or longitude and latitude seem changed over.
    BadRequest
        Where the map has several courses, or none of the holes asked for.

    """
    file = shown(os.fsdecode(path), 200)
    data = read_geojson(path, swap=order == "lat-lon")
    if not data.features:
        found = "none" + "".join(f"; {what} ({count})" for what, count in data.left_out.items())
        expected = "features tagged as golf is on OpenStreetMap (golf=hole, golf=green …) or with a `kind`"
        raise BadFile([Fault(file, 0, "", expected, shown(found, 200))])
    if not order and log_odds_swapped(data) > A_THOUSAND_TO_ONE:
        lon, lat = data.features[0].shape.representative_point().coords[0]
        found = (
            f"[{lon:.4f}, {lat:.4f}]: greens and bunkers are stretched there as if latitude came first; "
            "`--order lat-lon` reads it so, `--order lon-lat` as it stands"
        )
        raise BadFile([Fault(file, 0, "", "longitude first, then latitude", found)])
    draft = draft_map(data, Wishes(water, units, 0.1 * YARDS_PER[units]), holes, course)
    texts = {f"{hole.stem}.yaml": text for hole in draft.holes if (text := _text(hole, draft, file))}
    if texts:
        texts[COURSE_NAME] = _course(draft, file)
    return ImportedMap(texts, draft)


def _head(draft: MapDraft, file: str, what: str) -> list[str]:
    lines = [f"{what} from {shown(Path(file).name, 100)} by `simcaddie import-map`: look it over."]
    return [*lines, ODBL] if "openstreetmap" in draft.source.lower() else lines


def _text(hole: HoleDraft, draft: MapDraft, file: str) -> str:
    """Return a hole's text, and note what is wrong with it where it can't be read back: then it isn't made."""
    if hole.hole is None:
        return ""
    record = replace(hole.hole, source=hole.hole.source or draft.source)
    head = _head(draft, file, "Drawn")
    if hole.assumed:
        head.append("What the map doesn't tell is marked `assumed`.")
    if hole.missing:
        head.append(f"Missing: {', '.join(hole.missing)}.")
    if draft.source_assumed:
        hole.remarks.setdefault("source", "assumed: the map doesn't say")
    text = hole_text(record, head=head, remarks=hole.remarks, area_remarks=hole.area_remarks, decimals=hole.decimals)
    try:
        hole_of(parse(text, f"{hole.stem}.yaml"))
    except BadFile as error:
        hole.hole = None
        hole.missing += [f"{one.expected} ({one.where}: found {one.found})" for one in error.faults]
        return ""
    return text


def _on_the_card(name: str, course: str) -> str:
    """Return a hole's name without the course's, which its file has where the map doesn't name the hole.

    >>> _on_the_card("Rushy Links, hole 4", "Rushy Links"), _on_the_card("Long Elbow", "Rushy Links")
    ('Hole 4', 'Long Elbow')
    """
    own = name.removeprefix(f"{course}, ")
    return own[:1].upper() + own[1:]


def _course(draft: MapDraft, file: str) -> str:
    made = [hole for hole in draft.holes if hole.hole is not None]
    records = [hole.hole for hole in made if hole.hole is not None]
    tees = [name for name in records[0].tees if all(name in record.tees for record in records)]
    return course_text(
        draft.name or "Course",
        [f"{hole.stem}.yaml" for hole in made],
        dict.fromkeys(tees, CourseTee()),
        source=draft.source,
        units=records[0].units,
        card=[replace(record, name=_on_the_card(record.name, draft.name)) for record in records],
        head=_head(draft, file, "Made"),
        remarks={
            "card": "from the scorecard: fill in what is empty, put right what isn't; it goes before the hole files",
            "tees": "course_rating and slope are on the card: {par: 72, course_rating: 71.4, slope: 128}",
        },
    )


def save_map(imported: ImportedMap, folder: PathLike, *, replace_files: bool = False) -> list[str]:
    """Write the files of a map into a folder, all or none, and return what there is to say about it.

    A course file that is already there is never touched: it may hold ratings that the map has not.

    Raises
    ------
    BadRequest
        Where hole files are already there and ``replace_files`` is false, or nothing can be written.

    """
    target = Path(os.fsdecode(folder))
    texts = dict(imported.texts)
    there = sorted(name for name in texts if name != COURSE_NAME and (target / name).exists())
    if there and not replace_files:
        some = ", ".join(there[:4]) + (" …" if len(there) > 4 else "")
        raise BadRequest(f"{shown(str(target), 200)} already has {some}; --replace writes over hole files")
    said = []
    if (target / COURSE_NAME).exists():
        kept = (target / COURSE_NAME).read_text("utf-8", errors="replace")
        absent = [name for name in texts if name != COURSE_NAME and name not in kept]
        del texts[COURSE_NAME]
        add = f"; add to its holes: {', '.join(absent)}" if absent else ""
        said.append(f"{target / COURSE_NAME} is left as it was{add}")
    write_all(target, texts)
    return said


# ─── Whether longitude and latitude were changed over ─────────────────────────────────────────────────────────────────
#
# Read the wrong way round, a course may still lie somewhere on Earth, but its shapes are stretched: a step to the east
# counts too much or too little. Greens and bunkers lie every way about, so that on average over a course they are as
# wide from east to west as from south to north. With rᵢ the logarithm of width over height of outline i, taken as
# normal with mean 0 and sd 0.4 (0.33 and 0.36 on the two open maps that the tests may use), the two readings are told
# apart by
#
#     ln (likelihood changed over / as written) = n (r̄² − r̄′²) / (2 · 0.4²)
#
# Where that says a thousand to one, it is told. Near the equator and the zeroth meridian shapes tell nothing.

SPREAD: Final = 0.4
LIMIT: Final = 89.9  # degrees; what is more is no latitude of a course


def log_odds_swapped(data: MapData) -> float:
    """Return the natural logarithm of the odds that latitude was written first, from the greens and bunkers."""
    places, spreads = [], []
    for feature in data.features:
        meaning = meaning_of(feature.tags)
        if meaning is not None and meaning.kind in (GREEN, "bunker"):
            for part in shapely.get_parts(feature.shape):
                if isinstance(part, Polygon) and (spread := _spread(part)) is not None:
                    places.append((part.centroid.x, part.centroid.y))
                    spreads.append(spread)
    if not places or np.abs(places).max() > LIMIT:  # such a longitude can't be a latitude
        return 0.0
    lon, lat = np.radians(places).T
    as_written = float(np.mean(spreads + np.log(np.cos(lat))))
    other = float(np.mean(np.log(np.cos(lon)) - spreads))
    return len(spreads) * (as_written**2 - other**2) / (2.0 * SPREAD**2)


def _spread(polygon: Polygon) -> float | None:
    """Return ln(width / height) of an outline in degrees, from the spread of points along it."""
    outline = polygon.exterior
    if outline.length == 0.0:
        return None
    points = shapely.get_coordinates(shapely.line_interpolate_point(outline, np.linspace(0, 1, 64), normalized=True))
    width, height = points.std(axis=0)
    return math.log(width / height) if width > 0.0 and height > 0.0 else None
