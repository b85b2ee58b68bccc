"""The round on the range as a state machine: lines in, states out, the same again from a journal."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from helpers import club_golfer
from strategy.small_courses import short

from simcaddie.base.errors import BadRequest
from simcaddie.console.terminal import plain
from simcaddie.course.course import Course
from simcaddie.decision.struck import Struck
from simcaddie.decision.walk import Walk
from simcaddie.features.range_round.analysis import Game, Row, State, ball_of, begin, new_rows, replay, step
from simcaddie.features.range_round.present import card, opening, question, range_data, reply
from simcaddie.fitting.session import Ball
from simcaddie.io.find import find_hole, find_player
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player


@cache
def game() -> Game:
    course = Course("Two (invented)", (short(120.0, 1), short(150.0, 2)), ("1.yaml", "2.yaml"))
    return Game(Walk(course, club_golfer()), (1, 2))


LINES = ("8 iron, pin", "119 3R", "2", "6 iron", "fat 80", "sand wedge, pin", "69 1L", "pick up")


def played(*lines: object, start: State | None = None) -> State:
    state = begin(game()) if start is None else start
    for line in lines:
        state = step(game(), state, line)
    return state


def test_a_stroke_takes_a_choice_and_a_ball():
    state = begin(game())
    assert state.phase == "choose"
    state = played("8 iron, pin")
    assert (state.phase, state.option.aim) == ("hit", pytest.approx(0.0))
    state = played("8 iron, pin", "121 3R")
    assert state.phase in ("putt", "choose")
    assert len(state.shots) == 1
    assert state.shots[0].ball == Struck(121.0, 3.0, "solid")


def test_a_hole_adds_up_and_the_next_one_begins():
    state = played("8 iron, pin", "119 0", "2")
    assert (state.hole, state.phase, state.shots) == (1, "choose", ())
    (ledger,) = state.done
    assert ledger.strokes == 3
    assert sum(ledger.parts) == pytest.approx(ledger.score - ledger.expected, abs=1e-12)
    assert ledger.putted.taken == 2


def test_putts_are_drawn_where_none_are_typed_and_the_same_again():
    one, two = (played("8 iron, pin", "119 0", "").done[0].putted for _ in range(2))
    assert one == two
    assert 1 <= one.taken <= 5


def test_picking_up_counts_what_was_still_needed():
    state = played("8 iron, pin", "fat 60", "pick up")
    (ledger,) = state.done
    assert ledger.left == pytest.approx(ledger.reckoner.worth(ledger.entries[0].after))
    assert sum(ledger.parts) == pytest.approx(ledger.score - ledger.expected, abs=1e-12)


def test_the_same_lines_give_the_same_round_whenever_it_was_interrupted():
    whole = replay(game(), LINES)
    for cut in range(len(LINES)):
        again = replay(game(), LINES[cut:], replay(game(), LINES[:cut]))
        assert range_data(game(), again, {}) == range_data(game(), whole, {})
    assert whole.over


def test_lines_that_cannot_be_read_change_nothing():
    for start in (played(), played("8 iron, pin")):
        for line in ("", "nine wood, pin", "8 iron, nowhere", "12x", "900 0", "100 160R"):
            with pytest.raises(BadRequest):
                step(game(), start, line) if not (start.phase == "hit" and line == "") else step(game(), start, "x")
    lines = ["no such club", *LINES[:2], "??", *LINES[2:]]
    assert range_data(game(), replay(game(), lines), {}) == range_data(game(), replay(game(), LINES), {})


def test_best_play_is_told_when_asked_for_and_that_is_kept():
    asked = played("?")
    told = plain(reply(game(), begin(game()), asked))
    assert "strokes from here" in told
    assert played("?", "8 iron, pin", "119 0", "2").done[0].entries[0].asked
    assert not played("8 iron, pin", "119 0", "2").done[0].entries[0].asked


def test_nothing_of_best_play_is_said_before():
    start = begin(game())
    said = plain(opening(game(), start)) + question(game(), start)
    plan = game().reckoner(start).best(start.place)[0]
    assert game().player.swings[plan.swing].title not in said.split("Type")[0].replace("7 iron", "")
    assert "Rule 4.3" in said
    assert "within reach" in " ".join(said.split())


def test_undo_takes_choices_and_balls_back_and_the_luck_stays():
    hit = played("8 iron, pin", "119 0")
    assert replace(played("8 iron, pin", "119 0", "undo"), before=None) == replace(played("8 iron, pin"), before=None)
    again = played("8 iron, pin", "100 0", "undo", "119 0")
    assert again.place == hit.place
    with pytest.raises(BadRequest, match="nothing to take back"):
        played("undo")


@pytest.mark.parametrize(
    ("words", "ball"),
    [
        ("168 6R", Struck(168.0, 6.0)), ("168 6 l", Struck(168.0, -6.0)), ("168, L 6", Struck(168.0, -6.0)),
        ("142,5 -3", Struck(142.5, -3.0)), ("168", Struck(168.0, 0.0)), ("fat 120", Struck(120.0, 0.0, "fat")),
        ("95 4L thin", Struck(95.0, -4.0, "thin")), ("150 yd 3 right", Struck(150.0, 3.0)),
        ("topped 40 2r", Struck(40.0, 2.0, "thin")),
    ],
)  # fmt: skip
def test_balls_as_people_type_them(words, ball):
    assert ball_of(words.lower(), "yards") == ball


def test_balls_in_metres_are_yards_inside():
    assert ball_of("100 10r", "metres").carry == pytest.approx(109.361, abs=1e-3)
    assert ball_of("100 m 10r", "yards").side == pytest.approx(10.936, abs=1e-3)
    with pytest.raises(BadRequest, match="expected carry and side"):
        ball_of("far 10r", "yards")


def test_a_devices_row_counts_only_for_the_club_that_was_chosen():
    state = played("8 iron, pin")
    row = Row("8 iron", "full", 121.0, 3.0, 130.0, 7)
    assert step(game(), state, row).shots[0].ball.carry == 121.0
    assert step(game(), state, row).shots[0].total == 130.0
    with pytest.raises(BadRequest, match=r"row 7: a ball of the driver, not of the 8 iron"):
        step(game(), state, replace(row, club="driver"))
    with pytest.raises(BadRequest, match="before a club was chosen"):
        step(game(), begin(game()), row)


def test_rows_of_the_device_that_repeat_or_are_old_are_left_out():
    def ball(line: int, order: float | None, carry: float = 120.0) -> Ball:
        return Ball("8 iron", "full", carry, 1.0, None, order, line=line)

    rows, said = new_rows([ball(2, 1), ball(3, 2), ball(4, 2, 118.0), ball(5, 3)], 2)
    assert [row.line for row in rows] == [3, 5]
    assert said == ["row 4 repeats an earlier one: left out"]
    rows, said = new_rows([ball(2, None), ball(3, None), ball(4, None, 99.0)], 0)
    assert [row.line for row in rows] == [2, 4]
    assert "row 3" in said[0]


def test_everything_fits_eighty_columns_and_the_card_adds_up(monkeypatch):
    monkeypatch.setattr("simcaddie.console.terminal.PLAIN_WIDTH", 80)
    state, texts = begin(game()), []
    for line in LINES:
        after = step(game(), state, line)
        texts.append(plain(reply(game(), state, after)))
        state = after
    texts.append(plain(card(game(), state)))
    for text in texts:
        assert max(map(len, text.splitlines()), default=0) <= 80
        assert "…" not in text
    data = range_data(game(), state, {"journal": "j", "session": None})
    assert data["schema"] == "range-round/1"
    for hole in data["holes"]:
        assert sum(hole["parts"].values()) == pytest.approx(hole["score"] - hole["expected"], abs=1e-9)
        parts = [stroke[part] for stroke in hole["strokes"] for part in ("choice", "execution", "luck")]
        assert sum(parts) + hole["parts"]["putts"] == pytest.approx(hole["score"] - hole["expected"], abs=1e-9)


# ─── The hole that the guide plays ──────────────────────────────────────────────────────────────────────────────────

PAGE = Path(__file__).parents[2] / "examples" / "guide" / "range-and-review.md"
ASKED = re.compile(r"^(?:.*(?:Club, target|Carry and side|putting model\)))\? ?(.*)$", re.MULTILINE)


@pytest.mark.skipif(not PAGE.exists(), reason="the guide stands in a checkout only")
def test_the_hole_that_the_guide_shows_is_what_is_said():
    (hole, player, shown), *_ = re.findall(
        r"<!-- typed: (\S+) (\S+) -->\n```text\n(.*?)```", PAGE.read_text(), re.DOTALL
    )
    record = read_hole(find_hole(hole))
    course = Course(record.name, (record,), (hole,), units=record.units)
    guide = Game(Walk(course, read_player(find_player(player))), (1,))
    state, lines = begin(guide), ASKED.findall(shown)
    assert len(lines) > 5
    for line in lines:
        state = step(guide, state, line)
    assert state.over
    (ledger,) = state.done
    score, expected, *parts = re.findall(r"score (\d+), expected (\d\.\d+) +(\S+) +(\S+) +(\S+) +(\S+)", shown)[0]
    assert (ledger.score, ledger.expected) == (int(score), pytest.approx(float(expected), abs=0.02))
    assert ledger.parts == pytest.approx([float(part) for part in parts], abs=0.03)
