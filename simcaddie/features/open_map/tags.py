"""What was read from a map, shapes in degrees with their tags, and what a tag means: OpenStreetMap's and our own."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from simcaddie.base.surfaces import BY_NAME, SURFACES, SYNONYMS, TREES, WATER
from simcaddie.base.units import METRES_PER_YARD

__all__ = ["ROLES", "MapData", "MapFeature", "Meaning", "Tags", "meaning_of", "number_in", "yards_in"]

Tags = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class MapFeature:
    """One thing on a map: its shape in degrees, its tags as text, and what a report calls it.

    ``heights`` is float64[n, 3] of longitude, latitude and metres, for the corners that have a height.
    """

    shape: BaseGeometry
    tags: Tags
    label: str
    heights: NDArray[np.float64] = field(default_factory=lambda: np.empty((0, 3)))


@dataclass(frozen=True, slots=True)
class MapData:
    """All that a map file holds for us; ``source`` says whose map it is and under which licence.

    ``left_out`` counts, by reason, what could not be used.
    """

    features: tuple[MapFeature, ...]
    name: str = ""
    source: str = ""
    source_assumed: bool = False
    left_out: Mapping[str, int] = field(default_factory=dict)


# ─── Meanings ─────────────────────────────────────────────────────────────────────────────────────────────────────────
#
# OpenStreetMap's golf tags are listed under "Key:golf" in its wiki. They tell less than we want to know: a stream has a
# line but often no width, a pond no colour of stakes. What is filled in here says so in ``assumed``, which ends up as a
# comment in the hole file. The property ``kind`` holds our own words and wins over tags.

ROLES: Final = ("hole", "pin", "landmark", "spot", "height", "boundary", "course")


@dataclass(frozen=True, slots=True)
class Meaning:
    """``role`` is "area" or one of ``ROLES``; an area has a ``kind`` of ground, water perhaps a ``marking``.

    ``width`` (yd) is for lines that stand for ground, closed ones too unless ``closed_is_area``; ``assumed`` says what
    the map doesn't tell, ``width_told`` that the width does stand there.
    """

    role: str
    kind: str = ""
    marking: str = ""
    width: float = 0.0
    assumed: str = ""
    closed_is_area: bool = True
    width_told: bool = False


def _area(kind: str, assumed: str = "", metres: float = 0.0, marking: str = "") -> Meaning:
    return Meaning("area", kind, marking, metres / METRES_PER_YARD, assumed)


def _along(kind: str, metres: float) -> Meaning:
    return Meaning("area", kind, width=metres / METRES_PER_YARD, closed_is_area=False)


# Widths in metres of what maps draw as a line: common practice, no source. An area of the same tag needs none.
_RUNNING: Final = {
    "river": 10.0, "canal": 8.0, "stream": 2.0, "brook": 2.0, "tidal_channel": 3.0, "ditch": 1.5, "drain": 1.5
}  # fmt: skip
_TAGS: Final[dict[tuple[str, str], Meaning]] = {
    ("golf", "hole"): Meaning("hole", closed_is_area=False),
    ("golf", "pin"): Meaning("pin"),
    ("golf", "water_hazard"): _area(WATER, "", 2.0, "yellow"),
    ("golf", "lateral_water_hazard"): _area(WATER, "", 2.0, "red"),
    ("leisure", "golf_course"): Meaning("course"),
    ("waterway", "riverbank"): _area(WATER, "", 10.0),
    ("natural", "water"): _area(WATER, "", 2.0),
    ("natural", "tree_row"): _along(TREES, 8.0),
    ("natural", "scrub"): _area("gorse", "the map says scrub, played as gorse"),
    ("natural", "heath"): _area("heather", "the map says heath, played as heather"),
    ("landuse", "grass"): _area("light_rough", "the map says grass and no more, played as light rough"),
    **{("waterway", value): _along(WATER, metres) for value, metres in _RUNNING.items()},
    **{(tag.split("=")[0], tag.split("=")[1]): _area(kind.name) for kind in SURFACES for tag in kind.tags},
}
_KEYS: Final = tuple(dict.fromkeys(key for key, _ in _TAGS))  # the first that means something wins
_UNDERGROUND: Final = ("yes", "culvert", "building_passage", "covered", "flooded")
_NUMBER: Final = re.compile(r"\s*(-?\d+(?:\.\d+)?)\s*([^\d\s;]*)")
_METRES: Final = {
    **dict.fromkeys(("", "m", "metre", "metres", "meter", "meters"), 1.0),
    **dict.fromkeys(("yd", "yard", "yards"), METRES_PER_YARD),
    **{"km": 1000.0, "ft": 0.3048, "'": 0.3048},
}


def number_in(text: str | None) -> float | None:
    """Return the number that a tag begins with, or None.

    >>> number_in("4"), number_in("4;5"), number_in("four"), number_in(None)
    (4.0, 4.0, None, None)
    """
    found = _NUMBER.match(text or "")
    return float(found[1]) if found else None


def yards_in(text: str | None) -> float | None:
    """Return a length tag in yards: metres unless it says otherwise, as OpenStreetMap has it; None for no length.

    >>> yards_in("3.6576"), yards_in("12 ft"), yards_in("wide")
    (4.0, 4.0, None)
    """
    found = _NUMBER.match(text or "")
    if not found or found[2].lower() not in _METRES:
        return None
    return round(float(found[1]) * _METRES[found[2].lower()] / METRES_PER_YARD, 9)


def _ours(word: str) -> Meaning | None:
    """Return what one of our own words means."""
    name = word.strip().lower()
    name = SYNONYMS.get(name, name.replace(" ", "_").replace("-", "_"))
    if name in ROLES:
        return Meaning(name, closed_is_area=name != "hole")
    return _area(name, metres=BY_NAME[name].width) if name in BY_NAME else None


def meaning_of(tags: Tags) -> Meaning | None:
    """Return what a feature is, or None where it is nothing to us.

    Water under the ground is nothing to us. ``marking`` and ``width`` among the tags are taken over.
    """
    found = _ours(tags["kind"]) if "kind" in tags else None
    for key in _KEYS:
        if found is None and key in tags:
            found = _TAGS.get((key, tags[key]))
    if found is None or (found.kind == WATER and tags.get("tunnel") in _UNDERGROUND):
        return None
    if found.kind == WATER and tags.get("marking") in ("red", "yellow"):
        found = replace(found, marking=tags["marking"])
    width = yards_in(tags.get("width"))
    if width is not None and 0.0 < width < 500.0:
        found = replace(found, width=width, width_told=True)
    return found
