"""Reading GeoJSON: what programs write, and what is no GeoJSON, each told in one clear message."""

from __future__ import annotations

import json
import time
from pathlib import Path
from typing import Any

import pytest

from simcaddie.base.errors import BadFile
from simcaddie.features.open_map.analysis import import_map
from simcaddie.features.open_map.geojson import MAX_MAP_BYTES, read_geojson

RING = [[10.0, 50.0], [10.001, 50.0], [10.001, 50.001], [10.0, 50.0]]


def feature(geometry: Any, **tags: Any) -> dict[str, Any]:
    return {"type": "Feature", "properties": tags or {"golf": "green"}, "geometry": geometry}


def collection(*features: Any, **extra: Any) -> dict[str, Any]:
    return {"type": "FeatureCollection", **extra, "features": list(features)}


def polygon(*rings: Any) -> dict[str, Any]:
    return {"type": "Polygon", "coordinates": list(rings)}


def written(folder: Path, data: Any) -> Path:
    path = folder / "f.geojson"
    path.write_text(data if isinstance(data, str) else json.dumps(data), "utf-8")
    return path


BAD = {
    "": "expected GeoJSON, found something else near ''",
    "{": "f.geojson:1: expected GeoJSON, found something else near '{'",
    "golf: hole\n": "f.geojson:1: expected GeoJSON, found something else near 'golf: hole'",
    '{"type": "FeatureCollection",\n "features": [}': "f.geojson:2: expected GeoJSON",
    "[1, 2]": "expected GeoJSON: a FeatureCollection, found [1, 2]",
    '{"type": "Topology", "objects": {}}': "expected GeoJSON: a FeatureCollection, found `\"type\": \"Topology\"`",
    '{"type": "FeatureCollection"}': "expected GeoJSON: a FeatureCollection",
    '{"type": "Polygon", "coordinates": []}': "expected features with properties, which say what is what, found a bare",
    '{"type": "FeatureCollection", "features": [NaN]}': "expected GeoJSON, found `NaN`",
    "[" * 100_000: "expected GeoJSON, found brackets nested without end",
    json.dumps(collection()): "expected features tagged as golf is on OpenStreetMap",
    json.dumps(collection(feature(polygon(RING), highway="path"))): "or with a `kind`, found none",
    json.dumps(collection(feature(polygon(RING), kind="grene"))): "kind: grene (did you mean green?) (1)",
    json.dumps(collection({"golf": "green"})): "features > no. 1: expected `\"type\": \"Feature\"`",
    json.dumps(collection(feature({"type": "Circle", "coordinates": [1, 2]}))): "expected a geometry: Point",
    json.dumps(collection(feature({"type": "Point", "coordinates": ["10", "50"]}))): "expected a position [longitude",
    json.dumps(collection(feature({"type": "Point", "coordinates": [10]}))): "a position [longitude",
    json.dumps(collection(feature(polygon(7)))): "expected a list of positions [longitude, latitude], found 7",
    json.dumps(collection(feature({"type": "Point"}))): "no. 1: expected `coordinates`, found nothing",
    json.dumps(collection(feature({"type": "Point", "coordinates": [10.0, 120.0]}))): "swapped? `--order lat-lon`",
    json.dumps(collection(feature({"type": "Point", "coordinates": [451234.5, 5412345.0]}))): "another projection",
    '{"type": "FeatureCollection", "features": [{"type": "Feature", "properties": {"golf": "tee"}, "geometry": '
    '{"type": "Point", "coordinates": [1e999, 2]}}]}': "which may belong to another projection",
    json.dumps(collection(feature(polygon(RING)), crs={"properties": {"name": "urn:ogc:def:crs:EPSG::3857"}})):
        "in degrees (WGS 84, as RFC 7946 has it), found urn:ogc:def:crs:EPSG::3857",
}  # fmt: skip


@pytest.mark.parametrize("text", BAD, ids=lambda text: text[:40])
def test_what_can_not_be_read_is_one_clear_message(tmp_path, monkeypatch, text):
    monkeypatch.chdir(tmp_path)
    Path("f.geojson").write_text(text, "utf-8")
    with pytest.raises(BadFile) as caught:
        import_map("f.geojson")
    (line,) = str(caught.value).splitlines()
    assert line.startswith("f.geojson")
    assert BAD[text] in line
    assert len(line) < 320


def test_files_that_are_no_text(tmp_path):
    for content in (b"\x00\x01", b"\xff\xfe{\x00", "größe".encode("latin-1")):
        (tmp_path / "f").write_bytes(content)
        with pytest.raises(BadFile, match="expected"):
            read_geojson(tmp_path / "f")


def test_every_position_that_can_not_be_is_told_at_once(tmp_path):
    bad = [feature({"type": "Point", "coordinates": [200.0 + n, 10.0]}, golf="pin") for n in range(70)]
    with pytest.raises(BadFile) as caught:
        read_geojson(written(tmp_path, collection(*bad)))
    assert len(caught.value.faults) == 60


def test_outlines_of_too_few_places_are_left_out_and_counted(tmp_path):
    thin = polygon([[10.0, 50.0], [10.1, 50.0], [10.0, 50.0]])
    dot = {"type": "LineString", "coordinates": [[10.0, 50.0], [10.0, 50.0]]}
    data = read_geojson(written(tmp_path, collection(feature(thin), feature(dot, golf="hole"), feature(polygon(RING)))))
    assert len(data.features) == 1
    assert data.left_out == {"an outline of fewer than 3 different places": 1, "a line without length": 1}


@pytest.mark.parametrize(
    "properties",
    [
        {"golf": "green"},
        {"tags": {"golf": "green"}, "type": "way"},
        {"other_tags": '"golf"=>"green","surface"=>"grass \\"fine\\""'},
        {"kind": "green"},
        {"kind": "Putting green"},
        {"golf": "green", "landuse": "grass", "lanes": 2, "lit": False, "empty": None, "list": [1]},
    ],
)
def test_tags_as_different_programs_write_them(tmp_path, properties):
    (found,) = read_geojson(written(tmp_path, collection(feature(polygon(RING), **properties)))).features
    assert found.shape.geom_type == "Polygon"


def test_open_rings_are_closed_and_any_winding_will_do(tmp_path):
    for ring in (RING, RING[::-1], RING[:-1]):
        (found,) = read_geojson(written(tmp_path, collection(feature(polygon(ring))))).features
        assert found.shape.area == pytest.approx(5e-7)


def test_several_shapes_in_one_feature(tmp_path):
    multi = {"type": "MultiPolygon", "coordinates": [[RING], [RING]]}
    both = {"type": "GeometryCollection", "geometries": [polygon(RING), multi]}
    data = read_geojson(written(tmp_path, collection(feature(both), feature(None))))
    assert [found.shape.geom_type for found in data.features] == ["Polygon", "MultiPolygon"]


def test_a_single_feature_is_a_map_too(tmp_path):
    assert len(read_geojson(written(tmp_path, feature(polygon(RING)))).features) == 1


def test_heights_are_third_numbers_and_later_ones_nothing(tmp_path):
    ring = [[10.0, 50.0, 3.0], [10.001, 50.0, 4.0, 99.0], [10.001, 50.001], [10.0, 50.0, 3.0]]
    (found,) = read_geojson(written(tmp_path, collection(feature(polygon(ring))))).features
    assert found.heights[:, 2].tolist() == [3.0, 4.0, 3.0]


def test_an_old_crs_that_is_wgs_84_is_accepted(tmp_path):
    crs = {"type": "name", "properties": {"name": "urn:ogc:def:crs:OGC:1.3:CRS84"}}
    assert read_geojson(written(tmp_path, collection(feature(polygon(RING)), crs=crs))).features


def test_a_file_over_the_limit_is_refused_unread(tmp_path):
    path = tmp_path / "f.geojson"
    with path.open("wb") as stream:
        stream.truncate(MAX_MAP_BYTES + 1)
    with pytest.raises(BadFile, match="expected a file of at most 100 MB, found 100 MB"):
        read_geojson(path)


@pytest.mark.slow
def test_a_map_of_sixty_megabytes_is_read(tmp_path):
    """A whole county: two hundred thousand roads and houses, and one course among them."""
    example = Path(__file__).parents[2] / "examples" / "driftwood-bay.geojson"
    data = json.loads(example.read_text("utf-8"))
    road = {"type": "LineString", "coordinates": [[-30.0 + n * 1e-5, 45.0 + n * 1e-5] for n in range(10)]}
    rows = ",\n".join([json.dumps(feature(road, highway="residential", name="Invented"))] * 185_000)
    text = json.dumps(data)
    path = tmp_path / "county.geojson"
    path.write_text(text[:-2] + ",\n" + rows + "]}", "utf-8")
    assert 55e6 < path.stat().st_size < MAX_MAP_BYTES
    started = time.perf_counter()
    assert import_map(path).texts.keys() == import_map(example).texts.keys()
    assert time.perf_counter() - started < 60
