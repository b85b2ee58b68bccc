"""``simcaddie sheet``."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from simcaddie.io.find import find_hole


def course(folder: Path) -> Path:
    """Write a course of two demo holes; it has no card, since 9 or 18 holes would make one."""
    for name in ("millpond", "weir-lawn"):
        shutil.copy(find_hole(name), folder / f"{name}.yaml")
    path = folder / "two.yaml"
    path.write_text("name: Two (invented)\nholes: [millpond.yaml, weir-lawn.yaml]\n", "utf-8")
    return path


def test_a_sheet_of_a_course(simcaddie, tmp_path):
    ran = simcaddie("sheet", course(tmp_path), "wren", "--holes", "1", "--json", "sheet.json", "--verbose")
    assert (ran.code, ran.out) == (0, "")
    assert "Drawn: sheet.pdf, 2 pages" in ran.err
    assert Path("sheet.pdf").read_bytes().startswith(b"%PDF")
    data = json.loads(Path("sheet.json").read_text("utf-8"))
    assert data["schema"] == "sheet/1"
    (hole,) = data["holes"]
    assert (hole["number"], hole["name"], hole["par"]) == (1, "Millpond", 3)
    assert hole["net_par"] == hole["par"] + hole["strokes"]
    assert 1 <= len(hole["decisions"]) <= 3


def test_a_single_hole_is_one_page(simcaddie):
    ran = simcaddie("sheet", "millpond", "scratch", "--form", "desk", "--paper", "letter", "-o", "one.pdf")
    assert (ran.code, ran.err) == (0, "Drawn: one.pdf, 1 page\n")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--form", "wall"), "--form: expected pocket or desk, found 'wall'"),
        (("--paper", "a5"), "--paper: expected a4 or letter, found 'a5'"),
        (("-o", "sheet.doc"), "a sheet is written as .pdf"),
        (("--holes", "5"), "has 2 holes, none numbered 5"),
        (("--holes", "one"), "--holes: expected numbers as 1-9"),
        (("--tee", "gold"), "has no tee 'gold'"),
    ],
)
def test_what_makes_no_sense_is_refused_and_nothing_written(simcaddie, tmp_path, words, message):
    path = course(tmp_path)
    before = sorted(tmp_path.iterdir())
    ran = simcaddie("sheet", path, "wren", *words)
    assert (ran.code, ran.out) == (2, "")
    assert message in " ".join(ran.err.split())
    assert sorted(tmp_path.iterdir()) == before


def test_a_player_file_is_no_course(simcaddie):
    from simcaddie.io.find import find_player

    ran = simcaddie("sheet", find_player("wren"), "wren")
    assert ran.code == 2
    assert "expected a course or a hole, found a player file" in ran.err
    assert "none of that name" in simcaddie("sheet", "nowhere-links", "wren").err
