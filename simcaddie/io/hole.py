"""Hole files: their keys, what a hole must be as a whole, and the record that they describe, in yards.

What must be true of the whole (outlines that can be drawn, a green under every pin, tees on dry ground) is looked at on
whatever parts of the file are sound by themselves, so that one run tells every fault.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any, Final, Literal, TypeVar

import numpy as np
import shapely
from numpy.typing import NDArray
from pydantic import Field, Strict, TypeAdapter, ValidationError
from shapely import Polygon

from simcaddie.base.errors import Fault
from simcaddie.base.surfaces import BY_NAME, GREEN, GROUND, NAMES, OUT, SURFACES, SYNONYMS, code
from simcaddie.base.units import YARDS_PER
from simcaddie.course.hole import TREE_DENSITY, TREE_HEIGHT, Area, Hole, Landmark, Spot
from simcaddie.course.outlines import distinct_ring, smooth_ring
from simcaddie.io.faults import fault, near, raise_faults, sound, validated
from simcaddie.io.fields import Coordinate, Format, Name, OneOf, Part, Point, Source, Units, Within, told
from simcaddie.io.hole_rules import HERE, LARGEST, MIN_AREA, MOST_GROUND, OWNERS, RULES, THERE
from simcaddie.io.yaml_reader import Document, Location, PathLike, load

__all__ = ["HoleFile", "drawing_of", "hole_of", "read_hole"]

MAX_POINTS: Final = 2000
MAX_AREAS: Final = 2000
LIES: Final = tuple(kind.name for kind in SURFACES if kind.in_play)
SURROUNDS: Final = tuple(kind.name for kind in SURFACES if kind.around)

_EXPECTED: Final = "a hole: lines of `key: value`"

Ring = Annotated[list[Point], Field(max_length=MAX_POINTS, json_schema_extra={"minItems": 3})]
_Height = Annotated[float, Field(ge=-1000, le=1000)]
SpotHeight = Annotated[tuple[Coordinate, Coordinate, _Height], Strict(False), told("a spot height [x, y, height]")]


class TiltFile(Part):
    """One slope of a green."""

    percent: Annotated[float, Within(0, 15)] = Field(description="fall in per cent")
    toward: Annotated[float, Within(-360, 360)] = Field(
        description="where the ground falls to, in degrees clockwise from straight up the hole"
    )


class AreaFile(Part):
    """One outlined piece of ground."""

    kind: Annotated[str, OneOf(NAMES, "a kind of ground", SYNONYMS)] = Field(description="what lies there")
    outline: Ring = Field(description="points [x, y] around it; it need not be closed")
    name: Name | None = Field(None, description="what players call it")
    smooth: bool = Field(False, description="true runs a smooth closed curve through the points")
    inner: list[Ring] = Field([], description="outlines of holes in the area")
    marking: Annotated[Literal["red", "yellow"], OneOf(("red", "yellow"))] | None = Field(
        None, description="water only, and there required: how the penalty area is marked"
    )
    height: Annotated[float, Within(above=0, high=80)] | None = Field(
        None, description=f"trees only: their height; {TREE_HEIGHT:g} yards if left out"
    )
    density: Annotated[float, Within(0, 1)] | None = Field(
        None,
        description=f"trees only: share of balls that 10 metres of them stop; {TREE_DENSITY:g} if left out",
    )
    tilt: TiltFile | None = Field(None, description="greens only: their slope")


class LandmarkFile(Part):
    """A thing to aim at."""

    name: Name
    at: Point


class SpotFile(Part):
    """A named place to ask from."""

    at: Point
    lie: Annotated[str, OneOf(LIES)] | None = Field(None, description="the lie; what is drawn there if left out")


class OriginFile(Part):
    """Where on Earth the point [0, 0] lies."""

    lon: Annotated[float, Within(-180, 180)] = Field(description="degrees east")
    lat: Annotated[float, Within(-90, 90)] = Field(description="degrees north")


class HoleFile(Part):
    """A golf hole: x is to the right, y up the hole, angles clockwise from straight up the hole."""

    format: Format = Field(1, description="of the file")
    name: Name
    par: Annotated[int, Field(ge=3, le=6), told("a whole number from 3 to 6")]
    stroke_index: Annotated[int, Field(ge=1, le=18), told("a whole number from 1 to 18")] | None = None
    units: Units = Field("yards", description="of all lengths in the file")
    bearing: Annotated[float, Within(-360, 360)] | None = Field(
        None, description="compass direction of straight up the hole; a wind from the compass needs it"
    )
    tees: Annotated[dict[Name, Point], Field(min_length=1)] = Field(description="by name, the usual one first")
    pins: Annotated[dict[Name, Point], Field(min_length=1)] = Field(description="by name; `middle` is the usual one")
    surround: Annotated[str, OneOf(SURROUNDS)] = Field(GROUND, description="what lies outside every area")
    areas: Annotated[list[AreaFile], Field(max_length=MAX_AREAS)]
    line: Annotated[list[Point], Field(max_length=50, json_schema_extra={"minItems": 2})] | None = Field(
        None, description="the line of play, from a tee to the green; found from the fairways if left out"
    )
    boundary: Ring | None = Field(None, description="outside it is out of bounds")
    heights: Annotated[list[SpotHeight], Field(max_length=20_000)] | None = Field(
        None, description="spot heights [x, y, height]"
    )
    landmarks: list[LandmarkFile] = Field([], description="things to aim at")
    spots: dict[Name, SpotFile] = Field({}, description="places to ask from, by name")
    local_rules: list[Annotated[str, OneOf(("E-5",))]] = Field([], description="model Local Rules in force")
    origin: OriginFile | None = Field(None, description="where on Earth [0, 0] lies")
    source: Source | None = Field(None, description="where the drawing comes from")


# ─── What a hole must be as a whole ───────────────────────────────────────────────────────────────────────────────────

T = TypeVar("T")
_AREA: Final[TypeAdapter[AreaFile]] = TypeAdapter(AreaFile)
_RING: Final[TypeAdapter[list[tuple[float, float]]]] = TypeAdapter(Ring)
_POINT: Final[TypeAdapter[tuple[float, float]]] = TypeAdapter(Point)
_SPOT: Final[TypeAdapter[SpotFile]] = TypeAdapter(SpotFile)


@dataclass(slots=True)
class _Drawing:
    """The sound parts of a hole file, drawn out, in its units; ``unsure`` names kinds that may be missing."""

    surround: str = GROUND
    areas: dict[int, tuple[AreaFile, Polygon]] = field(default_factory=dict)
    boundary: Polygon | None = None
    unsure: set[str] = field(default_factory=set)
    faults: list[Fault] = field(default_factory=list)

    def ground(self, point: tuple[float, float]) -> tuple[str, str]:
        """Return the kind that lies at a point, and its name or ''."""
        spot = shapely.Point(point)
        if self.boundary is not None and not self.boundary.covers(spot):
            return OUT, ""
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


def _named(document: Document, key: str, adapter: TypeAdapter[T]) -> Iterator[tuple[str, T]]:
    """Yield the sound ones of what a key holds by name."""
    for name, value in _mapping(_mapping(document.data).get(key)).items():
        if (item := _sound(adapter, value)) is not None:
            yield name, item


def _broken(document: Document, location: Location, rule: str, **what: object) -> Fault:
    """Return the fault of a broken rule."""
    expected, found = (text.format(**what) for text in RULES[rule])
    return fault(document, location, expected, found)


def _crossing(ring: NDArray[Any]) -> dict[str, str]:
    """Return where a ring meets itself, or nothing."""
    shape = Polygon(ring)
    if shape.is_valid:
        return {}
    _, _, place = shapely.is_valid_reason(shape).partition("[")
    x, y = (float(number) for number in place.rstrip("]").split()) if place else ring[0]
    return {"x": f"{x:.4g}", "y": f"{y:.4g}"}


def _ring_fault(ring: NDArray[Any]) -> tuple[str, Mapping[str, object]]:
    """Return the rule that a ring of points breaks, '' for none, and what it says there."""
    if len(ring) < 3:
        return "points", {"count": len(ring)}
    if shapely.LineString(ring).convex_hull.area < MIN_AREA:
        return "flat", {}
    place = _crossing(ring)
    return ("crossing" if place else ""), place


def _ring(
    document: Document, drawing: _Drawing, location: Location, points: list[tuple[float, float]], smooth: bool
) -> NDArray[Any] | None:
    """Return a drawn ring, or note its fault."""
    ring = distinct_ring(points)
    rule, what = _ring_fault(ring)
    if smooth and not rule:
        ring = smooth_ring(ring)
        what = _crossing(ring)
        rule = "bent" if what else ""
    if rule:
        drawing.faults.append(_broken(document, location, rule, **what))
        return None
    return ring


def _polygon(document: Document, drawing: _Drawing, location: Location, area: AreaFile) -> Polygon | None:
    shell = _ring(document, drawing, (*location, "outline"), area.outline, area.smooth)
    holes: list[NDArray[Any]] = []
    for number, points in enumerate(area.inner):
        place = (*location, "inner", number)
        ring = _ring(document, drawing, place, points, area.smooth)
        if ring is None or shell is None:
            return None
        if not Polygon(shell, holes).contains_properly(Polygon(ring)):
            drawing.faults.append(_broken(document, place, "inner"))
            return None
        holes.append(ring)
    return None if shell is None else Polygon(shell, holes)


def _draw(document: Document) -> _Drawing:
    """Return the sound parts of a hole file, with the faults of its outlines."""
    data = _mapping(document.data)
    drawing = _Drawing()
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
    title = BY_NAME[kind].title
    title = name if title in name else f"{title} ({name})" if name else title
    return (THERE if BY_NAME[kind].out else HERE).format(x=f"{point[0]:g}", y=f"{point[1]:g}", ground=title)


def _check_areas(document: Document) -> Iterator[Fault]:
    """Yield faults of keys that belong to one kind of area."""
    for number, item in enumerate(_list(_mapping(document.data).get("areas"))):
        kind = _mapping(item).get("kind")
        if not isinstance(kind, str) or kind not in NAMES:
            continue
        if BY_NAME[kind].penalty and item.get("marking") is None:
            yield _broken(document, ("areas", number), "marking", title=BY_NAME[kind].title)
        for key in OWNERS.keys() & _mapping(item).keys():
            if not getattr(BY_NAME[kind], OWNERS[key]):
                yield _broken(document, ("areas", number, key), f"owner {key}", kind=kind)


def _check_pins(document: Document, drawing: _Drawing) -> list[Fault]:
    if GREEN in drawing.unsure:
        return []
    if not any(BY_NAME[area.kind].putting for area, _ in drawing.areas.values()):
        there = isinstance(_mapping(document.data).get("areas"), list)
        return [_broken(document, ("areas",), "greens")] if there else []
    grounds = ((name, at, drawing.ground(at)) for name, at in _named(document, "pins", _POINT))
    off = ((name, _found(at, *ground)) for name, at, ground in grounds if not BY_NAME[ground[0]].putting)
    return [_broken(document, ("pins", name), "pin", place=place) for name, place in off]


def _check_tees(document: Document, drawing: _Drawing) -> list[Fault]:
    grounds = ((name, at, drawing.ground(at)) for name, at in _named(document, "tees", _POINT))
    off = ((name, _found(at, *ground)) for name, at, ground in grounds if not BY_NAME[ground[0]].stands)
    return [_broken(document, ("tees", name), "tee", place=place) for name, place in off]


def _check_spots(document: Document, drawing: _Drawing) -> Iterator[Fault]:
    for name, spot in _named(document, "spots", _SPOT):
        kind, title = drawing.ground(spot.at)
        surface = BY_NAME[kind]
        if not surface.in_play:
            yield _broken(document, ("spots", name, "at"), "spot", place=_found(spot.at, kind, title))
        elif spot.lie and surface.putting != BY_NAME[spot.lie].putting and GREEN not in drawing.unsure:
            yield _broken(document, ("spots", name, "lie"), "lie", lie=spot.lie, title=surface.title)


def _check_heights(document: Document) -> Iterator[Fault]:
    seen: dict[tuple[float, float], int] = {}
    for number, item in enumerate(_list(_mapping(document.data).get("heights"))):
        point = _sound(_POINT, item[:2]) if isinstance(item, list) else None
        first = seen.setdefault(point, number) if point else number
        if first != number:
            yield _broken(document, ("heights", number), "height", first=first + 1)


def _check_line(document: Document) -> list[Fault]:
    line = _list(_mapping(document.data).get("line"))
    points = [point for item in line if (point := _sound(_POINT, item))]
    if line and len(points) == len(line) and len(set(points)) < 2:
        return [_broken(document, ("line",), "line", count=len(set(points)))]
    return []


def _check_size(document: Document, drawing: _Drawing) -> Iterator[Fault]:
    """Yield a fault where so much ground is drawn that working it out would have no end."""
    scale = YARDS_PER.get(str(_mapping(document.data).get("units", "yards")), 1.0)
    drawn: dict[Location, Any] = {("areas", number): shape for number, (_, shape) in drawing.areas.items()}
    if drawing.boundary is not None:
        drawn["boundary",] = drawing.boundary
    places: list[tuple[Location, tuple[float, float]]]
    places = [((key, name), at) for key in ("tees", "pins") for name, at in _named(document, key, _POINT)]
    for place, at in [*places, *((("spots", name), spot.at) for name, spot in _named(document, "spots", _SPOT))]:
        drawn[place] = shapely.Point(at)
    if not places:
        return
    boxes = shapely.bounds([*drawn.values()]) * scale
    wide, tall = boxes[:, 2:].max(axis=0) - boxes[:, :2].min(axis=0)
    if max(wide, tall) > LARGEST:
        middle = np.tile(np.mean([at for _, at in places], axis=0), 2) * scale
        place = [*drawn][int(np.abs(boxes - middle).max(axis=1).argmax())]
        yield _broken(document, place, "size", wide=f"{wide:.0f}", tall=f"{tall:.0f}")
    each = np.prod(boxes[:, 2:] - boxes[:, :2], axis=1)
    if each.sum() > MOST_GROUND:
        yield _broken(document, ("areas",), "span", span=f"{each.sum() / 1e6:.3g}")


def _check(document: Document, drawing: _Drawing) -> list[Fault]:
    """Return the faults of the hole as a whole, those of its outlines included."""
    return [
        *drawing.faults,
        *_check_areas(document),
        *_check_pins(document, drawing),
        *_check_tees(document, drawing),
        *_check_spots(document, drawing),
        *_check_heights(document),
        *_check_line(document),
        *_check_size(document, drawing),
    ]


# ─── The record ───────────────────────────────────────────────────────────────────────────────────────────────────────


def read_hole(path: PathLike) -> Hole:
    """Return the hole of a hole file, in yards.

    Raises
    ------
    BadFile
        With every fault of the file, each with its line.

    """
    return hole_of(load(path))


def drawing_of(document: Document) -> tuple[HoleFile, list[Fault]]:
    """Return a hole file as it is drawn, in its own units, and what is wrong with the whole of it; see ``RULES``.

    Raises
    ------
    BadFile
        With every fault of its parts, each with its line.

    """
    model, faults = validated(document, HoleFile, _EXPECTED)
    raise_faults(faults)
    if model is None:
        raise TypeError("a file without faults must give a model")  # unreachable
    return model, _check(document, _draw(document))


def hole_of(document: Document) -> Hole:
    """Return the hole that a document describes; see ``read_hole``."""
    drawing = _draw(document)
    model = sound(document, HoleFile, _EXPECTED, lambda _: _check(document, drawing))
    return _record(model, drawing)


def _scaled(shape: Polygon, scale: float) -> Polygon:
    return shape if scale == 1.0 else shapely.transform(shape, lambda xy: xy * scale)


def _area(area: AreaFile, shape: Polygon, scale: float) -> Area:
    trees = BY_NAME[area.kind].canopy
    height = TREE_HEIGHT if area.height is None else area.height * scale
    density = TREE_DENSITY if area.density is None else area.density
    return Area(
        kind=area.kind,
        outline=_scaled(shape, scale),
        name=area.name or "",
        marking=area.marking or "",
        height=height if trees else 0.0,
        density=density if trees else 0.0,
        tilt=(area.tilt.percent, math.radians(area.tilt.toward)) if area.tilt else None,
    )


def _record(model: HoleFile, drawing: _Drawing) -> Hole:
    scale = YARDS_PER[model.units]

    def at(point: Iterable[float]) -> tuple[float, float]:
        x, y = point
        return x * scale, y * scale

    spots = {name: Spot(at(spot.at), spot.lie or drawing.ground(spot.at)[0]) for name, spot in model.spots.items()}
    return Hole(
        name=model.name,
        par=model.par,
        tees={name: at(point) for name, point in model.tees.items()},
        pins={name: at(point) for name, point in model.pins.items()},
        areas=tuple(_area(*drawing.areas[number], scale) for number in range(len(model.areas))),
        stroke_index=model.stroke_index,
        bearing=None if model.bearing is None else model.bearing % 360.0,
        surround=model.surround,
        line=tuple(at(point) for point in model.line or ()),
        boundary=_scaled(drawing.boundary, scale) if drawing.boundary else None,
        heights=np.array(model.heights) * scale if model.heights else None,
        landmarks=tuple(Landmark(mark.name, at(mark.at)) for mark in model.landmarks),
        spots=spots,
        local_rules=frozenset(model.local_rules),
        origin=(model.origin.lon, model.origin.lat) if model.origin else None,
        source=model.source or "",
        units=model.units,
    )
