"""Random sound holes (invented), for what must come back from a file or a map."""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely import Polygon

from simcaddie.course.hole import Area, Hole, Landmark, Spot

__all__ = ["furthest_apart", "random_hole"]


def _blob(rng: np.random.Generator, x: float, y: float, size: float) -> Polygon:
    angle = np.linspace(0, 2 * np.pi, int(rng.integers(5, 40)), endpoint=False)
    radius = size * (1 + rng.uniform(-0.25, 0.25, angle.size))
    shell = Polygon(np.column_stack([x + radius * np.cos(angle), y + radius * np.sin(angle)]))
    if rng.random() < 0.3:
        shell = Polygon(shell.exterior, [shell.centroid.buffer(size * 0.3, quad_segs=3).exterior])
    return shell


def _area(rng: np.random.Generator, kind: str) -> Area:
    shape = _blob(rng, rng.uniform(-90, 90), rng.uniform(100, 280), rng.uniform(4, 30))
    trees = kind == "trees"
    return Area(
        kind,
        shape,
        name=str(rng.choice(["", "left one", "Größe: 7", "no"])),
        marking=str(rng.choice(["red", "yellow"])) if kind == "water" else "",
        height=rng.uniform(3, 30) if trees else 0.0,
        density=rng.uniform(0, 1) if trees else 0.0,
    )


def random_hole(seed: int, lon: float, lat: float) -> Hole:
    """Return a hole whose tee, pins and spots stand where they may, anywhere on Earth."""
    rng = np.random.default_rng(seed)
    far = rng.uniform(330, 480)
    kinds = rng.choice(["fairway", "bunker", "water", "trees", "heather", "gorse", "light_rough", "path"], 6)
    green = Area("green", _blob(rng, 10, far, 15), tilt=(rng.uniform(0.5, 4), rng.uniform(-3, 3)))
    pin = green.outline.representative_point()
    line = ((0.0, 0.0), (3.3, far / 2), (10.0, far))
    high = np.column_stack([rng.uniform(-90, 90, (4, 2)), rng.uniform(-30, 900, 4)])
    return Hole(
        name=str(rng.choice(["Random (invented)", "12", "a: b, [c]", "Ö's Loch"])),
        par=int(rng.integers(3, 7)),
        stroke_index=int(rng.integers(1, 19)) if rng.random() < 0.5 else None,
        tees={"white": (0.0, 0.0), "red": (rng.uniform(-9, 9), rng.uniform(20, 50))},
        pins={"middle": (pin.x, pin.y)},
        areas=(*(_area(rng, str(kind)) for kind in kinds), green),
        bearing=rng.uniform(0, 360),
        surround=str(rng.choice(["rough", "light_rough", "heather"])),
        line=line if rng.random() < 0.5 else (),
        boundary=Polygon([(-150, -60), (160, -50), (140, 560), (-130, 540)]) if rng.random() < 0.5 else None,
        heights=high if rng.random() < 0.5 else None,
        landmarks=(Landmark("mast", (rng.uniform(-50, 50), 600.0)),),
        spots={"second": Spot((1.25, 55.5), "rough")},
        local_rules=frozenset(["E-5"]) if rng.random() < 0.3 else frozenset(),
        origin=(lon, lat),
        source="Invented",
        units=str(rng.choice(["yards", "metres"])),
    )


def _places(hole: Hole) -> list[tuple[float, float]]:
    marks = [mark.at for mark in hole.landmarks]
    return [*hole.tees.values(), *hole.pins.values(), *marks, *(s.at for s in hole.spots.values()), *hole.line]


def furthest_apart(one: Hole, other: Hole) -> float:
    """Return how far two holes lie apart where they do most, in yards; what else differs fails."""
    for key in ("name", "par", "stroke_index", "surround", "local_rules", "origin", "source", "units"):
        assert getattr(one, key) == getattr(other, key), key
    assert math.isclose(one.bearing, other.bearing, abs_tol=1e-5)
    assert [*one.tees] == [*other.tees]
    assert {name: spot.lie for name, spot in one.spots.items()} == {name: s.lie for name, s in other.spots.items()}
    assert (one.boundary is None, one.heights is None) == (other.boundary is None, other.heights is None)
    assert len(one.areas) == len(other.areas)
    far = [math.dist(a, b) for a, b in zip(_places(one), _places(other), strict=True)]
    for a, b in zip(one.areas, other.areas, strict=True):
        assert (a.kind, a.name, a.marking, len(a.outline.interiors)) == (
            b.kind, b.name, b.marking, len(b.outline.interiors))  # fmt: skip
        assert np.allclose([a.height, a.density, *(a.tilt or ())], [b.height, b.density, *(b.tilt or ())], atol=1e-3)
        far.append(shapely.hausdorff_distance(a.outline.boundary, b.outline.boundary, densify=0.1))
    if one.boundary is not None:
        far.append(shapely.hausdorff_distance(one.boundary.exterior, other.boundary.exterior, densify=0.1))
    if one.heights is not None:
        far.append(float(np.abs(one.heights - other.heights).max()))
    return max(far)
