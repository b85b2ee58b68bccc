"""``simcaddie range-round``: typed lines in, a card, a session and figures out; interrupted, it goes on."""

from __future__ import annotations

import io
import json
import threading
import time
from pathlib import Path

import pytest
from typing_in import runner

from simcaddie.io.session import read_session

LINES = ("6 iron, pin", "118 4L", "touch, pin", "18 1R", "2")


@pytest.fixture
def simcaddie(capsys, monkeypatch, tmp_path):
    return runner(capsys, monkeypatch, tmp_path)


def typed(*lines: str) -> str:
    return "".join(f"{line}\n" for line in lines)


def play(simcaddie, *options: object, lines=LINES):
    return simcaddie("range-round", "millpond", "wren", *options, typed=typed(*lines))


def test_a_hole_is_played_and_everything_is_there(simcaddie):
    ran = play(simcaddie, "--json", "a.json", "--figure", "a.pdf")
    assert ran.code == 0
    assert max(map(len, ran.out.splitlines())) <= 80
    assert "Rule 4.3" in ran.out
    data = json.loads(Path("a.json").read_text("utf-8"))
    assert data["finished"]
    (hole,) = data["holes"]
    assert sum(hole["parts"].values()) == pytest.approx(hole["score"] - hole["expected"], abs=1e-5)
    assert f"score {hole['score']:.0f}" in ran.out or hole["picked_up"]
    assert Path("a.pdf").read_bytes().startswith(b"%PDF")
    assert "Written: millpond-wren.range.csv" in ran.err


def test_it_goes_on_where_it_was_stopped(simcaddie):
    whole = json.loads(play(simcaddie, "--json", "-", "--journal", "whole.jsonl", "--session", "w.csv").out)
    for cut in range(len(LINES)):
        path = Path(f"{cut}.jsonl")
        options = ("--json", "-", "--journal", path, "--session", f"{cut}.csv")
        first = play(simcaddie, *options, lines=LINES[:cut])
        assert first.code == 0
        assert json.loads(first.out)["finished"] is (cut == len(LINES))
        assert "goes on" in first.err
        again = json.loads(play(simcaddie, *options, lines=LINES[cut:]).out)
        assert again["holes"] == whole["holes"]


def test_a_finished_round_is_shown_again_and_new_begins_another(simcaddie):
    first = play(simcaddie)
    again = play(simcaddie, lines=())
    assert first.out.endswith(again.out)
    ran = play(simcaddie, "--new", lines=())
    assert "The old journal is millpond-wren.range.1.jsonl" in ran.err
    assert Path("millpond-wren.range.1.jsonl").read_text().count("\n") == 1 + len(LINES)
    assert "No hole is finished yet." in ran.out


def test_another_seed_or_player_does_not_go_on_with_the_same_journal(simcaddie):
    play(simcaddie, "--journal", "a.jsonl", lines=LINES[:2])
    ran = play(simcaddie, "--journal", "a.jsonl", "--seed", "2")
    assert ran.code == 2
    assert "a.jsonl: this round was begun otherwise (seed 1, now 2); --new begins another" in ran.err


def test_half_a_line_in_the_journal_is_dropped_with_a_word(simcaddie):
    play(simcaddie, lines=LINES[:2])
    path = Path("millpond-wren.range.jsonl")
    path.write_bytes(path.read_bytes()[:-6])
    ran = play(simcaddie, lines=())
    assert "half a last line was dropped" in ran.err
    assert "Hit the 6 iron" in ran.out


def test_the_balls_are_a_session_of_first_balls(simcaddie):
    play(simcaddie)
    read = read_session("millpond-wren.range.csv")
    (ball,) = read.balls  # touch shots are no swings
    assert (ball.club, ball.carry, ball.side, ball.first) == ("6 iron", 118.0, -4.0, True)
    ran = simcaddie("fit", "millpond-wren.range.csv", "--player", "wren", "-o", "me.yaml")
    assert ran.code == 0
    Path("other.csv").write_text("mine\n")
    ran = play(simcaddie, "--journal", "b.jsonl", "--session", "other.csv")
    assert ran.code == 2
    assert Path("other.csv").read_text() == "mine\n"


def test_lines_that_make_no_sense_are_told_and_asked_again(simcaddie):
    ran = play(simcaddie, lines=("nine wood", "6 iron, the moon", "6 iron, pin", "far", *LINES[1:]))
    assert "Expected a club and a target" in ran.err
    assert "Expected carry and side" in ran.err
    assert "Traceback" not in ran.err
    assert json.loads(play(simcaddie, "--json", "-", lines=()).out)["finished"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("millpond", "nobody"), "nobody"),
        (("nowhere", "wren"), "nowhere"),
        (("millpond", "wren", "--holes", "3"), "has 1 holes, no hole 3"),
        (("millpond", "wren", "--tee", "gold"), "no tee 'gold'"),
        (("millpond", "wren", "--pin", "any"), "one pin a hole"),
        (("millpond", "wren", "--figure", "a.doc"), "a.doc"),
        (("millpond", "wren", "--journal", "no/folder.jsonl"), "can't be written"),
    ],
)
def test_bad_requests_are_one_clear_error(simcaddie, words, told):
    ran = simcaddie("range-round", *words)
    assert (ran.code, ran.out) == (2, "")
    assert told in ran.err
    assert not list(Path().iterdir())


class Slow(io.StringIO):
    """Typed lines that wait: a float is a pause in seconds before the next one."""

    def __init__(self, *parts: str | float) -> None:
        super().__init__()
        self.parts = list(parts)

    def readline(self, *_size: int) -> str:
        while self.parts and isinstance(self.parts[0], float):
            time.sleep(self.parts.pop(0))
        return f"{self.parts.pop(0)}\n" if self.parts else ""


def test_a_device_is_followed_over_pauses_halves_and_repeats(simcaddie):
    device = Path("device.csv")
    device.write_text("No,Club,Carry (yd),Side (yd)\n1,driver,150,9\n")

    def grow() -> None:
        time.sleep(0.8)
        for text in ("2,6 iron,11", "8,-4\n", "2,6 iron,118,-4\n", "3,driver,100,0\n"):
            with device.open("a") as file:
                file.write(text)
            time.sleep(0.5)

    grower = threading.Thread(target=grow)
    grower.start()
    lines = Slow("6 iron, pin", 3.5, *LINES[2:])
    ran = simcaddie("range-round", "millpond", "wren", "--follow", "device.csv", "--json", "a.json", typed=lines)
    grower.join()
    data = json.loads(Path("a.json").read_text())
    assert data["finished"]
    assert data["holes"][0]["strokes"][0]["ball"]["carry"] == 118.0
    assert data["holes"][0]["strokes"][0]["ball"]["side"] == -4.0
    assert "balls up to line 2 are from before the round" in ran.err
    assert "row 4 repeats an earlier one: left out" in ran.err
    assert "Row 5: a ball was hit before a club was chosen; it is left out" in ran.err
    entries = [json.loads(line) for line in Path("millpond-wren.range.jsonl").read_text().splitlines()]
    assert {"older": 2} in entries
