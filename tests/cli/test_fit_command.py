"""``simcaddie fit``: from sessions to a player file."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from simcaddie.io.player import read_player

SESSIONS = Path(__file__).parents[2] / "examples" / "sessions"
MONDAY, FRIDAY = SESSIONS / "monday-ladder.csv", SESSIONS / "friday-mixed.csv"
SUNDAY = SESSIONS / "sunday-few.csv"
BY_HAND = ("--column", "club=What", "--column", "carry=Air", "--column", "total=Rolled out")


def rows(out: str) -> dict[str, list[str]]:
    """Return the fields of the table's rows, by swing."""
    found = {}
    lines = out.split("carry, side:", maxsplit=1)[0].splitlines()
    wide = lines[[line.startswith("swing ") for line in lines].index(True)].index("balls")
    for line in lines:
        title = line[:wide].strip()
        if title and line[wide:].strip()[:1].isdigit():
            found[title] = line[wide:].split()
    return found


def test_two_sessions_become_a_player(simcaddie):
    ran = simcaddie("fit", MONDAY, FRIDAY, "-o", "me.yaml", "--name", "Invented pupil")
    assert (ran.code, ran.err) == (0, "Written: me.yaml\n")
    player = read_player("me.yaml")
    assert player.name == "Invented pupil"
    table = rows(ran.out)
    assert set(table) == {swing.title for swing in player.swings}
    for swing in player.swings:
        assert table[swing.title][0] == str(swing.shots)
        assert float(table[swing.title][1]) == pytest.approx(swing.carry, abs=0.6)
        assert swing.posterior is not None
    assert "Not used, 3 of the rows:" in ran.out
    assert "– monday-ladder.csv:79: carry (column 'Carry (yd)'): expected from 2 to 400 yd, found 0 yd" in " ".join(
        ran.out.split()
    )
    assert "257 of 318 balls (left out: 58 first balls, 3 for the carry), 15 swings" in ran.flat
    assert "`range_to_course` is measured" in ran.flat
    assert Path("me.yaml").read_text("utf-8").startswith("# Fitted by simcaddie from monday-ladder.csv, friday")


def test_the_same_seed_gives_the_same_file(simcaddie):
    for name in ("a.yaml", "b.yaml"):
        simcaddie("fit", FRIDAY, "-o", name)
    assert Path("a.yaml").read_bytes() == Path("b.yaml").read_bytes()


def test_all_three_sessions_go_through_together(simcaddie):
    options = (*BY_HAND, "--newer", "0.5", "--units", "metres", "-o", "me.yaml")
    ran = simcaddie("fit", MONDAY, FRIDAY, SUNDAY, *options)
    assert ran.code == 0
    player = read_player("me.yaml")
    assert player.units == "metres"
    assert {"half sand wedge", "3 wood"} <= {swing.title for swing in player.swings}


def test_a_base_player_keeps_what_was_not_hit_and_few_balls_are_drawn_to_it(simcaddie):
    ran = simcaddie("fit", SUNDAY, *BY_HAND, "--player", "wren", "-o", "me.yaml")
    assert ran.code == 0
    before, after = read_player(Path(__file__).parents[2] / "players" / "wren.yaml"), read_player("me.yaml")
    assert (after.name, after.handicap_index, after.putting) == (before.name, before.handicap_index, before.putting)
    swings = {swing.title: swing for swing in after.swings}
    assert swings["5 wood"] == next(swing for swing in before.swings if swing.title == "5 wood")
    assert swings["driver"].shots == 5
    assert swings["7 iron"].trust == "high"
    told = ran.flat
    assert "All 8 swings miss by the same angle" in told
    assert "From 30 such balls on it replaces `range_to_course`; hit 23 more." in told


def test_data_hold_what_the_table_says(simcaddie):
    ran = simcaddie("fit", MONDAY, "--warm-up", "5", "--json", "-")
    assert (ran.code, ran.err) == (0, "")
    data = json.loads(ran.out)
    assert data["schema"] == "fit/1"
    assert data["warm_up"] == 5
    assert len(data["refused"]) == 2
    swing = next(swing for swing in data["swings"] if swing["club"] == "driver")
    carry = swing["fitted"]["carry"]
    assert carry["low"] < carry["mean"] < carry["high"]
    assert swing["short_of_best"] > 0.7
    assert set(swing["posterior"]) == {"carry", "side", "spread", "side_spread", "mishits"}


def test_details_show_best_balls_and_what_numbers_are_worth(simcaddie):
    ran = simcaddie("fit", MONDAY, "--details")
    assert "short: balls in ten that don't reach the best one" in ran.flat
    assert "Nothing written: -o me.yaml writes the player file." in ran.err


def test_no_file_is_written_over_in_silence(simcaddie):
    Path("mine.yaml").write_text("name: by hand\n")
    ran = simcaddie("fit", MONDAY, "-o", "mine.yaml")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == "mine.yaml: is there already; --force writes over it, or choose another name\n"
    assert Path("mine.yaml").read_text() == "name: by hand\n"
    assert simcaddie("fit", SUNDAY, *BY_HAND, "-o", "new.yaml").code == 0
    assert simcaddie("fit", SUNDAY, *BY_HAND, "-o", "new.yaml").code == 2
    assert simcaddie("fit", SUNDAY, *BY_HAND, "-o", "new.yaml", "--force").code == 0


TYPED = """\
Club,Swing,Carry Dist,L/R,Off line
7,,145,L,5
Seven,,147,R,3
7i,,fat,,
7 iron,,150,R,2
7i,,top,,
Dr,,180,L,20
Dr,,170 thin,R,10
spoon,,170,R,10
putter,,1,R,1
7i,,x,R,1
SW,half,thin,,
"""


def test_what_coaches_type_is_read_and_what_is_left_out_is_counted(simcaddie):
    assert simcaddie("new-player", "--index", "18", "--driver", "200", "-o", "new.yaml").code == 0
    Path("s.csv").write_text(TYPED)
    ran = simcaddie("fit", "s.csv", "--player", "new.yaml", "-o", "me.yaml", "--json", "fit.json")
    assert ran.code == 0
    assert "7 of 11 balls (left out: 2 for the club, 2 for the carry), 2 swings" in ran.flat
    assert "s.csv:11: carry (column 'Carry Dist'): expected a number, or fat, thin or top, found 'x'" in ran.flat
    assert "s.csv:12: carry (column 'Carry Dist'): expected another ball of the half sand wedge" in ran.flat
    iron = next(swing for swing in json.loads(Path("fit.json").read_text())["swings"] if swing["club"] == "7 iron")
    assert iron["balls"] == 5
    assert iron["raw"]["side"] == pytest.approx(0.0)
    assert iron["fitted"]["mishits"]["mean"] > 0.14


def test_estimated_clubs_are_carried_along_with_measured_ones_and_stay_marked(simcaddie):
    simcaddie("new-player", "--index", "18", "--driver", "200", "-o", "new.yaml")
    Path("s.csv").write_text("club,carry,side\n" + "7i,165,1\n7i,168,-2\n7i,163,3\n" * 20)
    assert simcaddie("fit", "s.csv", "--player", "new.yaml", "-o", "me.yaml").code == 0
    before, after = ({s.title: s for s in read_player(f"{name}.yaml").swings} for name in ("new", "me"))
    carries = [swing.carry for swing in after.values() if swing.name == "full"]
    assert carries == sorted(carries, reverse=True)
    assert after["6 iron"].carry > after["7 iron"].carry + 3
    assert after["8 iron"].carry > before["8 iron"].carry
    assert not after["7 iron"].guessed
    assert after["6 iron"].estimated
    told = simcaddie("gaps", "me.yaml").out
    assert f"~{after['6 iron'].carry:.0f}" in told
    assert f" {after['7 iron'].carry:.0f} " in told
    assert "~ estimated, not measured" in told


def test_a_half_set_keeps_what_is_asked_for(simcaddie):
    clubs = "Dr, 5w, seven, 9i, 56, putter"
    simcaddie("new-player", "--index", "30", "--driver", "90", "--clubs", clubs, "-o", "j.yaml")
    assert [club.name for club in read_player("j.yaml").bag] == ["driver", "5 wood", "7 iron", "9 iron", "56° wedge"]
    Path("s.csv").write_text("club,carry,side\n" + "7i,70,1\n" * 4)
    kept = ("fit", "s.csv", "--player", "j.yaml", "--force", "-o", "me.yaml", "--keep")
    assert simcaddie(*kept, "56, 5w").code == 0
    assert [club.name for club in read_player("me.yaml").bag] == ["5 wood", "7 iron", "56° wedge"]
    assert simcaddie(*kept, "none").code == 0
    assert [club.name for club in read_player("me.yaml").bag] == ["7 iron"]
    ran = simcaddie(*kept, "3w")
    assert (ran.code, ran.err) == (
        2,
        "--keep: expected clubs of the bag, as 'driver, 5 wood, 7 iron', found '3w'; did you mean '5 wood'?\n",
    )


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("none.csv",), "none.csv: expected a file, found none of that name"),
        ((MONDAY, "--units", "miles"), "--units: expected yards or metres, found 'miles'"),
        ((MONDAY, "--column", "carry"), '--column: expected KEY=HEADER, as carry="Air [m]", found \'carry\''),
        ((MONDAY, "--column", "speed=x"), "--column: expected one of club, swing, carry"),
        ((MONDAY, FRIDAY, "--column", "carry=Far"), "expected a column of the sessions for carry, found 'Far'"),
        ((MONDAY, "--column", "carry=Far"), "with the columns 'Far'"),
        ((MONDAY, "--player", "nobody"), "nobody: expected a player file"),
        ((MONDAY, "-o", "no/me.yaml"), "can't write no/me.yaml: no such file or directory"),
        ((MONDAY, "--newer", "0"), "--newer"),
    ],
)  # fmt: skip
def test_what_makes_no_sense(simcaddie, words, told):
    ran = simcaddie("fit", *words)
    assert ran.code == 2
    assert told in " ".join(ran.err.split())


def test_bad_files_are_told_by_row(simcaddie):
    Path("bad.csv").write_text("club,carry,side\n7 iron,far,2\nspoon,120,2\n")
    ran = simcaddie("fit", "bad.csv")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.splitlines() == [
        "bad.csv:2: carry: expected a number, or fat, thin or top, found 'far'",
        "bad.csv:3: club: expected a club it knows, or one of the --player's bag, found 'spoon'",
    ]


def test_a_session_of_misread_balls_alone_is_refused(simcaddie):
    Path("bad.csv").write_text("club,carry,side\n7 iron,0,0\n7 iron,999,0\n")
    ran = simcaddie("fit", "bad.csv", "-o", "me.yaml")
    assert ran.code == 2
    assert "bad.csv:2: carry: expected from 2 to 400 yd, found 0 yd" in ran.err
    assert not Path("me.yaml").exists()


@pytest.mark.parametrize("count", [10_000, pytest.param(100_000, marks=pytest.mark.slow)])
def test_many_rows_go_through(simcaddie, count):
    rng = np.random.default_rng(3)
    balls = rng.normal((123, 2), (8, 7), (count, 2))
    Path("big.csv").write_text("club,carry,side\n" + "".join(f"7 iron,{c:.1f},{s:.1f}\n" for c, s in balls))
    ran = simcaddie("fit", "big.csv", "-o", "me.yaml")
    assert ran.code == 0
    (swing,) = read_player("me.yaml").swings
    assert (swing.carry, swing.carry_sd, swing.side_sd) == pytest.approx((123.0, 8.0, 7.0), abs=0.15)


def test_long_titles_cut_no_number_and_a_new_players_part_swing_is_replaced(simcaddie):
    assert simcaddie("new-player", "--index", "2", "--driver", "230", "-o", "new.yaml").code == 0
    Path("s.csv").write_text("club,swing,carry,side\n" + "PW,3/4,93,1\n" * 6)
    ran = simcaddie("fit", "s.csv", "--player", "new.yaml", "--details", "-o", "me.yaml")
    assert ran.code == 0
    assert "…" not in ran.out
    before, after = (read_player(Path(f"{name}.yaml")) for name in ("new", "me"))
    assert [swing.title for swing in after.swings] == [swing.title for swing in before.swings]
    assert [swing.title for swing in after.swings if swing.shots] == ["three quarter pitching wedge"]
