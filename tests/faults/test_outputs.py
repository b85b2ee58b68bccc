"""What a command writes is looked at before it works: endings, folders, inputs, two at one place."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import get_args

import pytest
from making import names

from simcaddie.cli import app
from simcaddie.console.options import Written
from simcaddie.io.find import demo_courses, demo_files

EXAMPLES = Path(__file__).parents[2] / "examples"
OUTPUTS = {"json", "output", "out", "figure", "csv", "resume"}


@pytest.fixture
def own(tmp_path) -> Path:
    """Return a folder with a player, a hole and a course of one's own."""
    shutil.copy(demo_files("players")["wren"], tmp_path / "me.yaml")
    shutil.copy(demo_files("holes")["millpond"], tmp_path / "hole.yaml")
    shutil.copytree(demo_courses()["tansywick-heath"].parent, tmp_path / "club")
    return tmp_path


def test_every_output_of_every_command_is_marked_as_one():
    for command in app.registered_commands:
        for parameter in command.callback.__signature__.parameters.values():
            marks = [mark for mark in get_args(parameter.annotation) if isinstance(mark, Written)]
            assert bool(marks) == (parameter.name in OUTPUTS), f"{command.name} {parameter.name}"


READ = (
    ("gaps", "me.yaml", "--json", "me.yaml"),
    ("gaps", "me.yaml", "--json", "./x/../me.yaml"),
    ("yardages", "hole.yaml", "--json", "hole.yaml"),
    ("check", "hole.yaml", "me.yaml", "--json", "me.yaml"),
    ("export-map", "hole.yaml", "-o", "hole.yaml"),
    ("export-map", "club/tansywick-heath.yaml", "-o", "club/07-sandpit.yaml"),
    ("round", "club/tansywick-heath.yaml", "wren", "--json", "club/18-weathercock.yaml"),
    ("compare", "hole.yaml", "me.yaml", "--day", "day.yaml", "--json", "day.yaml"),
    ("fit", "session.csv", "--force", "-o", "session.csv"),
    ("fit", "session.csv", "--player", "me.yaml", "--force", "-o", "me.yaml"),
)


@pytest.mark.parametrize("words", READ, ids=" ".join)
def test_what_a_command_reads_it_does_not_write(simcaddie, own, words):
    shutil.copy(EXAMPLES / "days" / "calm.yaml", own / "day.yaml")
    (own / "me.yaml").write_text("# Fitted by simcaddie\n" + (own / "me.yaml").read_text("utf-8"), "utf-8")
    session = "# Fitted by simcaddie\n" + (EXAMPLES / "sessions" / "sunday-few.csv").read_text("utf-8")
    (own / "session.csv").write_text(session, "utf-8")
    (own / "x").mkdir()
    before = {path: path.read_bytes() for path in own.rglob("*") if path.is_file()}
    ran = simcaddie(*words)
    assert (ran.code, ran.err) == (2, f"can't write {Path(words[-1])}: this command reads it\n")
    assert {path: path.read_bytes() for path in own.rglob("*") if path.is_file()} == before


def test_an_input_under_another_name_is_one_as_well(simcaddie, own):
    (own / "link.json").symlink_to("me.yaml")
    (own / "twin.json").hardlink_to(own / "me.yaml")
    for name in ("link.json", "twin.json"):
        assert simcaddie("gaps", "me.yaml", "--json", name).err == f"can't write {name}: this command reads it\n"


def test_two_outputs_at_one_place_are_refused(simcaddie, own):
    (own / "b.svg").write_text("")
    (own / "c.svg").symlink_to("b.svg")
    for one, other in (("a.svg", "a.svg"), ("a.svg", "./a.svg"), ("b.svg", "c.svg")):
        ran = simcaddie("gaps", "wren", "--json", one, "--figure", other)
        assert (ran.code, ran.out) == (2, "")
        assert "are one file: two outputs need two" in ran.err
    assert names(own) == ["b.svg", "c.svg", "club", "hole.yaml", "me.yaml"]


def test_a_file_among_those_of_a_map_is_refused_too(simcaddie, own):
    ran = simcaddie("import-map", EXAMPLES / "driftwood-bay.geojson", "-o", "made", "--json", "made/hole-01.yaml")
    assert ran.code == 2
    (own / "made").mkdir()
    ran = simcaddie("import-map", EXAMPLES / "driftwood-bay.geojson", "-o", "made", "--json", "made/hole-01.yaml")
    assert (ran.code, ran.err) == (2, "made/hole-01.yaml is written twice: two outputs need two files\n")
    assert names(own / "made") == []


EARLY = (
    (("compare", "millpond", "wren", "--figure", "a.doc"), "a figure is written as .png, .svg or .pdf"),
    (("plan", "millpond", "wren", "--figure", "no/a.png"), "no such file or directory"),
    (("lesson", "millpond", "wren", "--options", "driver", "6 iron", "-o", "a.html"), "a figure is written"),
    (("sheet", "tansywick-heath", "wren", "-o", "a.svg"), "a sheet is written as .pdf"),
    (("page", "millpond", "wren", "-o", "a.pdf"), "a page is written as .html"),
    (("round", "tansywick-heath", "wren", "--json", "."), "is a directory"),
    (("practice", "tansywick-heath", "wren", "--figure", "hole.yaml/a.svg"), "not a directory"),
    (("import-map", EXAMPLES / "driftwood-bay.geojson", "-o", "hole.yaml"), "can't write into hole.yaml"),
    (("compare", "millpond", "wren", "--club", "cleek"), "has no club 'cleek'"),
    (("compare", "millpond", "wren", "--why", "driver", "cleek"), "has no club 'cleek'"),
    (("lesson", "millpond", "wren", "--options", "driver", "cleek"), "has no club 'cleek'"),
    (("compare", "millpond", "wren", "--aim", "0:10:0.00000001"), "at most 361 of them"),
    (("compare", "millpond", "wren", "--sequences", "200000000"), "'--sequences'"),
    (("round", "tansywick-heath", "wren", "--sequences", "200000000"), "'--sequences'"),
    (("practice", "tansywick-heath", "wren", "--sequences", "200000000"), "'--sequences'"),
)


@pytest.mark.parametrize(("words", "told"), EARLY, ids=lambda each: " ".join(map(str, each))[-40:])
def test_what_can_not_be_is_said_before_any_work(simcaddie, own, monkeypatch, words, told):
    from simcaddie.course import grid

    monkeypatch.setattr(grid, "_drawn", None)  # all work begins with the ground
    ran = simcaddie(*words)
    assert (ran.code, ran.out) == (2, "")
    assert told in ran.err
    assert names(own) == ["club", "hole.yaml", "me.yaml"]


def test_the_longest_names_that_a_file_may_hold_are_written(simcaddie, own):
    text = (own / "hole.yaml").read_text("utf-8").replace("name: Millpond", f"name: {'Ö' * 80}", 1)
    (own / "hole.yaml").write_text(text, "utf-8")
    figure = "ü" * 125 + ".svg"  # 254 bytes
    assert simcaddie("draw", "hole.yaml", "-o", figure).code == 0
    assert figure in names(own)
    assert simcaddie("new-player", "--index", "9", "--driver", "220", "--name", "x" * 80, "-o", "p.yaml").code == 0
    ran = simcaddie("new-player", "--index", "9", "--driver", "220", "--name", "x" * 81, "-o", "q.yaml")
    assert ran.code == 2
    assert ran.err.startswith("--name: expected a name of 1 to 80 letters")
    assert not Path("q.yaml").exists()
