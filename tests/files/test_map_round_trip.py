"""Holes exported to a map and imported again come back."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from random_holes import furthest_apart, random_hole
from shapely.geometry import shape

from simcaddie.base.errors import BadRequest
from simcaddie.course.hole import Hole
from simcaddie.features.open_map.analysis import import_map
from simcaddie.features.open_map.export import geojson_text
from simcaddie.io.hole import hole_of, read_hole
from simcaddie.io.hole_writer import hole_text
from simcaddie.io.yaml_reader import parse

WITHIN = 0.01  # yd
EXAMPLE = Path(__file__).parents[2] / "examples" / "driftwood-bay.geojson"


def there_and_back(holes: dict[str, Hole], folder: Path) -> dict[str, Hole]:
    path = folder / "map.geojson"
    path.write_text(geojson_text(holes), "utf-8")
    units = next(iter(holes.values())).units
    texts = import_map(path, units=units).texts
    return {name: hole_of(parse(text, name)) for name, text in texts.items() if name != "course.yaml"}


@settings(deadline=None, max_examples=60)
@given(st.integers(0, 10**6), st.floats(-180, 180), st.floats(-70, 70))
def test_a_random_hole_anywhere_comes_back(tmp_path_factory, seed, lon, lat):
    hole = random_hole(seed, round(lon, 7), round(lat, 7))
    (back,) = there_and_back({"7": hole}, tmp_path_factory.mktemp("map")).values()
    assert furthest_apart(hole, back) < WITHIN


@pytest.mark.parametrize("lat", [-45.0, 0.0, 68.0])
@pytest.mark.parametrize("seed", range(4))
def test_a_hole_across_the_180th_meridian_comes_back(tmp_path, seed, lat):
    hole = replace(random_hole(seed, 179.9995, lat), bearing=60.0 + seed)  # to the east
    text = geojson_text({"7": hole})
    longitudes = [c[0] for f in json.loads(text)["features"] for c in shapely.get_coordinates(shape(f["geometry"]))]
    assert min(longitudes) < -179 < 179 < max(longitudes)
    (back,) = there_and_back({"7": hole}, tmp_path).values()
    assert furthest_apart(hole, back) < WITHIN


def test_several_holes_come_back_each_with_its_own(tmp_path):
    """They lie on top of each other, so that nearness alone would mix them up."""
    holes = {str(n): random_hole(n, 10.0, 50.0) for n in (1, 2, 3)}
    holes = {ref: replace(hole, units="yards") for ref, hole in holes.items()}
    back = there_and_back(holes, tmp_path)
    assert [*back] == [f"hole-0{ref}.yaml" for ref in holes]
    assert all(furthest_apart(a, b) < WITHIN for a, b in zip(holes.values(), back.values(), strict=True))


def test_import_export_import_gives_the_same_hole(tmp_path):
    first = {str(n): hole_of(parse(text, name)) for n, (name, text) in enumerate(holes_of(EXAMPLE).items(), 1)}
    assert len(first) == 3
    second = there_and_back(first, tmp_path)
    for one, other in zip(first.values(), second.values(), strict=True):
        assert furthest_apart(one, other) < WITHIN


def holes_of(path: Path) -> dict[str, str]:
    return {name: text for name, text in import_map(path).texts.items() if name != "course.yaml"}


def test_smooth_outlines_come_back_as_they_are_drawn(tmp_path):
    path = Path(__file__).parents[2] / "holes" / "curlew-inlet.yaml"
    text = path.read_text("utf-8") + "origin: {lon: -30.5, lat: 44.25}\nsource: Invented\n"
    (tmp_path / "hole.yaml").write_text(text, "utf-8")
    hole = read_hole(tmp_path / "hole.yaml")
    (back,) = there_and_back({"1": hole}, tmp_path).values()
    assert furthest_apart(hole, back) < WITHIN


def test_what_is_exported_is_geojson_as_rfc_7946_has_it():
    """Sections 3.1.6 (outer rings counterclockwise, inner ones clockwise, closed) and 4 (no crs)."""
    data = json.loads(geojson_text({"1": random_hole(0, -70.25, 41.5)}))
    assert data["type"] == "FeatureCollection"
    assert "crs" not in data
    polygons = [shape(f["geometry"]) for f in data["features"] if f["geometry"]["type"] == "Polygon"]
    assert sum(len(p.interiors) for p in polygons) > 0
    assert all(p.exterior.is_ccw and not any(ring.is_ccw for ring in p.interiors) for p in polygons)
    assert all(p.exterior.coords[0] == p.exterior.coords[-1] for p in polygons)


def test_a_hole_that_does_not_say_where_it_lies_is_told():
    hole = read_hole(Path(__file__).parents[2] / "holes" / "millpond.yaml")
    with pytest.raises(BadRequest, match="Millpond doesn't say where and how it lies on Earth"):
        geojson_text({"1": hole})


def test_what_was_drawn_on_top_comes_in_as_well(tmp_path):
    hole = random_hole(3, 10.0, 50.0)
    data = json.loads(geojson_text({"4": hole}))
    ring = [[10.0, 50.0005], [10.0002, 50.0005], [10.0002, 50.0006], [10.0, 50.0005]]
    extra = {"type": "Feature", "properties": {"golf": "bunker", "name": "new"},
             "geometry": {"type": "Polygon", "coordinates": [ring]}}  # fmt: skip
    data["features"].append(extra)
    (tmp_path / "edited.geojson").write_text(json.dumps(data), "utf-8")
    (text,) = (t for n, t in import_map(tmp_path / "edited.geojson").texts.items() if n == "hole-04.yaml")
    back = hole_of(parse(text, "f"))
    assert len(back.areas) == len(hole.areas) + 1
    assert "new" in [area.name for area in back.areas]


@given(st.integers(0, 10**6))
@settings(deadline=None, max_examples=30)
def test_a_record_written_as_a_file_comes_back(seed):
    hole = random_hole(seed, 1.5, 2.5)
    assert furthest_apart(hole, hole_of(parse(hole_text(hole, decimals=3), "f.yaml"))) < WITHIN
