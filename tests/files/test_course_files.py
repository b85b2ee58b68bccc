"""Course files: read with their holes, told what is wrong with either, written and read back."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from samples import HOLE

from simcaddie.base.errors import BadFile
from simcaddie.course.course import CourseTee
from simcaddie.io.check import check_file
from simcaddie.io.course import course_text, read_course

COURSE = """\
name: Two Holes (invented)
units: yards
holes: [one.yaml, deeper/two.yaml]
tees:
  white: {par: 8, course_rating: 34.6, slope: 121}
  red: {}
source: invented
"""


@pytest.fixture
def folder(tmp_path, monkeypatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "deeper").mkdir()
    for name in ("one.yaml", "deeper/two.yaml"):
        (tmp_path / name).write_text(HOLE, "utf-8")
    (tmp_path / "course.yaml").write_text(COURSE, "utf-8")
    return tmp_path


def test_a_course_is_read_with_its_holes(folder):
    course = read_course("course.yaml")
    assert course.name == "Two Holes (invented)"
    assert course.files == ("one.yaml", "deeper/two.yaml")
    assert [hole.name for hole in course.holes] == ["Test Hole", "Test Hole"]
    assert course.par == 8
    assert course.tees == {"white": CourseTee(8, 34.6, 121), "red": CourseTee()}


def test_the_card_of_a_course_file_goes_before_its_hole_files(folder):
    card = "card:\n  - {name: First, par: 5, stroke_index: }\n  - {stroke_index: 3}\n"
    Path("course.yaml").write_text(COURSE + card, "utf-8")
    one, two = read_course("course.yaml").holes
    assert (one.name, one.par, one.stroke_index) == ("First", 5, 8)
    assert (two.name, two.par, two.stroke_index) == ("Test Hole", 4, 3)
    Path("course.yaml").write_text(COURSE + "card: [{par: 4}]\n", "utf-8")
    with pytest.raises(BadFile, match="card: expected a line for each of the 2 holes, found 1"):
        read_course("course.yaml")


def test_a_written_card_is_read_back_and_leaves_room_for_what_is_missing(folder):
    holes = [replace(hole, stroke_index=None) for hole in read_course("course.yaml").holes]
    text = course_text("Two", ["one.yaml", "deeper/two.yaml"], {}, card=holes)
    assert text.count("{name: Test Hole, par: 4, stroke_index: }") == 2
    Path("course.yaml").write_text(text, "utf-8")
    assert [hole.stroke_index for hole in read_course("course.yaml").holes] == [8, 8]


def test_check_knows_a_course_from_a_hole_and_a_player(folder):
    assert type(check_file("course.yaml")).__name__ == "Course"
    assert type(check_file("one.yaml")).__name__ == "Hole"
    Path("course.yaml").write_text("holes: [one.yaml]\nname: Short\n", "utf-8")
    assert type(check_file("course.yaml")).__name__ == "Course"


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("deeper/two.yaml", "three.yaml", "course.yaml:3: holes > no. 2: expected a hole file in the folder of the "
         "course file, found none at 'three.yaml'"),
        ("deeper/two.yaml", "one.yaml", "course.yaml:3: holes > no. 2: expected each hole file once, found 'one.yaml' "
         "again"),
        ("[one.yaml, deeper/two.yaml]", "[]", "course.yaml:3: holes: expected at least 1 entry, found 0"),
        ("[one.yaml,", "[7,", "course.yaml:3: holes > no. 1: expected the name of a hole file, found 7"),
        ("slope: 121", "slope: 12", "course.yaml:5: tees > white > slope: expected a whole number from 55 to 155, "
         "found 12"),
        ("course_rating: 34.6", "course_rating: high", "course.yaml:5: tees > white > course_rating: expected a number "
         "above 0, at most 200, found 'high'"),
        ("  red:", "  blue:", "course.yaml:6: tees > blue: expected a tee that every hole has, found none such in "
         "one.yaml and deeper/two.yaml"),
        ("units: yards", "unit: yards", "course.yaml:2: expected a known key (did you mean `units`?), found `unit`"),
        ("name: Two Holes (invented)\n", "", "course.yaml:1: expected the key `name`, found none"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_with_its_line(folder, old, new, told):
    assert old in COURSE
    Path("course.yaml").write_text(COURSE.replace(old, new, 1), "utf-8")
    with pytest.raises(BadFile) as caught:
        check_file("course.yaml")
    assert str(caught.value) == told


def test_faults_of_its_holes_are_told_under_their_names(folder):
    Path("one.yaml").write_text(HOLE.replace("par: 4", "par: 9"), "utf-8")
    Path("deeper/two.yaml").write_text(HOLE.replace("kind: bunker", "kind: bunkr"), "utf-8")
    with pytest.raises(BadFile) as caught:
        read_course("course.yaml")
    files = [fault.file for fault in caught.value.faults]
    assert files == ["deeper/two.yaml", "one.yaml"]


def test_what_is_written_is_read_back(folder):
    tees = {"white": CourseTee(8, 34.6, 121), "red": CourseTee(par=8)}
    text = course_text("No: 1", ["one.yaml", "deeper/two.yaml"], tees, source="invented: all", units="metres",
                       head=["A comment."], remarks={"tees": "from the card"})  # fmt: skip
    Path("course.yaml").write_text(text, "utf-8")
    course = read_course("course.yaml")
    assert (course.name, course.files, course.tees) == ("No: 1", ("one.yaml", "deeper/two.yaml"), tees)
    assert (course.source, course.units) == ("invented: all", "metres")
    assert "# from the card\n" in text
