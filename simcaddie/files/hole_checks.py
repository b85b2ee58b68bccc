"""What a hole must be as a whole: outlines that can be drawn, a green under every pin, tees on dry ground.

The checks work on whatever parts of the file are sound by themselves, so that one run tells every fault.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Final, TypeVar

import shapely
from numpy.typing import NDArray
from pydantic import TypeAdapter, ValidationError
from shapely import Polygon

from simcaddie.errors import Fault
from simcaddie.files.hole_model import SURROUNDS, SYNONYMS, AreaFile, Ring, SpotFile
from simcaddie.files.nodes import Document, Location
from simcaddie.files.told import fault, near
from simcaddie.files.words import Point
from simcaddie.ground.outlines import distinct_ring, smooth_ring
from simcaddie.surfaces import BY_NAME, NAMES, code

__all__ = ["Drawing", "check_hole", "draw"]

MIN_AREA: Final = 0.01  # square units; less is no ground
NO_TEE: Final = ("water", "out_of_bounds", "bunker", "green", "gorse", "trees")

T = TypeVar("T")
_AREA: Final[TypeAdapter[AreaFile]] = TypeAdapter(AreaFile)
_RING: Final[TypeAdapter[list[tuple[float, float]]]] = TypeAdapter(Ring)
_POINT: Final[TypeAdapter[tuple[float, float]]] = TypeAdapter(Point)
_SPOT: Final[TypeAdapter[SpotFile]] = TypeAdapter(SpotFile)


@dataclass(slots=True)
class Drawing:
    """The sound parts of a hole file, drawn out, in its units; ``unsure`` names kinds that may be missing."""

    surround: str = "rough"
    areas: dict[int, tuple[AreaFile, Polygon]] = field(default_factory=dict)
    boundary: Polygon | None = None
    unsure: set[str] = field(default_factory=set)
    faults: list[Fault] = field(default_factory=list)

    def ground(self, point: tuple[float, float]) -> tuple[str, str]:
        """Return the kind that lies at a point, and its name or ''."""
        spot = shapely.Point(point)
        if self.boundary is not None and not self.boundary.covers(spot):
            return "out_of_bounds", ""
        here = [area for area, outline in self.areas.values() if outline.covers(spot)]
        best = max(here, key=lambda area: code(area.kind), default=None)
        return (best.kind, best.name or "") if best else (self.surround, "")


def _sound(adapter: TypeAdapter[T], value: Any) -> T | None:
    try:
        return adapter.validate_python(value)
    except ValidationError:
        return None


def _mapping(value: Any) -> Mapping[str, Any]:
    return value if isinstance(value, Mapping) else {}


def _list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else []


def _crossing(ring: NDArray[Any]) -> str:
    """Return where a ring meets itself, or ''."""
    shape = Polygon(ring)
    if shape.is_valid:
        return ""
    _, _, place = shapely.is_valid_reason(shape).partition("[")
    x, y = (float(number) for number in place.rstrip("]").split()) if place else ring[0]
    return f"[{x:.4g}, {y:.4g}]"


def _ring_fault(ring: NDArray[Any]) -> tuple[str, str]:
    """Return what is wrong with a ring of points as (expected, found), else two empty texts."""
    if len(ring) < 3:
        return "at least 3 different points", str(len(ring))
    if shapely.LineString(ring).convex_hull.area < MIN_AREA:
        return "an outline that encloses some ground", "points in one line"
    if place := _crossing(ring):
        return "an outline that doesn't cross or touch itself", f"that it does at {place}"
    return "", ""


def _ring(
    document: Document, drawing: Drawing, location: Location, points: list[tuple[float, float]], smooth: bool
) -> NDArray[Any] | None:
    """Return a drawn ring, or note its fault."""
    ring = distinct_ring(points)
    expected, found = _ring_fault(ring)
    if smooth and not expected:
        ring = smooth_ring(ring)
        if place := _crossing(ring):
            expected = "points that a smooth curve can run through without crossing itself"
            found = f"that it does near {place}"
    if expected:
        drawing.faults.append(fault(document, location, expected, found))
        return None
    return ring


def _polygon(document: Document, drawing: Drawing, location: Location, area: AreaFile) -> Polygon | None:
    shell = _ring(document, drawing, (*location, "outline"), area.outline, area.smooth)
    holes: list[NDArray[Any]] = []
    for number, points in enumerate(area.inner):
        place = (*location, "inner", number)
        ring = _ring(document, drawing, place, points, area.smooth)
        if ring is None or shell is None:
            return None
        if not Polygon(shell, holes).contains_properly(Polygon(ring)):
            expected = "a ring within the outline, apart from other rings"
            drawing.faults.append(fault(document, place, expected, "one that reaches over"))
            return None
        holes.append(ring)
    return None if shell is None else Polygon(shell, holes)


def draw(document: Document) -> Drawing:
    """Return the sound parts of a hole file, with the faults of its outlines."""
    data = _mapping(document.data)
    drawing = Drawing()
    if data.get("surround") in SURROUNDS:
        drawing.surround = data["surround"]
    for number, item in enumerate(_list(data.get("areas"))):
        area = _sound(_AREA, item)
        shape = area and _polygon(document, drawing, ("areas", number), area)
        if area and shape:
            drawing.areas[number] = (area, shape)
        else:
            kind = _mapping(item).get("kind")
            meant = SYNONYMS.get(kind) or near(kind, NAMES) if isinstance(kind, str) else None
            drawing.unsure |= {meant} if meant else set(NAMES)
    boundary = _sound(_RING, data.get("boundary"))
    ring = None if boundary is None else _ring(document, drawing, ("boundary",), boundary, smooth=False)
    drawing.boundary = None if ring is None else Polygon(ring)
    return drawing


def _found(point: tuple[float, float], kind: str, name: str) -> str:
    title = kind.replace("_", " ")
    title = name if title in name else f"{title} ({name})" if name else title
    return f"[{point[0]:g}, {point[1]:g}], which is {'' if kind == 'out_of_bounds' else 'in '}{title}"


def _check_areas(document: Document) -> list[Fault]:
    """Return faults of keys that belong to one kind of area."""
    owners = {"marking": "water", "height": "trees", "density": "trees", "tilt": "green"}
    faults = []
    for number, item in enumerate(_list(_mapping(document.data).get("areas"))):
        kind = _mapping(item).get("kind")
        if not isinstance(kind, str) or kind not in NAMES:
            continue
        if BY_NAME[kind].penalty and item.get("marking") is None:
            expected = "`marking: red` or `marking: yellow` for water"
            faults.append(fault(document, ("areas", number), expected, "none"))
        for key in owners.keys() & _mapping(item).keys():
            if owners[key] != kind:
                expected = f"this key only with `kind: {owners[key]}`"
                faults.append(fault(document, ("areas", number, key), expected, f"`kind: {kind}`"))
    return faults


def _check_pins(document: Document, drawing: Drawing) -> list[Fault]:
    data = _mapping(document.data)
    if "green" in drawing.unsure:
        return []
    if not any(area.kind == "green" for area, _ in drawing.areas.values()):
        there = isinstance(data.get("areas"), list)
        return [fault(document, ("areas",), "an area with `kind: green`", "none")] if there else []
    faults = []
    for name, value in _mapping(data.get("pins")).items():
        point = _sound(_POINT, value)
        if point and (ground := drawing.ground(point))[0] != "green":
            faults.append(fault(document, ("pins", name), "a place on a green", _found(point, *ground)))
    return faults


def _check_tees(document: Document, drawing: Drawing) -> list[Fault]:
    faults = []
    for name, value in _mapping(_mapping(document.data).get("tees")).items():
        point = _sound(_POINT, value)
        if point and (ground := drawing.ground(point))[0] in NO_TEE:
            expected = "ground that a tee can stand on"
            faults.append(fault(document, ("tees", name), expected, _found(point, *ground)))
    return faults


def _check_spots(document: Document, drawing: Drawing) -> list[Fault]:
    faults = []
    for name, value in _mapping(_mapping(document.data).get("spots")).items():
        spot = _sound(_SPOT, value)
        if spot is None:
            continue
        kind, title = drawing.ground(spot.at)
        if kind in ("water", "out_of_bounds"):
            found = _found(spot.at, kind, title)
            faults.append(fault(document, ("spots", name, "at"), "a place to play from", found))
        elif spot.lie and (kind == "green") != (spot.lie == "green") and "green" not in drawing.unsure:
            found = f"'{spot.lie}' on {kind.replace('_', ' ')}"
            expected = "the lie green on a green, and nowhere else"
            faults.append(fault(document, ("spots", name, "lie"), expected, found))
    return faults


def _check_heights(document: Document) -> list[Fault]:
    seen: dict[tuple[float, float], int] = {}
    faults = []
    for number, item in enumerate(_list(_mapping(document.data).get("heights"))):
        point = _sound(_POINT, item[:2]) if isinstance(item, list) else None
        first = seen.setdefault(point, number) if point else number
        if first != number:
            expected, found = "one height for each place", f"the place of no. {first + 1} again"
            faults.append(fault(document, ("heights", number), expected, found))
    return faults


def _check_line(document: Document) -> list[Fault]:
    line = _list(_mapping(document.data).get("line"))
    points = [point for item in line if (point := _sound(_POINT, item))]
    if line and len(points) == len(line) and len(set(points)) < 2:
        return [fault(document, ("line",), "at least 2 different points", str(len(set(points))))]
    return []


def check_hole(document: Document, drawing: Drawing) -> list[Fault]:
    """Return the faults of the hole as a whole, those of its outlines included."""
    return [
        *drawing.faults,
        *_check_areas(document),
        *_check_pins(document, drawing),
        *_check_tees(document, drawing),
        *_check_spots(document, drawing),
        *_check_heights(document),
        *_check_line(document),
    ]
