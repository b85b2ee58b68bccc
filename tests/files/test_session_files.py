"""Range sessions from CSV files of every sort; rows that can't be used are told with their line."""

from __future__ import annotations

import time

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from simcaddie.base.errors import BadFile, BadRequest
from simcaddie.base.units import METRES_PER_YARD
from simcaddie.fitting.session import Ball
from simcaddie.io.session import SessionFile, club_and_swing, length, order, read_session, side, yes_or_no
from simcaddie.player.reference import PARTS

PLAIN = "club,swing,carry,total,side\ndriver,full,193,208,-7\nPW,half,68.5,73,2\n"
BALLS = (
    Ball("driver", "full", 193.0, -7.0, 208.0, line=2),
    Ball("pitching wedge", "half", 68.5, 2.0, 73.0, line=3),
)


@pytest.fixture
def read(tmp_path):
    def read(text: str | bytes, **keys: object) -> SessionFile:
        path = tmp_path / "s.csv"
        path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
        return read_session(path, **keys)

    return read


def numbers(session: SessionFile) -> list[tuple]:
    return [(b.club, b.swing, *(x and round(x, 9) for x in (b.carry, b.side, b.total))) for b in session.balls]


def test_a_plain_session(read):
    session = read(PLAIN)
    assert session.balls == BALLS
    assert (session.faults, session.remarks) == ((), ())


@pytest.mark.parametrize(
    "text",
    [
        PLAIN.replace(",", ";"),
        PLAIN.replace(",", "\t"),
        PLAIN.replace(",", "|"),
        PLAIN.replace(",", ";").replace(".", ","),
        PLAIN.replace("66.5", '"66,5"'),
        PLAIN.replace("\n", "\r\n"),
        PLAIN.replace("\n", "\r"),
        "\ufeff" + PLAIN,
        PLAIN.replace("\n", "\n\n , , , , \n\n"),
        "sep=,\n" + PLAIN,
        "My Tuesday session\n\nHit at dusk, wet mats\n" + PLAIN,
        PLAIN.replace("side\n", "side\n,,yd,yds,[yards]\n"),
        PLAIN.replace("club,swing,carry", "Club Name,Swing-Type,CARRY_DIST (yd)").replace("side", "Off line [yds]"),
        PLAIN.replace("-7", "7 L").replace(",2\n", ",R 2\n"),
        PLAIN.replace("-7", "7L").replace(",2\n", ",2 right\n"),
        PLAIN.replace("-7", "−7").replace(",2\n", ",+2\n"),
        PLAIN.replace("193", "193 yd").replace("-7", "-7yd"),
        PLAIN.replace("swing,", "speed,").replace("full", "155").replace("half", "98").replace("PW", "half PW"),
        PLAIN.replace("swing,", "speed,").replace("full", "9").replace("half", "8").replace("PW", "pw (half)"),
        PLAIN.replace("side", "side,side angle,carry side spin").replace("-7", "-7,1,1").replace(",2\n", ",2,3,4\n"),
        PLAIN + "\n",
        PLAIN.replace("half", " HALF "),
    ],
)
def test_the_same_session_in_other_clothes(read, text):
    session = read(text)
    assert numbers(session) == numbers(read(PLAIN))
    assert session.faults == ()


@pytest.mark.parametrize(
    "text",
    [
        PLAIN.replace("carry,total,side", "carry (m),total (m),side (m)"),
        PLAIN.replace("carry,total,side", "carry_m,total metres,side m"),
        PLAIN.replace("side\n", "side\n,,m,m,m\n"),
        PLAIN.replace("193", "193 m").replace("208", "208 m").replace("-7", "7 m L").replace("68.5", "68.5m")
        .replace("71", "71m").replace(",2\n", ",2 m\n"),
    ],
)  # fmt: skip
def test_metres_by_header_row_or_cell(read, text):
    yards = [value / METRES_PER_YARD for b in BALLS for value in (b.carry, b.side)]
    for keys in ({}, {"units": "metres"}):
        assert [value for b in read(text, **keys).balls for value in (b.carry, b.side)] == pytest.approx(yards)


def test_units_that_nothing_tells_are_asked_for(read):
    assert read(PLAIN, units="metres").balls[0].carry == pytest.approx(193 / METRES_PER_YARD)
    assert read(PLAIN, units="yards").balls == BALLS


def test_what_the_file_tells_goes_before_the_units_asked_for(read):
    session = read(PLAIN.replace("carry,", "carry (m),"), units="yards")
    assert session.balls[0].carry == pytest.approx(193 / METRES_PER_YARD)
    assert session.balls[0].side == -7.0


def test_side_in_feet_beside_carry_in_yards(read):
    session = read(PLAIN.replace("side", "side (ft)"))
    assert [b.side for b in session.balls] == pytest.approx([-7 / 3, 2 / 3])


def test_the_column_in_the_units_asked_for_is_taken(read):
    text = "club,carry (m),carry (yd),side (m),side (yd)\ndriver,100,109.4,9.144,10\n"
    for keys in ({}, {"units": "yards"}, {"units": "metres"}):
        (ball,) = read(text, **keys).balls
        assert ball.carry == pytest.approx(109.4, abs=0.05)
        assert ball.side == pytest.approx(10.0)


def test_columns_mapped_by_hand(read):
    text = "What,How far (yd),Air (yd),Where\ndriver,208,193,7L\n"
    columns = {"club": "what", "carry": "Air (yd)", "side": "WHERE", "total": "how far"}
    assert read(text, columns=columns).balls == (Ball("driver", "full", 193.0, -7.0, 208.0, line=2),)


def test_order_and_routine(read):
    text = "Shot,club,carry,side,Pre-shot routine\n1,7i,120,0,yes\n2,7i,121,0,N\n3,7i,122,0,\n"
    assert [(b.order, b.routine) for b in read(text).balls] == [(1.0, True), (2.0, False), (3.0, None)]
    text = "when,club,carry,side\n10:01:05,7i,120,0\n10:02,7i,121,0\n"
    assert [b.order for b in read(text, columns={"order": "when"}).balls] == [36065.0, 36120.0]


def test_numbers_that_start_anew_with_every_club_tell_no_order(read):
    session = read("shot,club,carry,side\n1,7i,120,0\n2,7i,120,1\n1,8i,110,0\n")
    assert [b.order for b in session.balls] == [None] * 3
    assert session.remarks == ("ball numbers come twice, so they don't tell the order in which the balls were hit",)


def test_cells_that_a_row_can_do_without_are_noted(read):
    session = read("ball,club,carry,total,side\nsoft,7i,120,n/a,0\nsoft,7i,120,?,0\n")
    assert len(session.balls) == 2
    assert session.remarks == (
        "2 cells of `order` left out, the first in line 2: 'soft'",
        "1 cells of `total` left out, the first in line 3: '?'",
    )


def test_rows_that_can_not_be_used_are_told_with_line_and_reason(read):
    session = read(
        "club,carry,side\n7 iron,120,3\n\n7 iron,,3\nputter,8,0\nspoon,150,2\n,120,2\n7 iron,abc,1\n7 iron,120\n"
        '7 iron,12.3.4,1\n7 iron,120,3 up\n7 iron,"12\n0",1\n7 iron,121,L -3\nAverage,,\n'
    )
    assert [ball.carry for ball in session.balls] == [120.0]
    told = [str(fault).split(":", 1)[1] for fault in session.faults]
    assert told == [
        "4: carry: expected a number, or fat, thin or top, found nothing",
        "5: club: expected any club but the putter, found the putter",
        "6: club: expected a club it knows, or one of the --player's bag, found 'spoon'",
        "7: club: expected a club, found nothing",
        "8: carry: expected a number, or fat, thin or top, found 'abc'",
        "9: side: expected a number, or one with L or R, found nothing",
        "10: carry: expected a number, or fat, thin or top, found '12.3.4'",
        "11: side: expected a number, or one with L or R, found '3 up'",
        "12: carry: expected a number, or fat, thin or top, found '12 0'",
        "14: side: expected a number, or one with L or R, found 'L -3'",
        "15: club: expected a club it knows, or one of the --player's bag, found 'Average'",
    ]


def test_clubs_of_one_s_own_bag_are_known(read):
    text = "club,carry,side\nspoon,150,2\n"
    assert read(text, clubs=["spoon"]).balls[0].club == "spoon"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "s.csv:1: expected a header line that names club, carry and side"),
        ("club,carry\n7 iron,120\n", "s.csv:1: expected a header line that names club, carry and side"),
        ("7 iron,120,3\n", "found '7 iron,120,3'"),
        (PLAIN.split("\n", maxsplit=1)[0], "s.csv:1: expected balls below the header line, found none"),
        ("club,carry,side\n7 iron,x,3\n7 iron,y,2\n", "s.csv:3: carry: expected a number, or fat, thin or top, "
         "found 'y'"),
        ("club,carry,carry,side\n7 iron,1,2,3\n", 'expected one column for carry (say which one: --column carry="…")'),
        (PLAIN.encode("utf-16"), "expected text saved as UTF-8, found UTF-16"),
        (b"club,carry,side\n\xff", "s.csv:2: expected text saved as UTF-8"),
        (b"club,carry,side\n\x00", "found the control character U+0000"),
        (f'club,carry,side\n7 iron,"{"1" * 200_000}",2\n', "field larger than field limit"),
    ],
)  # fmt: skip
def test_files_that_can_not_be_used(read, text, told):
    with pytest.raises(BadFile) as caught:
        read(text)
    assert told in str(caught.value)


def test_columns_that_are_not_there_or_not_known(read):
    with pytest.raises(BadFile, match="with the columns 'Far'"):
        read(PLAIN, columns={"carry": "Far"})
    with pytest.raises(BadRequest, match=r"--column: expected one of club, .* or first before the '=', found 'x'"):
        read(PLAIN, columns={"x": "carry"})


def test_a_file_full_of_faults_is_told_in_part(read):
    with pytest.raises(BadFile) as caught:
        read("club,carry,side\n" + "7 iron,x,1\n" * 100)
    assert len(caught.value.faults) == 61
    assert "s.csv:62: expected no more faults, found 40 more" in str(caught.value)


def test_a_hundred_thousand_rows_are_read_within_three_seconds_of_processor(read):
    rng = np.random.default_rng(5)
    rows = "".join(f"7 iron,full,{c:.1f},{s:.1f}\n" for c, s in rng.normal((123, 2), (8, 8), (100_000, 2)))
    started = time.process_time()
    session = read("club,swing,carry,side\n" + rows)
    assert len(session.balls) == 100_000
    assert time.process_time() - started < 3.0


@given(st.floats(-400, 400, allow_subnormal=False).map(lambda x: round(x, 3)), st.sampled_from(".,"))
def test_numbers_are_read_with_either_mark(value, mark):
    assert length(f"{value:.3f}".replace(".", mark)) == (value, None)
    assert side(f"{value:.3f}".replace(".", mark)) == (value, None)
    assert side(f"{abs(value):.3f} {'L' if value < 0 else 'R'}") == (value, None)


@pytest.mark.parametrize("text", ["", "L", "12 x", "1e3", "nan", "inf", "0x10", "1,2,3", "--3", "12 LL", "٣"])
def test_what_is_no_number_is_refused(text):
    for read_cell in (length, side, order, yes_or_no):
        if text != "٣" or read_cell is yes_or_no:  # digits of other scripts are numbers
            with pytest.raises(ValueError, match=r".*"):
                read_cell(text)


@pytest.mark.parametrize(
    ("club", "swing", "names"),
    [
        ("7-Iron", "", ("7 iron", "full")), ("7i", "Full", ("7 iron", "full")), ("half 9 iron", "", ("9 iron", "half")),
        ("Gap Wedge, 3/4", "", ("gap wedge", "three quarter")), ("GW", "3/4", ("gap wedge", "three quarter")),
        ("56°", "half", ("56° wedge", "half")), ("52 deg wedge", "", ("52° wedge", "full")),
        ("Old Cleek", "", ("Old Cleek", "full")), ("7 iron", "three-quarter", ("7 iron", "three quarter")),
    ],
)  # fmt: skip
def test_clubs_and_swings(club, swing, names):
    assert club_and_swing(club, swing) == names


@pytest.mark.parametrize(("written", "part"), [*zip(("3/4", "1/2"), PARTS, strict=True)])
def test_part_swings_of_a_new_player_go_by_the_names_that_sessions_give_them(written, part):
    """Else ``fit --player`` would put a second three quarter wedge beside the estimated one."""
    assert club_and_swing("PW", written)[1] == part[0]
