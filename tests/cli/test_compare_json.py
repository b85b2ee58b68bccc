"""``simcaddie compare --json``: only JSON, with the keys promised, best first."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

TOP = {"schema", "hole", "player", "from", "pin", "strokes_received", "net_par", "seed", "options"}
OPTION = {
    "club", "swing", "aim_deg", "mean", "se", "diff", "diff_se", "level", "net_par_or_better", "blow_up", "stableford",
    "penalty_strokes", "finish", "leave_yd", "score_law",
}  # fmt: skip


@pytest.fixture
def data(compare):
    def ask(*words: str, **names: str) -> dict:
        ran = compare("--json", "-", *words, **names)
        assert (ran.code, ran.err) == (0, "")
        return json.loads(ran.out)

    return ask


def test_keys_are_those_promised(data):
    answer = data("--seed", "3")
    assert answer.keys() >= TOP
    assert answer["schema"] == "compare/1"
    assert (answer["hole"], answer["player"]) == ("Curlew Inlet", "Wren, index 13.6")
    assert (answer["from"], answer["pin"], answer["seed"]) == ("white tee", "middle", 3)
    assert (answer["strokes_received"], answer["net_par"]) == (1, 5)
    assert all(option.keys() >= OPTION for option in answer["options"])


def test_options_stand_best_first_level_ones_ahead(data):
    options = data("--sequences", "8000")["options"]
    lowest = min(option["mean"] for option in options)
    assert options[0]["level"]
    assert [o["level"] for o in options] == sorted((o["level"] for o in options), reverse=True)
    assert all(option["level"] == (option["mean"] - lowest <= 0.05) for option in options)
    rest = [option["mean"] for option in options if not option["level"]]
    assert rest == sorted(rest)
    assert len({(option["club"], option["swing"]) for option in options}) == len(options)


def test_shares_add_up_and_agree_with_each_other(data):
    answer = data("--strokes", "1")
    for option in answer["options"]:
        pmf = {int(score): share for score, share in option["score_law"].items()}
        assert sum(pmf.values()) == pytest.approx(1.0, abs=1e-4)
        assert sum(option["finish"].values()) == pytest.approx(1.0, abs=1e-4)
        assert sum(s * p for s, p in pmf.items()) == pytest.approx(option["mean"], abs=1e-4)
        good = sum(p for s, p in pmf.items() if s <= answer["net_par"])
        bad = sum(p for s, p in pmf.items() if s >= answer["net_par"] + 2)
        assert (good, bad) == pytest.approx((option["net_par_or_better"], option["blow_up"]), abs=1e-5)


def test_the_difference_is_paired_with_the_lowest_mean(data):
    every = data()["options"]
    options = [option for option in every if option["behind_best_of_others"]]  # those played out in full
    assert len({option["sequences"] for option in options}) == 1
    assert all(option["sequences"] < options[0]["sequences"] for option in every if option not in options)
    lowest = min(options, key=lambda option: option["mean"])
    assert lowest["diff"] == lowest["diff_se"] == 0.0
    for option in options:
        assert option["diff"] == pytest.approx(option["mean"] - lowest["mean"], abs=1e-5)


def test_all_aims_are_in_the_data(data):
    options = data("--club", "driver", "--aim", "-4:4:2", "--all-aims")["options"]
    assert sorted(option["aim_deg"] for option in options) == [-4, -2, 0, 2, 4]


def test_aim_is_from_the_line_to_the_pin_that_is_asked_for(data):
    answer = data("--club", "driver", "--aim", "0:0:1", "--pin", "back")
    assert answer["pin"] == "back"
    assert answer["options"][0]["aim_deg"] == 0


def test_a_file_gets_the_same_data_and_the_table_is_still_printed(compare):
    words = ("--club", "driver", "--aim", "0:0:1")
    ran = compare(*words, "--json", "answer.json")
    assert ran.code == 0
    assert "Curlew Inlet, par 4" in ran.out
    assert Path("answer.json").read_text("utf-8") == compare(*words, "--json", "-").out


def test_doubt_stands_in_the_data_and_under_the_table(data, compare):
    doubt = data("--doubt", "20")["doubt"]
    assert doubt["redraws"] == 20
    assert sum(option["best_share"] for option in doubt["options"]) == pytest.approx(1.0)
    assert {"value", "balls", "balls_value", "title"} == doubt["worth_knowing"][0].keys()
    assert doubt["best_ball"]["costs_strokes"] > 0.0
    printed = " ".join(compare("--doubt", "20").out.split())
    assert "The player redrawn 20 times" in printed
    assert all(sentence in printed for sentence in doubt["sentences"])


def test_a_player_redrawn_once_is_refused(compare):
    ran = compare("--doubt", "1")
    assert (ran.code, ran.out) == (2, "")
    assert "--doubt" in ran.err
