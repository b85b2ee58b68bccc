"""``simcaddie draw`` and ``compare --figure``: a file of the kind asked for, or one clear message."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

STARTS = {"map.png": b"\x89PNG", "map.svg": b"<?xml", "map.pdf": b"%PDF"}


@pytest.mark.parametrize("name", STARTS)
def test_a_map_in_each_format(simcaddie, name):
    ran = simcaddie("draw", "millpond", "-o", name)
    assert (ran.code, ran.err) == (0, f"Drawn: {name}\n")
    assert Path(name).read_bytes().startswith(STARTS[name])


def test_with_a_player_and_as_data(simcaddie):
    ran = simcaddie("draw", "curlew-inlet", "--player", "wren", "--club", "driver", "-o", "map.png", "--json", "-")
    assert ran.code == 0
    assert [shown["swing"] for shown in json.loads(ran.out)["patterns"]] == ["driver"]
    assert Path("map.png").exists()


def test_a_figure_beside_the_table(compare):
    ran = compare("--club", "driver", "--aim", "0:0:1", "--figure", "options.png")
    assert ran.code == 0
    assert Path("options.png").read_bytes().startswith(STARTS["map.png"])


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("-o", "no/map.png"), "no/map.png"),
        (("-o", "map.xyz"), "a figure is written as .png, .svg or .pdf"),
        (("-o", "."), "a figure is written as .png, .svg or .pdf"),
        (("--player", "nobody"), "expected a player file, or a demo player by name"),
        (("--player", "wren", "--club", "cleek"), "has no club 'cleek'"),
        (("--tee", "blue"), "Millpond has no tee 'blue'"),
    ],
)
def test_what_can_not_be_drawn(simcaddie, words, told):
    ran = simcaddie("draw", "millpond", *words)
    assert ran.code == 2
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1
