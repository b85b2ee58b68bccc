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
    for line in out.split("raw:", maxsplit=1)[0].splitlines()[4:]:
        title = line[:20].strip()
        if title:
            found[title] = line[20:].split()
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
        assert float(table[swing.title][2]) == pytest.approx(swing.carry, abs=0.6)
        assert swing.posterior is not None
    assert "Not used, 3 of the rows:" in ran.out
    assert f"{MONDAY}:79: carry: expected from 2 to 400 yd, found 0 yd" in ran.out
    assert "`range_to_course` is measured" in " ".join(ran.out.split())
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
    told = " ".join(ran.out.split())
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
    assert "short: balls in ten that don't reach the best one" in ran.out
    assert "Nothing written: -o me.yaml writes the player file." in ran.err


def test_a_file_that_fit_has_not_written_is_not_written_over(simcaddie):
    Path("mine.yaml").write_text("name: by hand\n")
    ran = simcaddie("fit", MONDAY, "-o", "mine.yaml")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == "mine.yaml: is there already, and not by `fit`; choose another name, or move it away\n"
    assert Path("mine.yaml").read_text() == "name: by hand\n"
    assert simcaddie("fit", MONDAY, "-o", "new.yaml").code == 0
    assert simcaddie("fit", MONDAY, "-o", "new.yaml").code == 0


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
        "bad.csv:2: carry: expected a number, found 'far'",
        "bad.csv:3: club: expected a club it knows, or one of the --player's bag, found 'spoon'",
    ]


def test_a_session_of_misread_balls_alone_is_refused(simcaddie):
    Path("bad.csv").write_text("club,carry,side\n7 iron,0,0\n7 iron,999,0\n")
    ran = simcaddie("fit", "bad.csv", "-o", "me.yaml")
    assert ran.code == 2
    assert "bad.csv:2: carry: expected from 2 to 400 yd, found 0 yd" in ran.err
    assert not Path("me.yaml").exists()


def test_a_hundred_thousand_rows_go_through(simcaddie):
    rng = np.random.default_rng(3)
    balls = rng.normal((123, 2), (8, 7), (100_000, 2))
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
