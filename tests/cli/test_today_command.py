"""``simcaddie today``, and the options of the day on other commands."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

DAYS = Path(__file__).parents[2] / "examples" / "days"


def carries(out: str) -> dict[str, list[str]]:
    lines = out.split("╌╌╌\n", maxsplit=1)[1].split("\n\n", maxsplit=1)[0].splitlines()
    return {line[:20].strip(): line[20:].split() for line in lines}


def test_today_shows_what_the_wind_takes_and_gives(simcaddie):
    into, down = (simcaddie("today", "millpond", "wren", "--wind", f"15 mph {way}") for way in ("into", "helping"))
    assert (into.code, into.err) == (0, "")
    for title, (calm, carry, *_) in carries(into.out).items():
        if not title.startswith("half"):  # a slow ball with much spin is held up about as much as it is held back
            assert int(carry) < int(calm) + 4, title
            assert int(carries(down.out)[title][1]) > int(carry), title
    assert "Rule 4.3" in into.out
    assert "Rule of practice (no source)" in into.out


def test_a_target_says_what_it_plays_as(simcaddie):
    options = ("--target", "120", "--json", "-", "--wind", "15 mph into")
    data = json.loads(simcaddie("today", "millpond", "wren", *options).out)
    (target,) = data["targets"]
    assert target["plays_yd"] > 128
    assert data["day"]["words"] == "15 mph into"


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--target", "0"), "--target: expected yards above 0"),
        (("--wind", "80 mph into"), "--wind: expected a wind up to 60 mph"),
        (("--firmness", "7"), "--firmness: expected soft, ordinary, firm, or a number from 0 to 1, found '7'"),
        (("--day", "none.yaml"), "none.yaml"),
        (("--from", "nowhere"), "no spot 'nowhere'"),
    ],
)
def test_bad_words_are_told_in_a_line(simcaddie, options, told):
    ran = simcaddie("today", "millpond", "wren", *options)
    assert (ran.code, ran.out) == (2, "")
    assert told in ran.err


def test_compare_says_its_day_and_a_standard_day_changes_nothing(compare):
    plain, calm = compare(), compare("--wind", "calm")
    assert "The day: calm" in calm.out
    assert calm.out.replace("The day: calm\n", "") == plain.out
    assert "The day: 12 mph from 45°, 5 °C, soft, greens 7.5 ft" in compare("--day", DAYS / "winter.yaml").out


def test_several_days_side_by_side(compare):
    days = f"{DAYS / 'calm.yaml'},{DAYS / 'winter.yaml'}"
    ran = compare("--club", "driver", "--club", "5 wood", "--days", days)
    assert ran.code == 0
    assert "calm: calm" in ran.out
    assert "winter: 12 mph from 45°" in ran.out
    data = json.loads(compare("--club", "driver", "--club", "5 wood", "--days", days, "--json", "-").out)
    assert [one["name"] for one in data["days"]] == ["calm", "winter"]
    assert data["schema"] == "compare-days/1"
    one_file = compare("--days", str(DAYS / "calm.yaml"))
    assert (one_file.code, one_file.out) == (2, "")
    both = compare("--days", days, "--wind", "calm")
    assert both.code == 2
    assert "--days goes with the question alone" in both.err
