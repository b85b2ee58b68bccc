"""Course files for a round: right ones of 9 and 18 holes, and every fault with its file and line."""

from __future__ import annotations

from pathlib import Path

import pytest
from samples import HOLE

from simcaddie.base.errors import BadFile
from simcaddie.io.course import read_round_course


@pytest.fixture
def course(tmp_path, monkeypatch):
    """Return a function that writes a course of holes with the stroke indexes given, None for none."""
    monkeypatch.chdir(tmp_path)

    def write(indexes, tees="tees: {white: {par: 36, course_rating: 35.2, slope: 118}}"):
        names = []
        for number, index in enumerate(indexes):
            names.append(f"hole-{number + 1}.yaml")
            line = "" if index is None else f"stroke_index: {index}\n"
            Path(names[-1]).write_text(HOLE.replace("stroke_index: 8\n", line), "utf-8")
        Path("course.yaml").write_text(f"name: Test\nholes: [{', '.join(names)}]\n{tees}\n", "utf-8")
        return "course.yaml"

    return write


@pytest.mark.parametrize("indexes", [[*range(1, 10)], [*range(1, 19, 2)]])
def test_nine_holes_with_indexes_of_either_kind_are_right(course, indexes):
    assert len(read_round_course(course(indexes)).holes) == 9


def test_eighteen_holes_are_right(course):
    tees = "tees: {white: {par: 72, course_rating: 70.4, slope: 118}}"
    assert len(read_round_course(course(range(1, 19), tees)).holes) == 18


NINE = [*range(1, 10)]


@pytest.mark.parametrize(
    ("indexes", "tees", "told"),
    [
        ([1, 2, 3, 4, 3, *range(6, 10)], "", "hole-5.yaml:4: stroke_index: expected a stroke index of its own, found "
         "3, which hole 3 has as well"),
        ([*range(1, 13)], "", "course.yaml:2: holes: expected 9 or 18 holes for a round, found 12"),
        (NINE, "tees: {white: {course_rating: 70.4}}", "course.yaml:3: tees > white > course_rating: expected the "
         "course rating of these 9 holes, par 36, found 70.4"),
    ],
)  # fmt: skip
def test_what_makes_no_round_is_told_with_its_line(course, indexes, tees, told):
    with pytest.raises(BadFile) as caught:
        read_round_course(course(indexes, tees))
    assert str(caught.value) == told


def test_all_faults_at_once(course):
    with pytest.raises(BadFile) as caught:
        read_round_course(course([None, 2, 2, *range(4, 11)], ""))
    assert [fault.file for fault in caught.value.faults] == ["course.yaml", "hole-3.yaml"]


def test_an_index_that_comes_twice_is_told_where_it_was_given(course):
    card = "card:\n" + "".join(f"  - {{stroke_index: {index}}}\n" for index in (1, 2, 3, 4, 4, 6, 7, 8, 9))
    with pytest.raises(BadFile, match=r"course\.yaml:8: card > no\. 5 > stroke_index: .*found 4, which hole 4 has"):
        read_round_course(course([None] * 9, card))
