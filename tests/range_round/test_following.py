"""A device's growing file: half a row, a repeated row, a pause, another header: right, or a clear message."""

from __future__ import annotations

import pytest

from simcaddie.base.errors import BadFile
from simcaddie.io.session import read_growing

HEAD = "No,Club,Carry (yd),Side (yd),Total (yd)\n"


@pytest.fixture
def grown(tmp_path):
    path = tmp_path / "device.csv"

    def read(text: str):
        path.write_text(text, "utf-8")
        return read_growing(path)

    return read


def test_only_whole_rows_are_read(grown):
    assert grown(HEAD) is None
    assert grown(HEAD + "1,7 iron,128") is None
    first = grown(HEAD + "1,7 iron,128.5,3.0,135.0\n2,7 ir")
    assert [(ball.carry, ball.order, ball.line) for ball in first.balls] == [(128.5, 1.0, 2)]
    assert not first.faults
    assert len(grown(HEAD + "1,7 iron,128.5,3.0,135.0\n2,7 iron,90,1,95\n").balls) == 2


def test_half_a_row_that_ends_is_a_fault_with_its_line(grown):
    read = grown(HEAD + "1,7 iron,128.5,3.0,135.0\n2,7 iron,1\n3,7 iron,130,2,140\n")
    assert [ball.line for ball in read.balls] == [2, 4]
    (fault,) = read.faults
    assert (fault.line, fault.where[:4]) == (3, "side")


def test_another_header_underway_holds_for_the_rows_below_it(grown):
    text = HEAD + "1,7 iron,128.5,3.0,135.0\nClub,Side [m],Carry [m]\n8 iron,2.0,100\n"
    read = grown(text)
    assert [ball.club for ball in read.balls] == ["7 iron", "8 iron"]
    assert read.balls[1].carry == pytest.approx(109.36, abs=0.01)
    assert read.balls[1].side == pytest.approx(2.187, abs=0.001)
    assert not read.faults


def test_the_same_header_again_is_no_ball(grown):
    read = grown(HEAD + "1,7 iron,128.5,3.0,135.0\n" + HEAD + "2,7 iron,120,1,125\n")
    assert [ball.carry for ball in read.balls] == [128.5, 120.0]
    assert not read.faults


def test_a_file_whose_header_never_comes_is_refused_once_it_is_long_enough(grown):
    assert grown("something\n" * 5) is None
    with pytest.raises(BadFile, match="expected a header line that names club, carry and side"):
        grown("something\n" * 40)


def test_a_file_that_isnt_text_is_refused(tmp_path):
    path = tmp_path / "device.csv"
    path.write_bytes(b"\xff\xfe1\x002\x00")
    with pytest.raises(BadFile, match="UTF-8"):
        read_growing(path)
