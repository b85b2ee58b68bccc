"""``simcaddie lesson``."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

QUICK = ("--sequences", "200", "--then", "sound")
IRONS = ("--options", "8 iron", "7 iron")
PAIR = ("--options", "driver", "5 wood")


@pytest.mark.slow
def test_a_lesson_is_drawn_the_same_every_time(simcaddie):
    for name in ("a.pdf", "b.pdf"):
        ran = simcaddie("lesson", "weir-lawn", "wren", "--from", "hillside", *IRONS, *QUICK, "-o", name)
        assert (ran.code, ran.err) == (0, f"Drawn: {name}\n")
        assert "because" in ran.out
        assert "Rule 4.3" in ran.out
    assert Path("a.pdf").read_bytes() == Path("b.pdf").read_bytes()
    assert Path("a.pdf").read_bytes().startswith(b"%PDF")


def test_a_lesson_as_png_and_data(simcaddie):
    ran = simcaddie("lesson", "weir-lawn", "wren", "--from", "hillside", *IRONS, *QUICK, "-o", "l.png",
                    "--json", "-", "--paper", "letter")  # fmt: skip
    assert Path("l.png").read_bytes().startswith(b"\x89PNG")
    data = json.loads(ran.out)
    assert data["schema"] == "lesson/1"
    assert sum(part["strokes"] for part in data["reasons"]) == pytest.approx(data["difference"], abs=1e-5)
    assert sum(part["shown"] for part in data["reasons"]) == pytest.approx(data["difference"], abs=0.0051)
    assert [len(option["twenty"]) for option in data["options"]] == [20, 20]
    assert data["play"] in {option["title"] for option in data["options"]}
    assert len(data["homework"]) == 3


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--options", "driver", "9 wood"), "has no club '9 wood'"),
        (("--options", "driver", "driver"), "are the same choice"),
        ((*PAIR, "-o", "l.doc"), "a figure is written as .png, .svg or .pdf"),
        ((*PAIR, "--paper", "a5"), "expected a4 or letter"),
        ((*PAIR, "--tee", "gold"), "has no tee 'gold'"),
        ((*PAIR, "--then", "never"), "strokes that follow are played"),
        ((), "--options"),
    ],
)
def test_what_makes_no_sense_is_refused_and_nothing_written(simcaddie, words, message):
    ran = simcaddie("lesson", "curlew-inlet", "wren", *QUICK, *words)
    assert (ran.code, ran.out) == (2, "")
    assert message in " ".join(ran.err.split())
    assert list(Path().iterdir()) == []
