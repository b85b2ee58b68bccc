"""README.md and the guide show what the program prints: its help, its tables, its plans."""

from __future__ import annotations

import re
import shlex
import sys
import warnings
from importlib.metadata import version
from pathlib import Path

import pytest
from readme import BLOCK, README, WRITTEN, blocks, folder, pages, plain, run

from simcaddie.__main__ import main

if not README.exists():
    pytest.skip("README.md stands in a checkout only", allow_module_level=True)

BLOCKS = blocks()
HELP = [command for command in BLOCKS if command.endswith("--help")]
SHOWN = [command for command in BLOCKS if command not in HELP]
# these run in the slow form
COSTLY = re.compile(r"simcaddie (round|practice|review|squad|field) |--(why|when|doubt|days|then) ")
RELEASE = tuple(int(part) for part in version("typer").split(".")[:2])


def of(*commands: str) -> list:
    """Return the blocks of some commands; all but the first that doesn't cost much in the slow form only."""
    found = [command for command in SHOWN if command.split()[1] in commands]
    first = next((command for command in found if not COSTLY.search(command)), None)
    return [c if c == first else pytest.param(c, marks=pytest.mark.slow) for c in found]


RANKINGS, PLANS, TABLES = of("compare"), of("plan"), [*of("fit"), *of("gaps"), *of("today")]
IMPORTS, ROUNDS, PRACTICES, REVIEWS = of("import-map"), of("round"), of("practice"), of("review")
GROUPS = of("squad", "field")


def ranking(output: str) -> list[tuple[str, float]]:
    """Return (club and aim, score) of each row of a table."""
    table = output.split("╌\n")[1]
    found = re.findall(r"^(\S.*?\S) +(\d\.\d\d) ", table, re.MULTILINE)
    return [(" ".join(words.split()), float(score)) for words, score in found]


@pytest.mark.skipif(RELEASE != (0, 29), reason="the help shown is laid out by typer 0.29")
@pytest.mark.parametrize("command", HELP)
def test_help_is_what_the_program_prints(command, capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "100")
    monkeypatch.setattr(warnings, "formatwarning", warnings.formatwarning)  # the program sets its own
    monkeypatch.setattr(sys, "argv", shlex.split(command))
    with pytest.raises(SystemExit):
        main()
    assert plain(capsys.readouterr().out) == BLOCKS[command], "python tests/readme.py writes it anew"


def test_every_command_shows_its_help():
    listed = re.findall(r"^  ([\w-]+)  ", BLOCKS["simcaddie --help"].split("Commands:")[1], re.MULTILINE)
    assert {f"simcaddie {command} --help" for command in listed} == set(HELP) - {"simcaddie --help"}


def test_every_example_is_checked_and_stands_once():
    every = (*RANKINGS, *PLANS, *TABLES, *IMPORTS, *ROUNDS, *PRACTICES, *REVIEWS, *GROUPS)
    checked = [getattr(c, "values", (c,))[0] for c in every]
    assert sorted(checked) == sorted(SHOWN)
    assert len(BLOCKS) == sum(len(BLOCK.findall(text)) for text in pages().values())


def written(output: str) -> list[str]:
    """Return the files that an output says were written."""
    return [line.split(": ", 1)[1] for line in output.splitlines() if line.startswith(WRITTEN)]


def same_files(now: str, shown: str) -> None:
    assert written(now) == written(shown)
    assert all(Path(folder().name, name).stat().st_size > 0 for name in written(now))


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
    same_files(now, shown)
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


@pytest.mark.parametrize("command", PLANS)
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


@pytest.mark.parametrize("command", ROUNDS)
def test_rounds_run_and_still_say_the_same(command):
    """Scores to 0.03 a hole only, as above."""
    now, shown = run(command), BLOCKS[command]
    (names, scores), (names_shown, scores_shown) = totals(now), totals(shown)
    assert now.splitlines()[0] == shown.splitlines()[0]
    assert names == names_shown
    assert len(names) in {9, 18}
    assert scores[:-1] == pytest.approx(scores_shown[:-1], abs=0.03)
    assert scores[-1] == pytest.approx(scores_shown[-1], abs=0.3)


def savings(output: str) -> dict[str, list[float]]:
    """Return what each thing would save, by its title: the gap closed, a tenth tighter, half the mishits, no bias."""
    rows = re.findall(r"^(\S.*?)  +\d+\.\d  +(.*)$", output.split("\n\nClosing", maxsplit=1)[0], re.MULTILINE)
    return {title: [float(number) for number in rest.split()] for title, rest in rows}


@pytest.mark.parametrize("command", PRACTICES)
def test_practice_runs_and_still_says_the_same(command):
    """Strokes a round to 0.1 only, as above; balls are dealt out by them, so no session is held to the shown one."""
    now, shown = run(command), BLOCKS[command]
    found, saved = savings(now), savings(shown)
    assert now.splitlines()[0] == shown.splitlines()[0]
    assert len(saved) >= 8
    assert next(iter(found)) == next(iter(saved))
    for title in found.keys() & saved.keys():
        assert found[title] == pytest.approx(saved[title], abs=0.1)
    balls = re.findall(r"^ +\d+ +\S.*□", now, re.MULTILINE)
    assert len(balls) == int(shlex.split(command)[-1])


def ledger(output: str) -> list[list[float]]:
    """Return the numbers of the holes of a review, the whole round last."""
    rows = re.findall(r"^ *\d* +\S.*? +(\d+ +\d+ +\d+\.\d\d +[-+.\d ]+)$", output, re.MULTILINE)
    return [[float(number) for number in row.split()] for row in rows]


@pytest.mark.parametrize("command", REVIEWS)
def test_reviews_run_and_still_say_the_same(command):
    """Strokes to 0.03 a hole only, as above; and the parts shown add up to score less expected."""
    now, shown = ledger(run(command)), ledger(BLOCKS[command])
    assert len(now) == 19
    for (_, score, expected, *parts), row in zip(now, shown, strict=True):
        assert [score, expected, *parts] == pytest.approx(row[1:], abs=0.03 if row is not shown[-1] else 0.3)
        assert sum(parts) == pytest.approx(score - expected, abs=0.03)


@pytest.mark.parametrize("command", GROUPS)
def test_groups_run_and_still_say_the_same(command):
    """Numbers to 0.05 only, as above."""
    now, shown = run(command), BLOCKS[command]
    words, numbers = (re.compile(pattern) for pattern in (r"[a-z]{4,}", r"[-+]?\d+\.\d+"))
    assert words.findall(now) == words.findall(shown)
    found = [float(number) for number in numbers.findall(now)]
    assert found == pytest.approx([float(number) for number in numbers.findall(shown)], abs=0.05)
    same_files(now, shown)


@pytest.mark.parametrize("command", RANKINGS)
def test_examples_run_and_still_say_the_same(command):
    """Scores to 0.02 only: another machine's arithmetic may round the last digits otherwise."""
    now, shown = run(command), BLOCKS[command]
    assert now.splitlines()[:2] == shown.splitlines()[:2]
    same_files(now, shown)
    (best, score), (best_shown, score_shown) = ranking(now)[0], ranking(shown)[0]
    assert best == best_shown
    assert score == pytest.approx(score_shown, abs=0.02)
