"""Shares of surfaces: the area grid, and balls drawn through the kernel, against the exact integral.

The exact share of a bivariate normal inside a polygon is summed from Owen's T
(``reference/normal_polygon.py``), which is first checked itself against closed forms. A cell has the kind
at its centre, so a straight edge may lie half a cell from where it is drawn: on average over a lopsided
outline this cancels, for a box off the cells' edges it does not. The bound of 0.003 is for drawn outlines
and for patterns as wide as full swings make them.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
import shapely
from helpers import box
from hypothesis import given, settings
from hypothesis import strategies as st
from reference.normal_polygon import normal_in_polygon
from scipy.stats import multivariate_normal, ncx2, norm
from shapely import Point as GeoPoint
from shapely import Polygon

from simcaddie.base.streams import kernel_key
from simcaddie.base.surfaces import code, default_lies, default_touch
from simcaddie.course.distances import visible
from simcaddie.course.grid import area_grid
from simcaddie.course.hole import Area, Hole
from simcaddie.model.build import pack
from simcaddie.model.heuristics import guess_to_go
from simcaddie.player.defaults import make_swing
from simcaddie.player.swing import Club, Player
from simcaddie.simulate import first_strokes

WITHIN = 0.003


def covariance(sd_x: float, sd_y: float, rho: float) -> np.ndarray:
    return np.array([[sd_x**2, rho * sd_x * sd_y], [rho * sd_x * sd_y, sd_y**2]])


# ── the reference itself ──────────────────────────────────────────────────────────────────────────


def test_reference_rectangle():
    # Arithmetic: a product of two differences of Φ; 0.4314060772 worked out elsewhere.
    found = normal_in_polygon(box(-10, -5, 10, 5), (3, -2), covariance(8, 6, 0))
    assert found == pytest.approx(0.4314060772, abs=1e-10)
    assert found == pytest.approx(
        np.diff(norm.cdf([-10, 10], 3, 8))[0] * np.diff(norm.cdf([-5, 5], -2, 6))[0], abs=1e-14
    )


def test_reference_triangle():
    assert normal_in_polygon(Polygon([(0, 0), (1, 0), (0, 1)]), (0, 0), np.eye(2)) == pytest.approx(
        0.0677300307, abs=1e-10
    )


@pytest.mark.parametrize("rho", [-0.9, -0.3, 0.0, 0.5, 0.95])
def test_reference_quadrant(rho):
    """W. F. Sheppard (1899): a quadrant holds ¼ + asin ρ / 2π."""
    found = normal_in_polygon(box(0, 0, 60, 60), (0, 0), covariance(1, 1, rho))
    assert found == pytest.approx(0.25 + math.asin(rho) / (2 * math.pi), abs=1e-12)


@settings(deadline=None)
@given(st.floats(-0.9, 0.9), st.floats(-12, 12), st.floats(-12, 12))
def test_reference_rectangle_with_correlation(rho, x, y):
    """Against scipy's own bivariate normal (A. Genz, Statistics and Computing 14, 2004)."""
    normal = multivariate_normal((x, y), covariance(8, 6, rho))
    wanted = normal.cdf((10, 5), lower_limit=(-10, -5))
    assert normal_in_polygon(box(-10, -5, 10, 5), (x, y), covariance(8, 6, rho)) == pytest.approx(
        wanted, abs=1e-6
    )


@pytest.mark.parametrize(("radius", "offset"), [(10, 0), (10, 7), (5, 15), (25, 12)])
def test_reference_offset_circle(radius, offset):
    """Noncentral χ² with two degrees of freedom; centred it is 1 − exp(−r²/2σ²)."""
    circle = GeoPoint(offset, 0).buffer(radius, quad_segs=4000)
    wanted = (
        ncx2.cdf((radius / 8) ** 2, 2, (offset / 8) ** 2)
        if offset
        else 1 - math.exp(-((radius / 8) ** 2) / 2)
    )
    assert normal_in_polygon(circle, (0, 0), covariance(8, 8, 0)) == pytest.approx(wanted, abs=1e-6)


def test_reference_leaves_holes_out_and_adds_up():
    ring = Polygon(box(-20, -20, 20, 20).exterior, [box(-5, -5, 5, 5).exterior])
    parts = [
        normal_in_polygon(shape, (2, 3), covariance(9, 7, 0.4))
        for shape in (ring, box(-5, -5, 5, 5), box(-20, -20, 20, 20))
    ]
    assert parts[0] + parts[1] == pytest.approx(parts[2], abs=1e-14)


# ── the grid, by deterministic quadrature ─────────────────────────────────────────────────────────

GREEN = Area("green", GeoPoint(0, 330).buffer(12))


def hole_with(*areas: Area) -> Hole:
    return Hole("Shares (invented)", 4, {"t": (0.0, 0.0)}, {"p": (0.0, 330.0)}, (*areas, GREEN))


def grid_share(hole: Hole, kind: str, mean: tuple[float, float], cov: np.ndarray) -> float:
    """Return the normal's mass over the cells of a kind: density at the centre × the cell's area."""
    grid = area_grid(hole)
    iy, ix = np.nonzero(grid.surface == code(kind))
    x = grid.x0 + (ix + 0.5) * grid.cell
    y = grid.y0 + (iy + 0.5) * grid.cell
    return float(multivariate_normal(mean, cov).pdf(np.column_stack([x, y])).sum() * grid.cell**2)


def drawn(seed: int, size: float) -> Polygon:
    """Return a smooth lopsided outline of about ``size`` yards across at (0, 200)."""
    rng = np.random.default_rng(seed)
    angle = np.linspace(0, 2 * np.pi, 240, endpoint=False)
    radius = 1 + sum(
        rng.uniform(-0.25, 0.25) / k * np.cos(k * angle + rng.uniform(0, 6.3)) for k in range(1, 6)
    )
    x, y = rng.uniform(-3, 3, 2)
    return Polygon(
        np.column_stack([x + size * radius * np.cos(angle), 200 + y + 0.7 * size * radius * np.sin(angle)])
    )


@pytest.mark.parametrize("seed", range(40))
def test_grid_shares_of_drawn_outlines(seed):
    rng = np.random.default_rng(1000 + seed)
    outline = drawn(seed, rng.uniform(5, 25))
    mean = (rng.uniform(-12, 12), 200 + rng.uniform(-12, 12))
    cov = covariance(rng.uniform(8, 20), rng.uniform(7, 18), rng.uniform(-0.6, 0.6))
    exact = normal_in_polygon(outline, mean, cov)
    assert grid_share(hole_with(Area("bunker", outline)), "bunker", mean, cov) == pytest.approx(
        exact, abs=WITHIN
    )


def test_grid_shares_of_a_rectangle_on_the_cells_are_the_closed_form():
    cov = covariance(8, 6, 0)
    exact = np.diff(norm.cdf([-10, 10], 3, 8))[0] * np.diff(norm.cdf([195, 205], 198, 6))[0]
    found = grid_share(hole_with(Area("bunker", box(-10, 195, 10, 205))), "bunker", (3, 198), cov)
    assert found == pytest.approx(exact, abs=2e-4)


@pytest.mark.parametrize(("radius", "offset"), [(6.3, 0.0), (9.0, 7.7), (7.2, 15.1), (25.4, 12.9)])
def test_grid_shares_of_a_circle(radius, offset):
    exact = ncx2.cdf((radius / 8) ** 2, 2, max(offset, 1e-9) ** 2 / 64)
    hole = hole_with(Area("bunker", GeoPoint(0.3, 200.2).buffer(radius, quad_segs=64)))
    assert grid_share(hole, "bunker", (0.3 + offset, 200.2), covariance(8, 8, 0)) == pytest.approx(
        exact, abs=WITHIN
    )


def layered() -> Hole:
    """Return a hole where areas of every rank overlap."""
    return hole_with(
        Area("fairway", drawn(1, 34)),
        Area("light_rough", drawn(2, 42)),
        Area("heather", drawn(3, 16)),
        Area("bunker", drawn(4, 12)),
        Area("water", drawn(5, 14), marking="red"),
        Area("bunker", drawn(6, 7)),
        Area("gorse", drawn(7, 10)),
    )


def exact_shares(hole: Hole, mean: tuple[float, float], cov: np.ndarray) -> dict[str, float]:
    shares: dict[str, float] = {}
    for number, area in enumerate(hole.areas):
        for piece in shapely.get_parts(visible(hole, number)):
            if piece.geom_type == "Polygon":
                shares[area.kind] = shares.get(area.kind, 0.0) + normal_in_polygon(piece, mean, cov)
    return shares


@pytest.mark.parametrize("mean", [(0.0, 200.0), (12.0, 190.0), (-9.0, 212.0)])
def test_grid_shares_where_areas_overlap(mean):
    cov = covariance(11, 9, -0.3)
    exact = exact_shares(layered(), mean, cov)
    assert sum(share > 0.02 for share in exact.values()) >= 3
    for kind, share in exact.items():
        assert grid_share(layered(), kind, mean, cov) == pytest.approx(share, abs=WITHIN), kind


# ── balls drawn through the kernel ────────────────────────────────────────────────────────────────

N = 1_000_000  # a share's standard error is 0.0005 at most


@cache
def pure(carry: float, carry_sd: float, side: float, side_sd: float, rho: float) -> Player:
    """Return an invented player who never mishits and whose ball stops where it lands."""
    swing = make_swing(
        "6 iron",
        "full",
        carry,
        loft=29.5,
        carry_sd=carry_sd,
        side=side,
        side_sd=side_sd,
        correlation=rho,
        run=0.0,
        run_sd=0.0,
        fat=0.0,
        thin=0.0,
        source="course",
    )
    return Player(
        "pure (invented)", (Club("6 iron", 29.5, (swing,)),), lies=default_lies(), touch=default_touch()
    )


def drawn_shares(hole: Hole, player: Player, bearing: float, seed: int) -> dict[str, float]:
    table = pack(hole, player, hole.place(), hole.pin())
    rest = first_strokes(
        table, guess_to_go(table), (0.0, 0.0, code("tee")), 0, bearing, kernel_key(seed), N
    )
    return {area.kind: float(np.mean(rest.finish == code(area.kind))) for area in hole.areas}


@pytest.mark.parametrize(
    ("carry", "side", "rho", "bearing"),
    [(200.0, 0.0, -0.3, 0.0), (195.0, 6.0, 0.5, 0.04), (205.0, -8.0, 0.0, -0.06)],
)
def test_drawn_balls_find_each_surface_with_its_exact_share(carry, side, rho, bearing):
    hole = layered()
    sin, cos = math.sin(bearing), math.cos(bearing)
    turn = np.array([[cos, sin], [-sin, cos]])  # (side, carry) → (x, y)
    mean = turn @ (side, carry)
    cov = turn @ covariance(11, 9, rho) @ turn.T
    exact = exact_shares(hole, tuple(mean), cov)
    found = drawn_shares(hole, pure(carry, 9.0, side, 11.0, rho), bearing, seed=5)
    for kind, share in exact.items():
        assert found[kind] == pytest.approx(share, abs=WITHIN), kind


def test_drawn_balls_find_a_rectangle_with_the_closed_form():
    hole = hole_with(Area("bunker", box(-10, 195, 10, 205)))
    exact = np.diff(norm.cdf([-10, 10], 3, 8))[0] * np.diff(norm.cdf([195, 205], 198, 6))[0]
    error = math.sqrt(exact * (1 - exact) / N)
    # Nothing is lost to the grid here, so only chance is left; mirrored pairs make it no larger than twice.
    assert drawn_shares(hole, pure(198.0, 6.0, 3.0, 8.0, 0.0), 0.0, 6)["bunker"] == pytest.approx(
        exact, abs=5 * error
    )


def test_drawn_balls_find_an_offset_circle():
    hole = hole_with(Area("bunker", GeoPoint(0, 200).buffer(9, quad_segs=64)))
    exact = ncx2.cdf((9 / 8) ** 2, 2, (7.7 / 8) ** 2)
    assert drawn_shares(hole, pure(200.0, 8.0, 7.7, 8.0, 0.0), 0.0, 7)["bunker"] == pytest.approx(
        exact, abs=WITHIN
    )
