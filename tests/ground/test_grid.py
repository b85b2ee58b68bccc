"""The area grid: what a cell promises of the ground around it, and a grid from the disk."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from helpers import busy_hole, lane, mirrored_hole
from shapely import Point as GeoPoint

from simcaddie.base import memo as shelf
from simcaddie.base.surfaces import SURFACES
from simcaddie.course.grid import AreaGrid, area_grid
from simcaddie.course.hole import Area, Hole

REACH = 40  # yd around a cell that are looked at


def crowded() -> Hole:
    """Return the busy hole with a pond against the lake and woods of two heights that overlap."""
    pond = Area("water", GeoPoint(-45, 240).buffer(24), marking="yellow")
    wood = Area("trees", GeoPoint(60, 120).buffer(22), height=9.0, density=0.3)
    return replace(busy_hole(), areas=(*busy_hole().areas, pond, wood))


def sure(wrong: np.ndarray, cell: float, iy: int, ix: int) -> float:
    """Return how far the nearest cell that is ``wrong`` lies from the nearest point of a cell, up to ``REACH`` yd."""
    reach = round(REACH / cell)
    top, left = max(iy - reach, 0), max(ix - reach, 0)
    window = wrong[top : iy + reach + 1, left : ix + reach + 1]
    ys, xs = np.nonzero(window)
    gaps = np.hypot(np.maximum(abs(ys + top - iy) - 1, 0), np.maximum(abs(xs + left - ix) - 1, 0)) * cell
    return min(float(gaps.min(initial=REACH)), REACH)


@pytest.mark.parametrize("layer", ["same", "clear", "deep"])
def test_a_cell_promises_no_more_yards_than_are_so_and_few_fewer(layer):
    grid, rng = area_grid(crowded()), np.random.default_rng(4)
    penalty = np.array([kind.penalty for kind in SURFACES])
    numbers = {
        "same": np.where(penalty[grid.surface], 100 + grid.area, grid.surface),  # one lake is not another
        "clear": (grid.canopy >= 0).astype(int),
        "deep": grid.canopy,
    }[layer]
    promised = getattr(grid, layer)
    assert promised.shape == grid.surface.shape
    assert promised.min() >= 1
    where = grid.canopy < 0 if layer == "clear" else np.ones(promised.shape, bool)
    some = rng.permutation(np.argwhere(where))[:1500]
    true = np.array([sure(numbers != numbers[y, x], grid.cell, y, x) for y, x in some])
    said = np.minimum(promised[some[:, 0], some[:, 1]], REACH).astype(float)
    assert (said <= np.maximum(true, 1.0)).all()
    assert (said > true - 4.0).all()
    assert np.mean(said > 1) > 0.3


def test_a_hole_without_trees_has_no_layers_of_trees():
    grid = area_grid(lane())
    assert grid.clear.shape == grid.deep.shape == (1, 1)


def fields(grid: AreaGrid) -> tuple[object, ...]:
    return tuple(getattr(grid, name) for name in grid.__dataclass_fields__)


@pytest.mark.filterwarnings("ignore:what is kept was damaged")
def test_a_grid_from_the_disk_is_the_grid(tmp_path, monkeypatch):
    monkeypatch.setattr(shelf, "shelf", lambda: tmp_path)
    fresh, kept = area_grid(crowded()), area_grid(crowded())
    (entry,) = tmp_path.iterdir()
    for one, other in zip(fields(fresh), fields(kept), strict=True):
        assert np.array_equal(one, other)
        assert np.asarray(one).dtype == np.asarray(other).dtype
    entry.write_bytes(entry.read_bytes()[:100])  # half of it lost: it is made anew
    assert np.array_equal(area_grid(crowded()).same, fresh.same)
    assert np.array_equal(area_grid(crowded()).same, fresh.same)
    assert len(list(tmp_path.iterdir())) == 1


def test_other_ground_is_another_entry(tmp_path, monkeypatch):
    monkeypatch.setattr(shelf, "shelf", lambda: tmp_path)
    hole = crowded()
    area_grid(hole)
    bunker = replace(hole.areas[3], outline=hole.areas[3].outline.buffer(1.0))
    for other in (
        replace(hole, boundary=None),
        replace(hole, surround="light_rough"),
        replace(hole, areas=(*hole.areas[:3], bunker, *hole.areas[4:])),
        mirrored_hole(hole),
    ):
        before = len(list(tmp_path.iterdir()))
        area_grid(other)
        assert len(list(tmp_path.iterdir())) == before + 1
    area_grid(replace(hole, name="Other (invented)", par=5))  # none of the ground's business
    assert len(list(tmp_path.iterdir())) == before + 1


def test_a_mirrored_hole_has_a_mirrored_grid():
    one, other = area_grid(crowded()), area_grid(mirrored_hole(crowded()))
    assert other.x0 == -(one.x0 + one.surface.shape[1] * one.cell)
    for name in ("surface", "area", "canopy", "same", "clear", "deep"):
        assert np.array_equal(getattr(other, name), getattr(one, name)[:, ::-1]), name
