"""A hole file to a hole record: lengths to yards, smooth outlines drawn out, what is left out filled in."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
import shapely
from shapely import Polygon

from simcaddie.files.hole_checks import Drawing, check_hole, draw
from simcaddie.files.hole_model import AreaFile, HoleFile
from simcaddie.files.nodes import Document, PathLike, load
from simcaddie.files.told import fault, raise_faults, validated
from simcaddie.ground.hole import TREE_DENSITY, TREE_HEIGHT, Area, Hole, Landmark, Spot
from simcaddie.units import YARDS_PER

__all__ = ["hole_of", "read_hole"]


def read_hole(path: PathLike) -> Hole:
    """Return the hole of a hole file, in yards.

    Raises
    ------
    BadFile
        With every fault of the file, each with its line.

    """
    return hole_of(load(path))


def hole_of(document: Document) -> Hole:
    """Return the hole that a document describes; see ``read_hole``."""
    if not isinstance(document.data, dict):
        raise_faults([fault(document, (), "a hole: lines of `key: value`")])
    model, faults = validated(document, HoleFile)
    drawing = draw(document)
    faults += check_hole(document, drawing)
    raise_faults(faults)
    if model is None:  # unreachable: it had faults
        raise TypeError("a file without faults must give a model")
    return _record(model, drawing)


def _scaled(shape: Polygon, scale: float) -> Polygon:
    return shape if scale == 1.0 else shapely.transform(shape, lambda xy: xy * scale)


def _area(area: AreaFile, shape: Polygon, scale: float) -> Area:
    trees = area.kind == "trees"
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


def _record(model: HoleFile, drawing: Drawing) -> Hole:
    scale = YARDS_PER[model.units]

    def at(point: Iterable[float]) -> tuple[float, float]:
        x, y = point
        return x * scale, y * scale

    spots = {
        name: Spot(at(spot.at), spot.lie or drawing.ground(spot.at)[0]) for name, spot in model.spots.items()
    }
    return Hole(
        name=model.name,
        par=model.par,
        tees={name: at(point) for name, point in model.tees.items()},
        pins={name: at(point) for name, point in model.pins.items()},
        areas=tuple(_area(*drawing.areas[number], scale) for number in range(len(model.areas))),
        stroke_index=model.stroke_index,
        bearing=model.bearing % 360.0,
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
