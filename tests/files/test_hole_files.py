"""A sound hole file becomes the hole it describes."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
import shapely
from samples import HOLE

from simcaddie.base.units import METRES_PER_YARD
from simcaddie.course.hole import Hole, Spot
from simcaddie.io.check import check_file
from simcaddie.io.find import demo_files
from simcaddie.io.hole import read_hole


def _read(tmp_path: Path, text: str) -> Hole:
    path = tmp_path / "f.yaml"
    path.write_text(text, "utf-8")
    return read_hole(path)


def test_every_key_arrives(tmp_path):
    hole = _read(tmp_path, HOLE)
    assert (hole.name, hole.par, hole.stroke_index, hole.bearing) == ("Test Hole", 4, 8, 228.0)
    assert hole.tees == {"white": (0, 0), "red": (5, 41)}
    assert list(hole.pins) == ["middle", "back"]
    assert [area.kind for area in hole.areas] == ["fairway", "bunker", "water", "trees", "green"]
    assert [area.title for area in hole.areas] == ["fairway", "left bunker", "pond", "birches", "green"]
    assert [area.marking for area in hole.areas] == ["", "", "red", "", ""]
    assert hole.areas[0].outline.area == pytest.approx(30 * 240)
    assert hole.areas[4].tilt == (2, pytest.approx(math.pi))
    assert hole.boundary is not None
    assert hole.boundary.bounds == (-100, -50, 100, 420)
    assert hole.heights is not None
    assert hole.heights.tolist() == [[0, 0, 11], [0, 205, 5], [0, 360, 8]]
    assert [(mark.name, mark.at) for mark in hole.landmarks] == [("tall mast", (-14, 408))]
    assert hole.spots == {"second": Spot((6, 231), "fairway")}
    assert hole.local_rules == {"E-5"}
    assert hole.origin == (1.5, 52)
    assert hole.surround == "rough"


def test_trees_have_the_default_height_and_density_and_nothing_else_has(tmp_path):
    hole = _read(tmp_path, HOLE)
    assert [(area.height, area.density) for area in hole.areas] == [(0, 0), (0, 0), (0, 0), (12, 0.5), (0, 0)]
    hole = _read(tmp_path, HOLE.replace("name: birches", "height: 9.5, density: 0.8"))
    assert (hole.areas[3].height, hole.areas[3].density) == (9.5, 0.8)


def test_least_file(tmp_path):
    hole = _read(
        tmp_path,
        "name: Bare\npar: 3\ntees: {a: [0, 0]}\npins: {p: [0, 150]}\n"
        "areas:\n  - {kind: green, outline: [[-9, 140], [9, 140], [0, 160]]}\n",
    )
    assert hole.pin() == (0, 150)
    assert (hole.stroke_index, hole.boundary, hole.heights, hole.origin, hole.units) == (
        None, None, None, None, "yards",
    )  # fmt: skip


def test_metres_become_yards(tmp_path):
    yards = _read(tmp_path, HOLE.replace("name: birches", "height: 10"))
    metres = _read(
        tmp_path, HOLE.replace("name: birches", "height: 10").replace("units: yards", "units: metres")
    )
    scale = 1 / METRES_PER_YARD
    assert metres.units == "metres"
    assert metres.tees["red"] == pytest.approx((5 * scale, 41 * scale))
    assert metres.areas[3].height == pytest.approx(10 * scale)
    assert metres.areas[2].outline.area == pytest.approx(yards.areas[2].outline.area * scale**2)
    assert metres.boundary is not None
    assert metres.boundary.bounds[3] == pytest.approx(420 * scale)
    assert metres.heights is not None
    assert metres.heights[1].tolist() == pytest.approx([0, 205 * scale, 5 * scale])
    assert metres.landmarks[0].at == pytest.approx((-14 * scale, 408 * scale))
    assert metres.spots["second"].at == pytest.approx((6 * scale, 231 * scale))
    no_height = _read(tmp_path, HOLE.replace("units: yards", "units: metres"))
    assert no_height.areas[3].height == 12.0  # the default is in yards whatever the file's unit


def test_a_spot_without_a_lie_has_that_of_the_ground(tmp_path):
    spots = "{a: {at: [0, 200]}, b: {at: [-20, 205]}, c: {at: [-40, 90]}, d: {at: [0, 360]}}"
    hole = _read(tmp_path, HOLE.replace("{second: {at: [6, 231], lie: fairway}}", spots))
    assert [spot.lie for spot in hole.spots.values()] == ["fairway", "bunker", "rough", "green"]


def test_inner_rings_are_left_out_of_an_area(tmp_path):
    inner = "smooth: true, inner: [[[-8, 150], [8, 150], [8, 170], [-8, 170]]]"
    hole = _read(tmp_path, HOLE.replace("kind: fairway", f"kind: fairway, {inner}"))
    outline = hole.areas[0].outline
    assert len(outline.interiors) == 1
    assert not outline.contains(shapely.Point(0, 160))
    assert outline.contains(shapely.Point(0, 180))


def test_a_closing_point_and_a_byte_order_mark_do_no_harm(tmp_path):
    text = HOLE.replace("[-15, 340]]}", "[-15, 340], [-15, 100]]}")
    closed = _read(tmp_path, "\ufeff" + text)
    assert closed.areas[0].outline.equals(_read(tmp_path, HOLE).areas[0].outline)


def test_names_may_be_words_that_elsewhere_mean_true_or_a_time(tmp_path):
    hole = _read(
        tmp_path, HOLE.replace("Test Hole", "on").replace("white:", "yes:").replace("red: [5", "12:30: [5")
    )
    assert hole.name == "on"
    assert list(hole.tees) == ["yes", "12:30"]


@pytest.mark.parametrize("path", demo_files("holes").values(), ids=lambda path: path.stem)
def test_demo_holes(path):
    hole = read_hole(path)
    assert check_file(path).name == hole.name
    assert all(area.outline.is_valid for area in hole.areas)
    assert hole.green.covers(shapely.Point(hole.pin()))
    assert "invented" in path.read_text("utf-8").lower()
