"""``simcaddie import-map`` and ``export-map``: files written whole or not at all, reports, clear refusals."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

EXAMPLE = Path(__file__).parents[2] / "examples" / "driftwood-bay.geojson"


def test_holes_and_a_course_file_that_pass_check(simcaddie):
    ran = simcaddie("import-map", EXAMPLE, "-o", "course")
    assert ran.code == 0
    assert "3 of 4 holes made" in ran.out
    assert "hole 4, 120 yd: not made" in ran.out
    files = sorted(Path("course").iterdir())
    assert [path.name for path in files] == ["course.yaml", "hole-01.yaml", "hole-02.yaml", "hole-03.yaml"]
    checked = simcaddie("check", *files)
    assert (checked.code, checked.err) == (0, "")
    assert checked.out.startswith("course/course.yaml: a course file, no mistakes found\n")
    assert simcaddie("compare", "course/hole-02.yaml", "wren", "--sequences", "200", "--then", "sound").code == 0


def test_the_report_alone_writes_nothing(simcaddie):
    ran = simcaddie("import-map", EXAMPLE, "--report-only")
    assert (ran.code, ran.err) == (0, "")
    assert [*Path().iterdir()] == []
    assert max(len(line) for line in ran.out.splitlines()) <= 100


def test_the_report_as_data(simcaddie):
    data = json.loads(simcaddie("import-map", EXAMPLE, "--report-only", "--json", "-").out)
    assert data["schema"] == "import-map/1"
    assert [hole["file"] for hole in data["holes"]] == ["hole-01.yaml", "hole-02.yaml", "hole-03.yaml", None]
    assert set(data["holes"][0]) >= {"found", "assumed", "missing", "notes", "length_yd", "par"}


def test_files_that_are_there_are_not_written_over_unasked(simcaddie):
    simcaddie("import-map", EXAMPLE, "-o", "c")
    Path("c/hole-01.yaml").write_text("mine")
    Path("c/course.yaml").write_text("mine, hole-01.yaml")
    ran = simcaddie("import-map", EXAMPLE, "-o", "c", "--holes", "1-2")
    assert ran.code == 2
    assert ran.err == "c already has hole-01.yaml, hole-02.yaml; --replace writes over hole files\n"
    assert Path("c/hole-01.yaml").read_text() == "mine"
    ran = simcaddie("import-map", EXAMPLE, "-o", "c", "--holes", "1-2", "--replace")
    assert ran.code == 0
    assert "c/course.yaml is left as it was; add to its holes: hole-02.yaml" in ran.err
    assert Path("c/course.yaml").read_text() == "mine, hole-01.yaml"
    assert Path("c/hole-01.yaml").read_text("utf-8").startswith("# Drawn from driftwood-bay.geojson")


def test_all_files_or_none(simcaddie):
    Path("c/hole-03.yaml").mkdir(parents=True)
    ran = simcaddie("import-map", EXAMPLE, "-o", "c", "--replace")
    assert ran.code == 2
    assert "can't write into c" in ran.err
    assert [path.name for path in Path("c").iterdir()] == ["hole-03.yaml"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "-o FOLDER says where the files go; --report-only writes none"),
        (("-o", "c", "--units", "feet"), "--units: expected yards or metres, found 'feet'"),
        (("-o", "c", "--water", "blue"), "--water: expected red or yellow, found 'blue'"),
        (("-o", "c", "--order", "up"), "--order: expected lon-lat or lat-lon, found 'up'"),
        (("-o", "c", "--holes", "9-1"), "--holes: expected numbers as 1-9 or 1,3,10-12, found '9-1'"),
        (("-o", "c", "--holes", "x"), "--holes: expected numbers as 1-9 or 1,3,10-12, found 'x'"),
        (("-o", "c", "--holes", "12"), "--holes: the map has no such hole line; it has 1, 2, 3, 4"),
        (("-o", "c", "--course", "Nowhere"), "--course: the map has no course 'Nowhere'"),
    ],
)
def test_requests_that_make_no_sense(simcaddie, words, told):
    ran = simcaddie("import-map", EXAMPLE, *words)
    assert ran.code == 2
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1
    assert not Path("c").exists()


def test_a_map_without_a_hole_that_can_be_made(simcaddie):
    ran = simcaddie("import-map", EXAMPLE, "-o", "c", "--holes", "4")
    assert ran.code == 2
    assert "0 of 1 holes made" in ran.out
    assert not Path("c").exists()


def test_a_map_that_is_none(simcaddie):
    Path("f.geojson").write_text("hello")
    ran = simcaddie("import-map", "f.geojson", "-o", "c")
    assert (ran.code, ran.err) == (2, "f.geojson:1: expected GeoJSON, found something else near 'hello'\n")
    assert simcaddie("import-map", "nothing.geojson", "-o", "c").err == (
        "nothing.geojson: expected a file, found none of that name\n"
    )


def test_export_of_a_course_or_of_a_hole_and_back(simcaddie):
    simcaddie("import-map", EXAMPLE, "-o", "c")
    ran = simcaddie("export-map", "c/course.yaml", "-o", "all.geojson")
    assert (ran.code, ran.err) == (0, "Written: all.geojson, 3 holes\n")
    ran = simcaddie("export-map", "c/hole-03.yaml", "-o", "one.geojson", "--json", "-")
    assert json.loads(ran.out)["holes"] == [{"hole": "3", "name": "Down to the Sea"}]
    again = simcaddie("import-map", "one.geojson", "-o", "d")
    assert again.code == 0
    assert sorted(path.name for path in Path("d").iterdir()) == ["course.yaml", "hole-03.yaml"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("curlew-inlet",), "Curlew Inlet doesn't say where and how it lies on Earth"),
        (("nowhere",), "expected a hole file, or a demo hole by name"),
    ],
)
def test_what_can_not_be_exported(simcaddie, words, told):
    ran = simcaddie("export-map", *words)
    assert ran.code == 2
    assert told in ran.err
    assert [*Path().iterdir()] == []


def test_a_player_is_no_hole(simcaddie):
    from simcaddie.io.find import find_player

    ran = simcaddie("export-map", find_player("wren"))
    assert ran.code == 2
    assert "is a player file; expected hole files or a course file" in ran.err
