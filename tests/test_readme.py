"""README.md tells the truth: its help is the program's, its examples run, its files are right."""

from __future__ import annotations

import re
from importlib.metadata import version
from pathlib import Path
from types import SimpleNamespace

import pytest
from readme import PICTURES, README, ROOT, blocks, run

from simcaddie import read_hole, read_player
from simcaddie.files.day_file import read_day

if not README.exists():
    pytest.skip("README.md stands in a checkout only", allow_module_level=True)

TEXT = README.read_text("utf-8")
BLOCKS = blocks()
HELP = [command for command in BLOCKS if command.endswith("--help")]
RANKINGS = [command for command in BLOCKS if command not in HELP and command.startswith("simcaddie compare")]
IMPORTS = [command for command in BLOCKS if command not in HELP and command.startswith("simcaddie import-map")]
PLANS = [command for command in BLOCKS if command not in HELP and command.startswith("simcaddie plan")]
TABLES = [command for command in BLOCKS if command not in HELP and re.match("simcaddie (fit|gaps|today) ", command)]
ROUNDS = [command for command in BLOCKS if command not in HELP and command.startswith("simcaddie round")]


def some(commands: list[str], fast: int) -> list:
    """Return the first commands to run always, the others in the slow form."""
    return [*commands[:fast], *(pytest.param(command, marks=pytest.mark.slow) for command in commands[fast:])]


RELEASE = tuple(int(part) for part in version("typer").split(".")[:2])


def ranking(output: str) -> list[tuple[str, float]]:
    """Return (club and aim, score) of each row of a table."""
    found = re.findall(r"^(\S.*?(?:left|right|at the pin)) .*? (\d\.\d\d) ", output, re.MULTILINE)
    return [(" ".join(words.split()), float(score)) for words, score in found]


@pytest.mark.skipif(RELEASE != (0, 29), reason="the help in README.md is laid out by typer 0.29")
@pytest.mark.parametrize("command", HELP)
def test_help_is_what_the_program_prints(command):
    assert run(command) == BLOCKS[command], "python tests/readme.py writes it anew"


def test_every_command_shows_its_help():
    listed = re.findall(r"^  ([\w-]+)  ", BLOCKS["simcaddie --help"].split("Commands:")[1], re.MULTILINE)
    assert {f"simcaddie {command} --help" for command in listed} == set(HELP) - {"simcaddie --help"}


def test_every_example_is_checked():
    assert set(BLOCKS) == {*HELP, *RANKINGS, *PLANS, *TABLES, *IMPORTS, *ROUNDS}


def figures(output: str) -> dict[str, list[float]]:
    """Return the numbers of a table's rows, by swing."""
    swing = r"(?:half )?(?:driver|\d (?:wood|hybrid|iron)|\w+ wedge)"
    rows = re.findall(rf"^({swing})  +(.*)$", output, re.MULTILINE)
    return {title: [float(number) for number in re.findall(r"[-+]?\d+\.?\d*", rest)] for title, rest in rows}


@pytest.mark.parametrize("command", TABLES)
def test_tables_of_swings_still_say_the_same(command):
    """Numbers to 1.5 only: another machine's arithmetic may draw a little otherwise."""
    now, shown = run(command), BLOCKS[command]
    assert now.splitlines()[0] == shown.splitlines()[0]
    found = figures(now)
    assert len(found) > 10
    for swing, numbers in figures(shown).items():
        assert found[swing] == pytest.approx(numbers, abs=1.5)


@pytest.mark.parametrize("command", IMPORTS)
def test_imports_still_say_the_same(command):
    assert run(command) == BLOCKS[command]


def strokes(output: str) -> tuple[list[str], list[float]]:
    """Return the clubs of a plan's numbered strokes, and all its numbers of strokes to go."""
    flat = " ".join(output.split())
    return re.findall(r"\d\. From [^:]*: ([^,]+),", flat), [float(n) for n in re.findall(r"(\d\.\d\d) strokes", flat)]


@pytest.mark.parametrize("command", some(PLANS, 1))
def test_plans_run_and_still_say_the_same(command):
    """Strokes to go to 0.02 only, as below."""
    now, shown = run(command), BLOCKS[command]
    (clubs, to_go), (clubs_shown, to_go_shown) = strokes(now), strokes(shown)
    assert now.splitlines()[0] == shown.splitlines()[0]
    assert clubs == clubs_shown != []
    assert to_go == pytest.approx(to_go_shown, abs=0.02)


def totals(output: str) -> tuple[list[str], list[float]]:
    """Return the holes of a round with their strokes received, and all scores, the round's last."""
    rows = re.findall(r"^ *\d+ +(\S.*?) +\d +\d+ +(\d+\.\d\d) ", output, re.MULTILINE)
    (whole,) = re.findall(r"takes (\d+\.\d) strokes", output)
    return [name for name, _ in rows], [*(float(score) for _, score in rows), float(whole)]


@pytest.mark.parametrize("command", some(ROUNDS, 0))
def test_rounds_run_and_still_say_the_same(command):
    """Scores to 0.03 a hole only, as above."""
    now, shown = run(command), BLOCKS[command]
    (names, scores), (names_shown, scores_shown) = totals(now), totals(shown)
    assert now.splitlines()[0] == shown.splitlines()[0]
    assert names == names_shown
    assert len(names) in {9, 18}
    assert scores[:-1] == pytest.approx(scores_shown[:-1], abs=0.03)
    assert scores[-1] == pytest.approx(scores_shown[-1], abs=0.3)


@pytest.mark.parametrize("command", some(RANKINGS, 3))
def test_examples_run_and_still_say_the_same(command):
    """Scores to 0.02 only: another machine's arithmetic may round the last digits otherwise."""
    now, shown = run(command), BLOCKS[command]
    assert now.splitlines()[:2] == shown.splitlines()[:2]
    (best, score), (best_shown, score_shown) = ranking(now)[0], ranking(shown)[0]
    assert best == best_shown
    assert score == pytest.approx(score_shown, abs=0.02)


def test_the_test_command_stands_on_one_line_of_its_own():
    (command,) = re.findall(r"^<!-- test --> `(.*)`$", TEXT, re.MULTILINE)
    assert command.startswith("pip install")
    assert sum(command in line for line in TEXT.splitlines()) == 2


def test_the_first_command_uses_files_that_are_there():
    (command,) = re.findall(r"^python3 -m venv .* compare (.*)$", TEXT, re.MULTILINE)
    assert all((ROOT / word).is_file() for word in command.split())


def read_named_day(path: Path) -> SimpleNamespace:
    return SimpleNamespace(name=read_day(path)[0])


@pytest.mark.parametrize(("kind", "read"), [("hole", read_hole), ("player", read_player), ("day", read_named_day)])
def test_the_files_to_start_from_are_right(tmp_path, kind, read):
    (text,) = re.findall(rf"<!-- {kind} -->\n```yaml\n(.*?)```\n", TEXT, re.DOTALL)
    path = tmp_path / "mine.yaml"
    path.write_text(text, "utf-8")
    assert f"name: {read(path).name} " in text


def test_pictures_are_there():
    shown = re.findall(r"!\[[^]]*\]\(([^)]+)\)", TEXT)
    for name in shown:
        assert Path(ROOT, name).is_file()
    assert set(shown) == {picture.split()[-1] for picture in PICTURES}


@pytest.mark.parametrize(
    "words", ["Rule 4.3", "Playing lessons outside a round", "longest likely shot", "shout", "Lightning", "Committee"]
)
def test_cautions_are_there(words):
    assert words in TEXT.split("## Cautions")[1].replace("\n  ", " ")
