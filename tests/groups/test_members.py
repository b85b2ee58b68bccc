"""Members as CSV: what is understood, and every fault by its line."""

from __future__ import annotations

import re

import pytest
from small_groups import write_course

from simcaddie.base.errors import BadFile, BadRequest
from simcaddie.cli import app
from simcaddie.io.members import FieldMember, read_members


def read(tmp_path, text, units="yards"):
    path = tmp_path / "members.csv"
    path.write_text(text, encoding="utf-8")
    return read_members(path, units, ("white", "red"))


def test_columns_by_any_of_their_names_and_separators(tmp_path):
    first = FieldMember("7", 12.5, 200.0, "red", None)
    assert read(tmp_path, "# invented\nNo;Handicap Index;Driver carry;Tee\n7;12,5;200;red\n") == (first,)
    assert read(tmp_path, "tee,carry,hcp,name\nred,200,12.5,7\n\n") == (first,)


def test_a_plus_handicap_is_below_nought(tmp_path):
    found = read(tmp_path, "member,index,driver,sex\na,+1.2,250,M\nb,-1.2,250,women\n")
    assert [(one.index, one.sex) for one in found] == [(-1.2, "m"), (-1.2, "w")]


def test_metres_become_yards(tmp_path):
    (one,) = read(tmp_path, "member,index,driver\na,10,182.88\n", "metres")
    assert one.driver == pytest.approx(200.0)


def test_every_fault_is_told_with_its_line(tmp_path):
    with pytest.raises(BadFile) as told:
        read(tmp_path, "member,index,driver,tee,sex\n,55,200,,\nb,ten,20,blue,x\nc,5,200,blue,\n")
    where = [(fault.line, fault.where) for fault in told.value.faults]
    assert where == [(2, "index"), (2, "member"), (3, "driver"), (3, "index"), (3, "sex"), (4, "tee")]


@pytest.mark.parametrize(
    ("text", "expected"),
    [("", "an empty file"), ("member,index\na,4\n", "driver"), ("member,index,driver\n", "members below the header")],
)
def test_a_file_without_the_needed_is_refused(text, expected, tmp_path):
    with pytest.raises(BadFile, match=expected):
        read(tmp_path, text)


def test_the_members_file_is_never_written_over(tmp_path):
    text = "member,index,driver\na,10,200\n"
    read(tmp_path, text)
    file = tmp_path / "members.csv"
    words = ["field", str(write_course(tmp_path)), "--members", str(file), "--csv", str(file)]
    with pytest.raises(BadRequest, match=re.escape("this command reads it")):
        app(words, standalone_mode=False)
    assert file.read_text("utf-8") == text
