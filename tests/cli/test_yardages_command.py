"""``simcaddie yardages``: the numbers for a notebook, as a table and as data."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from simcaddie.io.find import find_hole
from simcaddie.io.hole import read_hole


def data(ran) -> dict:
    assert (ran.code, ran.err) == (0, "")
    return json.loads(ran.out)


def test_the_table_has_green_pins_and_every_hazard(simcaddie):
    ran = simcaddie("yardages", "millpond")
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[0] == "Millpond, from the white tee, line at the pin. Yards."
    assert lines[1].startswith("Green: front ")
    assert "middle pin 150" in lines[1]
    for name in ("millpond", "gorse", "front bunker", "back bunker", "bank bunker"):
        assert sum(line.startswith(name) for line in lines) == 1
    assert lines[-1].startswith("Reach and carry are along the line")


def test_data_agrees_with_the_hole_file(simcaddie):
    answer = data(simcaddie("yardages", "curlew-inlet", "--json", "-"))
    hole = read_hole(find_hole("curlew-inlet"))
    assert answer["schema"] == "yardages/1"
    assert answer["from"] == "white tee"
    assert answer["green"]["front"] < answer["green"]["middle"] < answer["green"]["back"]
    assert answer["green"]["pins"]["middle"] == pytest.approx(math.dist(hole.tees["white"], hole.pin()), abs=1e-3)
    for hazard in answer["hazards"]:
        assert hazard["nearest"] < hazard["farthest"]
        assert (hazard["reach"] is None) == (hazard["carry"] is None)
        assert hazard["reach"] is None or hazard["nearest"] - 1e-6 <= hazard["reach"] <= hazard["carry"]


def test_the_forward_tee_is_nearer_and_a_spot_nearer_still(simcaddie):
    far = [
        data(simcaddie("yardages", "curlew-inlet", *words, "--json", "-"))["green"]["middle"]
        for words in ((), ("--tee", "red"), ("--from", "over_the_corner"))
    ]
    assert far[0] > far[1] + 25 > far[2] + 100


def test_the_line_moves_with_the_aim(simcaddie):
    ran = simcaddie("yardages", "curlew-inlet", "--aim", "-13.5")
    assert ran.out.splitlines()[0].endswith("line 14° left. Yards.")
    at_pin, right = (
        {h["name"]: h for h in data(simcaddie("yardages", "curlew-inlet", "--aim", aim, "--json", "-"))["hazards"]}
        for aim in ("0", "22")
    )
    assert at_pin["corner bunker"]["reach"] is None
    assert right["corner bunker"]["reach"] == pytest.approx(217, abs=3)
    assert right["corner bunker"]["nearest"] == at_pin["corner bunker"]["nearest"]


def test_data_in_a_file(simcaddie):
    ran = simcaddie("yardages", "millpond", "--json", "out.json")
    assert "Millpond" in ran.out
    assert json.loads(Path("out.json").read_text("utf-8"))["hole"] == "Millpond"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("millpnd",), "did you mean `millpond`?"),
        (("millpond", "--tee", "blue"), "Millpond has no tee 'blue'; it has "),
        (("millpond", "--from", "x"), "Millpond has no spot 'x'; it has "),
        (("millpond", "--aim", "nan"), "--aim: expected degrees from -360 to 360, found nan"),
        (("millpond", "--aim", "inf"), "--aim: expected degrees from -360 to 360, found inf"),
        (("millpond", "--json", "no/out.json"), "can't write no/out.json: no such file or directory"),
    ],
)
def test_what_makes_no_sense(simcaddie, words, told):
    ran = simcaddie("yardages", *words)
    assert (ran.code, ran.out) == (2, "")
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1
