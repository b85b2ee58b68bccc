"""What a tag on a map means: the table of OpenStreetMap tags and of our own words.

OpenStreetMap's golf tags are listed under "Key:golf" in its wiki. They tell less than we want to know: a stream has a
line but often no width, a pond no colour of stakes. What is filled in here says so in ``assumed``, which ends up as a
comment in the hole file. The property ``kind`` holds our own words and wins over tags.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Final

from simcaddie.mapdata.features import Tags
from simcaddie.surfaces import NAMES, SYNONYMS
from simcaddie.units import METRES_PER_YARD

__all__ = ["ROLES", "Meaning", "meaning_of", "number_in", "yards_in"]

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
_TAGS: Final[dict[tuple[str, str], Meaning]] = {
    ("golf", "hole"): Meaning("hole", closed_is_area=False),
    ("golf", "pin"): Meaning("pin"),
    ("golf", "tee"): _area("tee"),
    ("golf", "green"): _area("green"),
    ("golf", "fairway"): _area("fairway"),
    ("golf", "bunker"): _area("bunker"),
    ("golf", "rough"): _area("rough"),
    ("golf", "out_of_bounds"): _area("out_of_bounds"),
    ("golf", "water_hazard"): _area("water", "", 2.0, "yellow"),
    ("golf", "lateral_water_hazard"): _area("water", "", 2.0, "red"),
    ("leisure", "golf_course"): Meaning("course"),
    ("waterway", "river"): _along("water", 10.0),
    ("waterway", "canal"): _along("water", 8.0),
    ("waterway", "stream"): _along("water", 2.0),
    ("waterway", "brook"): _along("water", 2.0),
    ("waterway", "tidal_channel"): _along("water", 3.0),
    ("waterway", "ditch"): _along("water", 1.5),
    ("waterway", "drain"): _along("water", 1.5),
    ("waterway", "riverbank"): _area("water", "", 10.0),
    ("natural", "water"): _area("water", "", 2.0),
    ("landuse", "reservoir"): _area("water"),
    ("natural", "wood"): _area("trees"),
    ("landuse", "forest"): _area("trees"),
    ("natural", "tree_row"): _along("trees", 8.0),
    ("natural", "scrub"): _area("gorse", "the map says scrub, played as gorse"),
    ("natural", "heath"): _area("heather", "the map says heath, played as heather"),
    ("landuse", "grass"): _area("light_rough", "the map says grass and no more, played as light rough"),
}
_KEYS: Final = ("golf", "leisure", "waterway", "natural", "landuse")  # the first that means something wins
_OUR_WIDTHS: Final = {"water": 2.0, "path": 2.0, "trees": 8.0}
_UNDERGROUND: Final = ("yes", "culvert", "building_passage", "covered", "flooded")
_NUMBER: Final = re.compile(r"\s*(-?\d+(?:\.\d+)?)\s*([^\d\s;]*)")
_METRES: Final = {"": 1.0, "m": 1.0, "metre": 1.0, "metres": 1.0, "meter": 1.0, "meters": 1.0, "km": 1000.0,
                  "yd": METRES_PER_YARD, "yard": METRES_PER_YARD, "yards": METRES_PER_YARD, "ft": 0.3048, "'": 0.3048}


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
    return _area(name, metres=_OUR_WIDTHS.get(name, 0.0)) if name in NAMES else None


def meaning_of(tags: Tags) -> Meaning | None:
    """Return what a feature is, or None where it is nothing to us.

    Water under the ground is nothing to us. ``marking`` and ``width`` among the tags are taken over.
    """
    found = _ours(tags["kind"]) if "kind" in tags else None
    for key in _KEYS:
        if found is None and key in tags:
            found = _TAGS.get((key, tags[key]))
    if found is None or (found.kind == "water" and tags.get("tunnel") in _UNDERGROUND):
        return None
    if found.kind == "water" and tags.get("marking") in ("red", "yellow"):
        found = replace(found, marking=tags["marking"])
    width = yards_in(tags.get("width"))
    if width is not None and 0.0 < width < 500.0:
        found = replace(found, width=width, width_told=True)
    return found
