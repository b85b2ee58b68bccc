"""``simcaddie round``: a table for a coach, the same as data, or one clear message."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from simcaddie.io.find import find_hole

CARD = "tees:\n  white: {par: 27, course_rating: 27.4, slope: 121}\n"
FEW = ("--sequences", "1000", "--then", "sound")


@pytest.fixture
def course(tmp_path) -> Path:
    """Write nine holes like the demo par 3, with stroke indexes of their own."""
    folder = tmp_path / "course"
    folder.mkdir()
    text = find_hole("millpond").read_text("utf-8")
    (old,) = (line for line in text.splitlines() if line.startswith("stroke_index"))
    for number in range(1, 10):
        (folder / f"{number}.yaml").write_text(text.replace(old, f"stroke_index: {2 * number}"), "utf-8")
    names = ", ".join(f"{number}.yaml" for number in range(1, 10))
    (folder / "nine.yaml").write_text(f"name: Nine Ponds (invented)\nholes: [{names}]\n{CARD}", "utf-8")
    return folder / "nine.yaml"


@pytest.fixture
def play(simcaddie, course):
    def run(*words, player="wren"):
        return simcaddie("round", course, player, *FEW, *words)

    return run


def test_a_table_for_a_coach(play):
    ran = play("--details")
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[0] == "Nine Ponds (invented), par 27, 9 holes, white tees, middle pins"
    # 13.6 / 2 × 121 / 113 + 27.4 − 27 = 7.681, × 0.95 = 7.30: Rules of Handicapping 6.1b, 6.2a
    assert "course handicap 8, course rating 27.4, slope 121; playing handicap 7 at 95 % for" in ran.flat
    assert "Plays to the handicap (35 or fewer" in ran.out
    assert "Where the strokes go" in ran.out
    assert "± SE" in ran.out
    assert "Rule 4.3" in ran.out
    assert max(map(len, lines)) <= 100


def test_data_says_the_same(play):
    ran = play("--json", "-", "--format", "stableford")
    assert (ran.code, ran.err) == (0, "")
    data = json.loads(ran.out)
    assert data["schema"] == "round/1"
    assert data["handicap"]["playing_handicap"] == sum(hole["strokes_received"] for hole in data["holes"]) == 7
    assert sum(data["parts"].values()) == pytest.approx(data["total"]["mean"], abs=1e-5)
    assert sum(hole["mean"] for hole in data["holes"]) == pytest.approx(data["total"]["mean"], abs=1e-4)
    assert sum(hole["points"] for hole in data["holes"]) == pytest.approx(data["counted"]["mean"], abs=1e-4)
    assert sum(data["total"]["law"].values()) == pytest.approx(1.0, abs=1e-3)
    printed = " ".join(play("--format", "stableford").out.split())
    assert all(words in printed for words in data["words"])


def test_a_match_is_told_hole_by_hole(play):
    ran = play("--format", "match", "--versus", "scratch", "--json", "match.json")
    assert ran.code == 0
    assert "won" in ran.out
    assert "Likeliest results:" in ran.out
    data = json.loads(Path("match.json").read_text("utf-8"))
    versus = data["versus"]
    assert versus["win"] + versus["tie"] + versus["lose"] == pytest.approx(1.0, abs=1e-5)
    assert sum(versus["results"].values()) == pytest.approx(1.0, abs=1e-4)
    gets = data["handicap"]["playing_handicap"] - versus["handicap"]["playing_handicap"]
    assert sum(hole["match_strokes"] for hole in data["holes"]) == gets > 5
    assert data["handicap"]["allowance"] == 1.0


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("stroke_index: 6\n", "stroke_index: 4\n", "expected a stroke index of its own, found 4, which hole 2 has"),
    ],
)
def test_a_card_without_order_is_refused_with_its_line(play, course, old, new, told):
    path = course.parent / "3.yaml"
    path.write_text(path.read_text("utf-8").replace(old, new), "utf-8")
    ran = play()
    assert ran.code == 2
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1


def test_without_a_stroke_index_strokes_go_by_length_and_that_is_told(play, course):
    path = course.parent / "3.yaml"
    path.write_text(path.read_text("utf-8").replace("stroke_index: 6\n", ""), "utf-8")
    ran = play()
    assert ran.code == 0
    assert "Stroke indexes are missing: strokes are spread by length (~), the longest holes first." in " ".join(
        ran.out.split()
    )
    assert sorted(map(int, re.findall(r"~(\d)", ran.out))) == [*range(1, 10)]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--format", "match"), "match play needs an opponent: --versus OTHER"),
        (("--format", "skins"), "a form of play is one of"),
        (("--tee", "blue"), "Millpond has no tee 'blue'"),
        (("--pin", "any"), "a round is played to one pin a hole"),
        (("--limit", "x"), "a limit is net-double-bogey"),
        (("--versus", "nobody"), "expected a player file"),
    ],
)
def test_what_can_not_be_played(play, words, told):
    ran = play(*words)
    assert ran.code == 2
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1


def test_a_course_that_is_not_there(simcaddie):
    ran = simcaddie("round", "nowhere", "wren")
    assert ran.code == 2
    assert "expected a course file" in ran.err
