"""From GeoJSON to hole files: an invented course that has a bit of everything, and maps drawn for one question each."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely

from simcaddie.base.errors import BadFile, BadRequest
from simcaddie.course.hole import Hole
from simcaddie.features.open_map.analysis import ImportedMap, import_map, save_map
from simcaddie.features.open_map.globe import Frame
from simcaddie.io.check import check_file
from simcaddie.io.course import read_course
from simcaddie.io.hole import hole_of
from simcaddie.io.yaml_reader import parse

EXAMPLE = Path(__file__).parents[2] / "examples" / "driftwood-bay.geojson"
FRAME = Frame(20.0, 40.0, 0.0)  # x to the east, y to the north, yards; nothing real lies there

HOLE = ("LineString", [(0, 0), (0, 300)], {"golf": "hole", "ref": "1", "par": "4"})
TEE = ("Polygon", [[(-4, -5), (4, -5), (4, 5), (-4, 5)]], {"golf": "tee"})
GREEN = ("Polygon", [[(-12, 288), (12, 288), (12, 312), (-12, 312)]], {"golf": "green"})
FAIRWAY = ("Polygon", [[(-16, 90), (16, 90), (16, 270), (-16, 270)]], {"golf": "fairway"})
PLAIN = (HOLE, TEE, GREEN, FAIRWAY)


def degrees(items: Any, frame: Frame) -> Any:
    if isinstance(items[0], int | float):
        return [round(float(v), 9) for v in frame.to_globe([items[:2]])[0]] + list(items[2:])
    return [degrees(item, frame) for item in items]


def drawn(folder: Path, *things: tuple[str, Any, dict[str, Any]], frame: Frame = FRAME, **extra: Any) -> Path:
    """Write a map of things in yards; outlines are closed on the way."""
    features = []
    for kind, places, tags in things:
        rings = [[*ring, ring[0]] for ring in places] if kind == "Polygon" else places
        geometry = {"type": kind, "coordinates": degrees(rings, frame)}
        features.append({"type": "Feature", "properties": tags, "geometry": geometry})
    path = folder / "map.geojson"
    path.write_text(json.dumps({"type": "FeatureCollection", **extra, "features": features}), "utf-8")
    return path


def holes(imported: ImportedMap) -> dict[str, Hole]:
    return {
        name: hole_of(parse(text, name)) for name, text in imported.texts.items() if name.startswith("hole-")
    }


def only(path: Path, **wishes: Any) -> tuple[Hole, str]:
    imported = import_map(path, **wishes)
    ((name, hole),) = holes(imported).items()
    return hole, imported.texts[name]


def kinds(hole: Hole) -> list[str]:
    return [area.kind for area in hole.areas]


# ── the example ───────────────────────────────────────────────────────────────────────────────────


@pytest.fixture(scope="module")
def example() -> ImportedMap:
    return import_map(EXAMPLE)


def test_the_example_says_that_it_is_invented(example):
    assert "Invented" in json.loads(EXAMPLE.read_text("utf-8"))["attribution"]
    assert all("Invented" in hole.source for hole in holes(example).values())


def test_its_holes_have_what_the_map_says(example):
    one, two, three = holes(example).values()
    assert (one.name, one.par, one.stroke_index) == ("Long Elbow", 4, 5)
    assert [*one.tees] == ["yellow", "white", "red"]
    assert (two.name, two.par, two.stroke_index) == ("Driftwood Bay (invented), hole 2", 3, 17)
    assert (three.name, three.par, three.stroke_index) == ("Down to the Sea", 5, 1)
    assert [*three.tees] == ["yellow", "white"]
    assert three.spots["second"].lie == "fairway"
    assert [mark.name for mark in three.landmarks] == ["lighthouse"]


def test_kinds_come_from_tags_and_from_our_own_words(example):
    one, two, three = holes(example).values()
    assert set(kinds(one)) == {"light_rough", "fairway", "trees", "gorse", "tee", "water", "bunker", "green"}
    assert {"water", "heather"} <= set(kinds(two))
    assert {"fairway", "bunker", "gorse", "water", "green", "tee"} <= set(kinds(three))
    assert {area.name for area in three.areas} >= {"the eye", "Kelp Ditch"}


def test_inner_rings_are_kept(example):
    _, two, three = holes(example).values()
    assert [len(area.outline.interiors) for area in two.areas if area.kind == "water"] == [1]
    assert [len(area.outline.interiors) for area in three.areas if area.kind == "fairway"] == [1]


def test_a_pin_on_the_map_beats_the_green_s_middle(example):
    """The example's pin stands 4 yd east and 3 yd north of the middle that the green was drawn about."""
    two = holes(example)["hole-02.yaml"]
    pin = Frame(*two.origin, two.bearing).to_globe([two.pin()])[0]
    assert Frame(-30.0, 45.0).to_plane([pin])[0] == pytest.approx([268, 403], abs=0.1)


def test_what_is_assumed_is_a_comment_in_the_file(example):
    for hole in example.draft.holes:
        text = example.texts.get(f"{hole.stem}.yaml", "")
        comments = " ".join(line.strip(" #") for line in text.splitlines() if line.lstrip().startswith("#"))
        for assumed in hole.assumed if text else ():
            assert assumed.split(": ", 1)[1] in comments


def test_what_can_not_be_made_is_told(example):
    four = example.draft.holes[3]
    assert (four.ref, four.hole) == ("4", None)
    assert four.missing == ["a green at either end of the hole line"]
    told = "\n".join(example.draft.said)
    for part in ("a green at no hole line's end", "kind: fairwy (did you mean fairway?)", "stream under the ground"):
        assert part in told


def test_the_course_file_lists_what_was_made(example, tmp_path):
    save_map(example, tmp_path / "deep" / "folder")
    course = read_course(tmp_path / "deep" / "folder" / "course.yaml")
    assert course.files == ("hole-01.yaml", "hole-02.yaml", "hole-03.yaml")
    assert course.par == 12
    assert {name: tee.par for name, tee in course.tees.items()} == {"yellow": None}
    assert "  - {name: Long Elbow, par: 4, stroke_index: 5}  # 1" in example.texts["course.yaml"]
    assert "  - {name: Hole 2, par: 3, stroke_index: 17}  # 2" in example.texts["course.yaml"]
    assert check_file(tmp_path / "deep" / "folder" / "course.yaml") is not None


def test_heights_are_above_the_one_nearest_the_tee(example):
    """The example rises by 12 mm a yard to the south and 10 mm a yard to the east."""
    three = holes(example)["hole-03.yaml"]
    frame = Frame(*three.origin, three.bearing)
    east, north = Frame(-30.0, 45.0).to_plane(frame.to_globe(three.heights[:, :2])).T
    rise = (0.012 * (370 - north) + 0.01 * (east - 330)) / 0.9144
    assert len(three.heights) > 20
    assert three.heights[:, 2] == pytest.approx(rise, abs=0.3)  # a tenth of a metre on the map, a tenth of a yard here


# ── frames and lines ──────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("bearing", [0.0, 47.3, 180.0, 291.0])
def test_the_tee_is_the_origin_and_the_first_piece_of_the_line_points_up(tmp_path, bearing):
    frame = Frame(20.0, 40.0, bearing)
    hole, _ = only(drawn(tmp_path, *PLAIN, frame=frame))
    assert hole.bearing == pytest.approx(bearing, abs=0.01)
    assert hole.tees == {"main": (0.0, 0.0)}
    assert hole.pin() == pytest.approx((0, 300), abs=0.2)
    assert hole.line == ((0.0, 0.0), (0.0, 300.0))
    green = next(area.outline for area in hole.areas if area.kind == "green")
    assert green.bounds == pytest.approx((-12, 288, 12, 312), abs=0.15)


def test_a_line_that_runs_from_green_to_tee_is_turned_round(tmp_path):
    line = ("LineString", [(0, 300), (0, 0)], HOLE[2])
    imported = import_map(drawn(tmp_path, line, TEE, GREEN, FAIRWAY))
    (hole,) = holes(imported).values()
    assert hole.pin() == pytest.approx((0, 300), abs=0.2)
    assert any("turned round" in note for note in imported.draft.holes[0].said)


def test_units_of_the_files_are_a_choice(tmp_path):
    hole, text = only(drawn(tmp_path, *PLAIN), units="metres")
    assert "units: metres" in text
    assert hole.pin() == pytest.approx((0, 300), abs=0.2)
    assert "274.3" in text  # 300 yd


@pytest.mark.parametrize(
    ("tags", "par"), [({"par": "5"}, 5), ({"par": "4;5"}, 4), ({"par": "2"}, 4), ({"par": "x"}, 4), ({}, 4)]
)
def test_par_from_the_map_or_from_the_length(tmp_path, tags, par):
    line = ("LineString", HOLE[1], {"golf": "hole", "ref": "1"} | tags)
    hole, text = only(drawn(tmp_path, line, *PLAIN[1:]))
    assert hole.par == par
    assert ("assumed: 4, by the length" in text) == (tags.get("par") not in ("5", "4;5"))


# ── what belongs to a hole ────────────────────────────────────────────────────────────────────────


def square(x: float, y: float, half: float, **tags: str) -> tuple[str, Any, dict[str, str]]:
    return "Polygon", [[(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)]], tags


def test_a_neighbour_s_bunker_within_reach_belongs_and_a_far_one_does_not(tmp_path):
    hole, _ = only(drawn(tmp_path, *PLAIN, square(70, 150, 5, golf="bunker"), square(110, 150, 5, golf="bunker")))
    (bunker,) = (area.outline for area in hole.areas if area.kind == "bunker")
    assert bunker.centroid.x == pytest.approx(70, abs=0.1)


def test_another_hole_s_green_and_tee_do_not_become_ours(tmp_path):
    other = ("LineString", [(60, 300), (60, 20)], {"golf": "hole", "ref": "2", "par": "4"})
    path = drawn(
        tmp_path, *PLAIN, other, square(60, 20, 9, golf="green"), square(60, 300, 4, golf="tee")
    )
    one, two = holes(import_map(path)).values()
    for hole in (one, two):
        assert kinds(hole).count("green") == 1
        assert kinds(hole).count("tee") == 1
        assert len(hole.tees) == 1


def test_large_areas_are_cut_and_say_so(tmp_path):
    wood = square(500, 150, 460, natural="wood")
    hole, text = only(drawn(tmp_path, *PLAIN, wood))
    (trees,) = (area.outline for area in hole.areas if area.kind == "trees")
    assert trees.bounds[0] == pytest.approx(40, abs=0.1)
    assert trees.bounds[2] == pytest.approx(90, abs=0.3)
    assert "cut off 90 yd from the line" in text


def test_a_feature_may_name_its_holes(tmp_path):
    mine, other = square(30, 150, 4, kind="bunker", hole="1; 5"), square(-30, 150, 4, kind="bunker", hole="2")
    hole, _ = only(drawn(tmp_path, *PLAIN, mine, other))
    assert kinds(hole).count("bunker") == 1


@pytest.mark.parametrize(
    ("tags", "wish", "marking", "assumed"),
    [
        ({"natural": "water"}, "", "red", True),
        ({"natural": "water"}, "yellow", "yellow", False),
        ({"golf": "water_hazard"}, "red", "yellow", False),
        ({"golf": "lateral_water_hazard"}, "yellow", "red", False),
        ({"kind": "water", "marking": "yellow"}, "", "yellow", False),
        ({"kind": "pond"}, "", "red", True),
    ],
)
def test_the_marking_of_water(tmp_path, tags, wish, marking, assumed):
    hole, text = only(drawn(tmp_path, *PLAIN, square(35, 150, 10, **tags)), water=wish)
    assert [area.marking for area in hole.areas if area.kind == "water"] == [marking]
    assert ("the map has no marking" in text) == assumed


@pytest.mark.parametrize(
    ("tags", "yards"),
    [
        ({"waterway": "stream"}, 2 / 0.9144),
        ({"waterway": "river"}, 10 / 0.9144),
        ({"waterway": "ditch", "width": "3"}, 3 / 0.9144),
        ({"waterway": "ditch", "width": "4 yd"}, 4),
        ({"waterway": "drain", "width": "6'"}, 2),
        ({"waterway": "stream", "width": "narrow"}, 2 / 0.9144),
    ],
)
def test_streams_get_a_width(tmp_path, tags, yards):
    stream = ("LineString", [(-80, 150), (80, 150)], tags)
    hole, text = only(drawn(tmp_path, *PLAIN, stream))
    (water,) = (area.outline for area in hole.areas if area.kind == "water")
    low, high = water.bounds[1], water.bounds[3]
    assert high - low == pytest.approx(yards, abs=0.11)
    assert ("the map has no width" in text) == ("width" not in tags or tags["width"] == "narrow")


def test_grass_that_holds_the_greens_tells_nothing(tmp_path):
    hole, _ = only(drawn(tmp_path, *PLAIN, square(0, 150, 300, landuse="grass"), square(30, 200, 9, landuse="grass")))
    assert kinds(hole).count("light_rough") == 1


def test_several_tees_are_told_apart(tmp_path):
    tees = (
        square(3, 40, 4, golf="tee", colour="red"), square(-3, -30, 4, golf="tee"), square(2, 60, 4, golf="tee"),
    )  # fmt: skip
    hole, text = only(drawn(tmp_path, *PLAIN, *tees))
    assert [*hole.tees] == ["main", "back", "red", "forward"]
    assert hole.tees["red"] == pytest.approx((3, 40), abs=0.1)
    assert "assumed: names by where they stand" in text


def test_one_outline_may_be_two_tees(tmp_path):
    tee = ("Polygon", TEE[1], {"golf": "tee", "tee": "white;yellow"})
    hole, _ = only(drawn(tmp_path, HOLE, tee, GREEN, FAIRWAY))
    assert hole.tees == {"white": (0.0, 0.0), "yellow": (0.0, 0.0)}


@pytest.mark.parametrize("kind", ["trees", "gorse", "water", "bunker"])
def test_a_tee_where_none_can_stand_gets_ground_and_says_so(tmp_path, kind):
    hole, text = only(drawn(tmp_path, HOLE, GREEN, FAIRWAY, square(0, 0, 30, kind=kind)))
    assert kinds(hole).count("tee") == 1
    assert "a tee here" in text


def test_out_of_bounds_beyond_the_course_and_beyond_stakes(tmp_path):
    course = ("Polygon", [[(-60, -50), (900, -50), (900, 900), (-60, 900)]], {"leisure": "golf_course", "name": "C"})
    stakes = ("LineString", [(50, -300), (50, 700)], {"golf": "out_of_bounds"})
    hole, text = only(drawn(tmp_path, *PLAIN, course, stakes))
    assert hole.boundary.bounds[0] == pytest.approx(-60, abs=0.1)
    assert hole.boundary.bounds[2] == pytest.approx(50, abs=0.1)
    assert "out of bounds is beyond the course's outline; out of bounds is the far side of a line of stakes" in text
    assert hole.name == "C, hole 1"


def test_a_short_line_of_stakes_parts_nothing_and_is_told(tmp_path):
    stakes = ("LineString", [(50, 100), (50, 200)], {"golf": "out_of_bounds"})
    imported = import_map(drawn(tmp_path, *PLAIN, stakes))
    assert next(iter(holes(imported).values())).boundary is None
    assert any("doesn't part the hole" in note for note in imported.draft.holes[0].said)


def test_crossing_outlines_are_mended_and_it_is_said(tmp_path):
    bow = ("Polygon", [[(30, 150), (40, 160), (40, 150), (30, 160)]], {"golf": "bunker"})
    imported = import_map(drawn(tmp_path, *PLAIN, bow))
    (hole,) = holes(imported).values()
    assert sum(area.outline.area for area in hole.areas if area.kind == "bunker") == pytest.approx(50, abs=3)
    assert any("crossed itself" in note for note in imported.draft.holes[0].said)
    assert "# mended: the outline crossed itself" in imported.texts["hole-01.yaml"]


def test_the_pin_is_the_green_s_most_inward_point(tmp_path):
    """In a keyhole-shaped green: the middle of the round part, not the centre of gravity."""
    keyhole = shapely.union_all([shapely.Point(0, 300).buffer(12), shapely.box(-2, 300, 2, 350)])
    green = ("Polygon", [shapely.get_coordinates(keyhole.exterior)[:-1].tolist()], {"golf": "green"})
    hole, text = only(drawn(tmp_path, HOLE, TEE, FAIRWAY, green))
    assert hole.pin() == pytest.approx((0, 300), abs=0.3)
    assert keyhole.centroid.y > 303
    assert "assumed: the green's most inward point" in text


def test_missing_things_are_told(tmp_path):
    imported = import_map(drawn(tmp_path, HOLE, GREEN))
    assert imported.draft.holes[0].missing == ["stroke index", "a fairway", "an outlined tee"]
    short = ("LineString", [(0, 150), (0, 300)], {"golf": "hole", "ref": "1", "par": "3", "handicap": "4"})
    assert import_map(drawn(tmp_path, short, GREEN, square(0, 150, 4, golf="tee"))).draft.holes[0].missing == []


# ── which holes ───────────────────────────────────────────────────────────────────────────────────


def row(count: int, refs: list[str] | None = None, offset: float = 0.0) -> list[tuple[str, Any, dict[str, str]]]:
    things: list[tuple[str, Any, dict[str, str]]] = []
    for n in range(count):
        x = offset + 300.0 * n
        tags = {"golf": "hole", "par": "4"} | ({"ref": refs[n]} if refs is not None else {})
        things += [("LineString", [(x, 0), (x, 300)], tags), square(x, 300, 10, golf="green")]
    return things


def test_only_the_holes_asked_for(tmp_path):
    path = drawn(tmp_path, *row(3, ["1", "02", "10"]))
    assert [*holes(import_map(path))] == ["hole-01.yaml", "hole-02.yaml", "hole-10.yaml"]
    imported = import_map(path, holes={2, 7})
    assert [*holes(imported)] == ["hole-02.yaml"]
    assert "no hole line for 7" in imported.draft.said
    with pytest.raises(BadRequest, match="--holes: the map has no such hole line; it has 1, 2, 10"):
        import_map(path, holes={5})


def test_holes_without_a_number_or_with_the_same_one(tmp_path):
    imported = import_map(drawn(tmp_path, *row(4, ["1", "1", "", "A/3"])))
    assert [*holes(imported)] == ["hole-01.yaml", "hole-1-2.yaml", "hole-02.yaml", "hole-a-3.yaml"]
    assert "assumed: the number, by the order of lines" in imported.texts["hole-02.yaml"]


def test_several_courses_on_one_map_must_be_told_apart(tmp_path):
    def course(x: float, name: str) -> tuple[str, Any, dict[str, str]]:
        return square(x, 150, 290, leisure="golf_course", name=name)

    path = drawn(tmp_path, *row(1, ["1"]), *row(1, ["1"], 3000.0), course(0, "Left"), course(3000, "Right"))
    with pytest.raises(BadRequest, match="2 courses: choose one with --course, out of 'Left', 'Right'"):
        import_map(path)
    ((name, hole),) = holes(import_map(path, course="Right")).items()
    assert (name, hole.name) == ("hole-01.yaml", "Right, hole 1")
    with pytest.raises(BadRequest, match="no course 'Middle'"):
        import_map(path, course="Middle")


# ── sources ───────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("extra", "source"),
    [
        ({"attribution": "Drawn by me, CC0"}, "Drawn by me, CC0"),
        ({"copyright": "data from www.openstreetmap.org"}, "data from www.openstreetmap.org – ODbL 1.0"),
        ({"generator": "overpass-ide"}, "© OpenStreetMap contributors, ODbL 1.0"),
        ({}, "drawn by hand or of unknown source: map.geojson"),
    ],
)
def test_source_and_licence_are_in_every_file(tmp_path, extra, source):
    imported = import_map(drawn(tmp_path, *PLAIN, **extra))
    for text in imported.texts.values():
        assert f"source: {json.dumps(source, ensure_ascii=False)[:-1]}" in text.replace('source: d', 'source: "d')
        assert ("Open Database Licence" in text) == ("penStreetMap" in source or "openstreetmap" in source)


# ── anywhere on Earth ─────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(("lon", "lat"), [(179.9999, -17.0), (-179.9999, 52.0), (10.0, 89.995), (-60.0, -89.9)])
def test_courses_at_the_180th_meridian_and_near_the_poles(tmp_path, lon, lat):
    frame = Frame(lon, lat, 30.0)
    hole, _ = only(drawn(tmp_path, *PLAIN, square(30, 150, 5, golf="bunker"), frame=frame))
    assert hole.pin() == pytest.approx((0, 300), abs=0.3)
    (bunker,) = (area.outline for area in hole.areas if area.kind == "bunker")
    assert bunker.centroid.coords[0] == pytest.approx((30, 150), abs=0.3)


def test_an_area_cut_at_the_180th_meridian_is_one_again(tmp_path):
    frame = Frame(180.0, -17.0, 0.0)
    path = drawn(tmp_path, *PLAIN, frame=frame)
    data = json.loads(path.read_text("utf-8"))
    (half,) = (f for f in data["features"] if f["properties"] == FAIRWAY[2])
    south, north = (p[1] for p in half["geometry"]["coordinates"][0][1:3])
    parts = [[[[a, south], [b, south], [b, north], [a, north], [a, south]]] for a, b in
             [(179.9999, 180), (-180, -179.9999)]]  # fmt: skip
    half["geometry"] = {"type": "MultiPolygon", "coordinates": parts}
    path.write_text(json.dumps(data), "utf-8")
    hole, _ = only(path)
    (fairway,) = (area.outline for area in hole.areas if area.kind == "fairway")
    assert math.isclose(fairway.bounds[2], -fairway.bounds[0], abs_tol=0.2)
    assert len(fairway.exterior.coords) == 5


# ── longitude and latitude changed over ───────────────────────────────────────────────────────────


def swapped(path: Path) -> Path:
    def turn(items: Any) -> Any:
        return [items[1], items[0], *items[2:]] if not isinstance(items[0], list) else [turn(item) for item in items]

    data = json.loads(path.read_text("utf-8"))
    for feature in data["features"]:
        feature["geometry"]["coordinates"] = turn(feature["geometry"]["coordinates"])
    path.write_text(json.dumps(data), "utf-8")
    return path


def rounds(count: int) -> list[tuple[str, Any, dict[str, str]]]:
    """Return invented bunkers a little longer one way than the other, any way about."""
    rng = np.random.default_rng(4)
    things = []
    for n in range(count):
        angle = np.linspace(0, 2 * np.pi, 16, endpoint=False)
        x, y = 5 * np.cos(angle), 3.5 * np.sin(angle)
        t = rng.uniform(0, np.pi)
        ring = np.column_stack([x * np.cos(t) - y * np.sin(t) + 25, x * np.sin(t) + y * np.cos(t) + 60 + 12 * n])
        things.append(("Polygon", [ring.tolist()], {"golf": "bunker"}))
    return things


def test_changed_over_beyond_the_poles(tmp_path):
    path = swapped(drawn(tmp_path, *PLAIN, frame=Frame(-100.0, 40.0)))
    with pytest.raises(BadFile, match=r"longitude first, then latitude .* swapped\? `--order lat-lon`"):
        import_map(path)
    assert only(path, order="lat-lon")[0].pin() == pytest.approx((0, 300), abs=0.2)


def test_changed_over_where_only_the_shapes_tell(tmp_path):
    right = drawn(tmp_path, *PLAIN, *rounds(18), frame=Frame(-4.5, 54.0))
    assert len(holes(import_map(right))) == 1
    path = swapped(right)
    with pytest.raises(BadFile, match="stretched there as if latitude came first"):
        import_map(path)
    hole, _ = only(path, order="lat-lon")
    assert hole.pin() == pytest.approx((0, 300), abs=0.2)
    assert import_map(path, order="lon-lat").texts


@pytest.mark.parametrize("lat", [0.0, 30.0, -45.0, 60.0])
def test_a_map_the_right_way_round_is_never_doubted(tmp_path, lat):
    assert import_map(drawn(tmp_path, *PLAIN, *rounds(12), frame=Frame(7.0, lat))).texts
