"""``simcaddie gaps`` and ``simcaddie card``."""

from __future__ import annotations

import json
import re
from itertools import pairwise
from pathlib import Path

import pytest

from simcaddie.io.find import find_player
from simcaddie.io.player import read_player


def test_gaps_are_a_table_of_every_swing(simcaddie):
    ran = simcaddie("gaps", "slow-swing-30")
    assert (ran.code, ran.err) == (0, "")
    for swing in read_player(find_player("slow-swing-30")).swings:
        (line,) = [line for line in ran.out.splitlines() if re.match(rf"{swing.title} ", line)]
        assert line.split(swing.title)[1].split()[0] == f"{swing.carry:.0f}"
    assert "A gap of 17 yd between pitching wedge (73) and sand wedge (56): few balls land in it." in ran.flat


def test_gaps_as_data(simcaddie):
    data = json.loads(simcaddie("gaps", "wren", "--json", "-").out)
    assert data["schema"] == "gaps/1"
    swings = data["swings"]
    for longer, shorter in pairwise(swings):
        assert longer["to_next"] == pytest.approx(longer["average"] - shorter["average"], abs=1e-5)
        assert longer["clear_to_next"] == pytest.approx(
            longer["middle_half"][0] - shorter["middle_half"][1], abs=1e-5
        )
    assert "to_next" not in swings[-1]


@pytest.mark.parametrize("kind", ["png", "svg", "pdf"])
def test_gaps_are_drawn_the_same_every_time(simcaddie, kind):
    for name in "ab":
        ran = simcaddie("gaps", "scratch", "--figure", f"{name}.{kind}")
        assert ran.err == f"Drawn: {name}.{kind}\n"
    assert Path(f"a.{kind}").read_bytes() == Path(f"b.{kind}").read_bytes()


def test_the_card_is_one_small_page_without_a_date_and_the_same_every_time(simcaddie):
    for name in "ab":
        ran = simcaddie("card", "wren", "-o", f"{name}.pdf")
        assert (ran.code, ran.out, ran.err) == (0, "", f"Drawn: {name}.pdf\n")
    content = Path("a.pdf").read_bytes()
    assert content == Path("b.pdf").read_bytes()
    (box,) = re.findall(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", content)
    assert float(box[0]) <= 4.25 * 72
    assert float(box[1]) <= 7 * 72
    assert b"CreationDate" not in content
    assert content.count(b"/Type /Page ") == 1


def test_the_card_as_data_has_no_best_balls(simcaddie):
    ran = simcaddie("card", "wren", "--json", "card.json")
    assert Path("card.pdf").exists()
    data = json.loads(Path("card.json").read_text("utf-8"))
    assert {key for row in data["swings"] for key in row} == {
        "club", "swing", "average", "eight_in_ten_beat", "miss", "trust", "estimated",
    }  # fmt: skip
    assert ran.code == 0


@pytest.mark.parametrize("command", ["gaps", "card"])
def test_unknown_players_are_refused(simcaddie, command):
    ran = simcaddie(command, "club-81")
    assert (ran.code, ran.out) == (2, "")
    assert "club-81: expected a player file" in ran.err


def test_a_card_of_another_kind_is_refused(simcaddie):
    ran = simcaddie("card", "wren", "-o", "card.doc")
    assert ran.code == 2
    assert "a figure is written as .png, .svg or .pdf" in ran.err
