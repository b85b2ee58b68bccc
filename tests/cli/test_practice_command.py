"""``simcaddie practice``: a ranked table and a session, the same as data, a figure, or one clear message."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from simcaddie.io.find import find_hole


@pytest.fixture
def practice(simcaddie, tmp_path):
    """Return a function that runs the command on nine holes like the demo par 3."""
    folder = tmp_path / "course"
    folder.mkdir()
    text = find_hole("millpond").read_text("utf-8")
    (old,) = (line for line in text.splitlines() if line.startswith("stroke_index"))
    for number in range(1, 10):
        (folder / f"{number}.yaml").write_text(text.replace(old, f"stroke_index: {number}"), "utf-8")
    names = ", ".join(f"{number}.yaml" for number in range(1, 10))
    (folder / "nine.yaml").write_text(f"name: Nine Ponds (invented)\nholes: [{names}]\n", "utf-8")

    def run(*words):
        return simcaddie("practice", folder / "nine.yaml", "wren", "--sequences", "1000", *words)

    return run


def test_a_table_a_session_and_a_figure(practice):
    ran = practice("--details", "--minutes", "10", "--figure", "pays.png", "--json", "pays.json")
    assert ran.code == 0
    assert ran.err.splitlines() == ["Drawn: pays.png"]
    lines = ran.out.splitlines()
    assert lines[0] == "Nine Ponds (invented), 9 holes, first tees"
    assert any(line.startswith("A session of 10 balls") for line in lines)
    assert "Before every ball your routine: breathe out, see it land, go." in " ".join(ran.out.split())
    assert "Rule 4.3" in ran.out
    assert "…" not in ran.out
    assert max(map(len, lines)) <= 100
    assert Path("pays.png").read_bytes().startswith(b"\x89PNG")
    data = json.loads(Path("pays.json").read_text("utf-8"))
    assert data["schema"] == "practice/1"
    saved = [row["saves"]["gap"]["strokes"] for row in data["rows"]]
    assert saved == sorted(saved, reverse=True)
    assert len(data["session"]["balls"]) == 10
    assert data["session"]["routine"] == "breathe out, see it land, go"
    printed = " ".join(ran.out.split())
    assert all(words in printed for words in data["words"])


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--balls", "20", "--minutes", "20"), "give the session's balls or its minutes, not both"),
        (("--tee", "blue"), "Millpond has no tee 'blue'"),
        (("--pin", "any"), "a round is played to one pin a hole"),
    ],
)
def test_what_can_not_be_practised(practice, words, told):
    ran = practice(*words)
    assert ran.code == 2
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1
