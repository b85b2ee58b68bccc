"""``simcaddie plan``: words for a coach, the same as data, a figure, or one clear message."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

TOP = {"schema", "hole", "player", "from", "pin", "mean", "strokes_law", "legs", "avoid", "fairway", "by_place"}
LEG = {"club", "aim", "aim_deg", "from", "lie", "left_yd", "to_go", "finish", "finish_lie", "leaves_yd", "level"}
AVOID = {"area", "cost", "share", "near_yd", "far_yd", "counted_from", "against"}


@pytest.fixture
def plan(simcaddie):
    def run(*words, hole="millpond", player="wren"):
        return simcaddie("plan", hole, player, *words)

    return run


def flat(text: str) -> str:
    return " ".join(text.split())


def test_words_for_a_coach(plan):
    ran = plan()
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[0] == "Millpond, par 3, from the white tee, middle pin"
    assert lines[1].startswith("Wren, index 13.6: 3.")
    assert "1. From the white tee, 150 yd from the pin: " in ran.out
    assert "– the millpond at 63–118: " in ran.out
    assert "Rule 4.3" in ran.out
    assert "lightning" in ran.out
    assert max(map(len, lines)) <= 100


def test_data_says_the_same(plan):
    ran = plan("--json", "-", "--seed", "2")
    assert (ran.code, ran.err) == (0, "")
    data = json.loads(ran.out)
    assert data.keys() >= TOP
    assert data["schema"] == "plan/1"
    assert all(leg.keys() >= LEG for leg in data["legs"])
    assert all(danger.keys() >= AVOID for danger in data["avoid"])
    assert sum(data["strokes_law"].values()) == pytest.approx(1.0, abs=1e-4)
    mean = sum(int(strokes) * share for strokes, share in data["strokes_law"].items())
    assert mean == pytest.approx(data["mean"], abs=1e-3)
    assert data["legs"][0]["to_go"] == pytest.approx(data["mean"], abs=1e-5)
    printed = flat(plan("--seed", "2").out)
    for item in (*data["legs"], *data["avoid"]):
        assert item["words"] in printed


def test_the_best_club_by_place_is_a_table(plan):
    table = json.loads(plan("--json", "-").out)["by_place"]
    assert table["cell_yd"] == 10
    assert table["columns"] == ["x", "y", "lie", "club", "to_go"]
    assert all(len(row) == 5 for row in table["rows"])
    assert all(row[0] % 10 == 5 and row[1] % 10 == 5 for row in table["rows"])
    assert all(1 < row[4] < 13 for row in table["rows"])


def test_a_file_gets_the_same_data_and_the_words_are_still_printed(plan):
    ran = plan("--json", "plan.json")
    assert "Millpond, par 3" in ran.out
    assert Path("plan.json").read_text("utf-8") == plan("--json", "-").out


def test_from_a_spot_with_a_figure(plan):
    ran = plan("--from", "hillside", "--figure", "plan.png", "--verbose", hole="weir-lawn")
    assert ran.code == 0
    assert "from the spot hillside" in ran.out
    assert Path("plan.png").read_bytes().startswith(b"\x89PNG")
    told = ran.err.splitlines()
    assert told[0] == "Drawn: plan.png"
    assert "places" in told[1]
    assert told[2].startswith("Done in ")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--tee", "blue"), "Millpond has no tee 'blue'"),
        (("--from", "moon"), "Millpond has no spot 'moon'"),
        (("--pin", "any"), "Millpond has no pin 'any'"),
        (("--tee", "white", "--from", "drop"), "ask from a tee or from a spot"),
        (("--figure", "plan.xyz"), "a figure is written as .png, .svg or .pdf"),
    ],
)
def test_what_can_not_be_planned(plan, words, told):
    ran = plan(*words)
    assert ran.code == 2
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1
