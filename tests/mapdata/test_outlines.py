"""Outlines for hole files: near the old ones, fewer points, nothing that crosses or touches."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from helpers import box
from hypothesis import example, given
from hypothesis import strategies as st
from shapely import LineString, Polygon

from simcaddie.features.open_map.survey import TOLERANCE, mended, readable, sound, widened

STEPS = (0.1, 0.1 / 0.9144)  # a tenth of a yard, a tenth of a metre in yards


def lobed(seed: int, points: int = 200, inner: bool = False) -> Polygon:
    """Return an invented outline with many points, perhaps with an inner ring."""
    rng = np.random.default_rng(seed)
    angle = np.linspace(0, 2 * np.pi, points, endpoint=False)

    def ring(size: float) -> np.ndarray:
        waves = sum(rng.uniform(-0.3, 0.3) / k * np.cos(k * angle + rng.uniform(0, 6.3)) for k in range(1, 7))
        return (size * (1 + waves))[:, None] * np.column_stack([np.cos(angle), 1.7 * np.sin(angle)])

    shell = Polygon(ring(rng.uniform(4, 60)))
    return shell.difference(Polygon(ring(1.5)).buffer(0)) if inner else shell


@given(st.integers(0, 10_000), st.sampled_from(STEPS), st.booleans())
@example(139, 0.1 / 0.9144, True)  # where the choice of points alone leaves its tolerance
@example(9546, 0.1 / 0.9144, True)
def test_every_outline_stays_within_a_quarter_of_a_yard(seed, step, inner):
    old = lobed(seed, inner=inner)
    new = readable(old, step)
    assert sum(len(shapely.get_coordinates(part)) for part in new) < len(shapely.get_coordinates(old))
    lines = shapely.union_all([part.boundary for part in new])
    assert shapely.hausdorff_distance(old.boundary, lines, densify=0.02) <= TOLERANCE + 1e-9


@given(st.integers(0, 10_000), st.booleans())
def test_what_is_written_is_sound_and_on_whole_steps(seed, inner):
    for part in readable(lobed(seed, 40, inner), 0.1):
        assert sound(part)
        xy = shapely.get_coordinates(part) / 0.1
        assert xy == pytest.approx(np.round(xy), abs=1e-6)


def test_inner_rings_are_kept():
    ring = Polygon(box(0, 0, 40, 40).exterior, [box(10, 10, 20, 20).exterior, box(25, 25, 30, 30).exterior])
    (part,) = readable(ring, 0.1)
    assert len(part.interiors) == 2
    assert part.area == pytest.approx(1600 - 100 - 25)


@pytest.mark.parametrize(
    "inner",
    [
        [(0, 10), (10, 5), (10, 15)],  # a corner on the outer ring
        [(0.02, 10), (10, 5), (10, 15)],  # so near that rounding makes it one
    ],
)
def test_inner_rings_that_touch_are_drawn_in(inner):
    old = Polygon(box(0, 0, 40, 40).exterior, [inner])
    assert old.is_valid
    for part in readable(old, 0.1):
        assert sound(part)
        assert shapely.hausdorff_distance(part.boundary, old.boundary, densify=0.02) <= TOLERANCE


def test_inner_rings_that_touch_each_other_come_apart():
    old = Polygon(box(0, 0, 40, 40).exterior, [[(10, 10), (20, 10), (15, 20)], [(15, 20), (20, 30), (10, 30)]])
    (part,) = readable(old, 0.1)
    assert sound(part)
    assert len(part.interiors) == 2


def test_a_crossing_outline_becomes_what_is_inside_it():
    pieces, crossed = mended(Polygon([(0, 0), (10, 10), (10, 0), (0, 10)]))
    assert crossed
    assert sorted(piece.area for piece in pieces) == pytest.approx([25, 25])
    assert mended(box(0, 0, 1, 1)) == ([box(0, 0, 1, 1)], False)


def test_slivers_are_no_ground():
    assert readable(Polygon([(0, 0), (100, 0), (100, 0.04), (0, 0.04)]), 0.1) == []


def test_a_stream_gets_its_width():
    (straight,) = widened(LineString([(0, 0), (100, 0)]), 3.0)
    assert straight.area == pytest.approx(300)
    (bent,) = widened(LineString([(0, 0), (60, 3), (100, -20), (140, 40)]), 2.0)
    assert bent.area == pytest.approx(2.0 * LineString([(0, 0), (60, 3), (100, -20), (140, 40)]).length, rel=0.01)
    assert bent.is_valid
