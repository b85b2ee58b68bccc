"""The program as a process: exit codes, help, pipes, odd terminals, the first run ever."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

QUICK = (
    "compare",
    "curlew-inlet",
    "wren",
    "--club",
    "driver",
    "--aim",
    "0:0:1",
    "--sequences",
    "100",
    "--then",
    "sound",
)
FULL = Path("/dev/full")
UNKEPT = "nothing is kept between commands, so that each takes longer"
COMMANDS = ("compare", "draw", "yardages", "check")


def process(*words: str, folder=None, **environment: str) -> subprocess.CompletedProcess:
    return subprocess.run(
        [sys.executable, "-m", "simcaddie", *words],
        capture_output=True, text=True, encoding="utf-8", check=False, cwd=folder, env={**os.environ, **environment},
    )  # fmt: skip


def test_demo_names_from_any_folder(tmp_path):
    done = process(*QUICK, folder=tmp_path)
    assert done.returncode == 0
    assert done.stdout.startswith("Curlew Inlet, par 4, from the white tee")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_help_names_the_program_and_leaves_with_0(simcaddie, command):
    ran = simcaddie(*command.split(), "--help")
    assert ran.code == 0
    assert ran.out.startswith(f"Usage: simcaddie {command}".rstrip())
    assert simcaddie(*command.split(), "-h") == ran


def test_the_program_help_lists_every_command_and_rule_4_3(simcaddie):
    out = simcaddie("--help").out
    assert all(f"\n  {command} " in out for command in COMMANDS)
    assert "Rule 4.3" in out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("bogus",), "No such command 'bogus'"),
        (("compare", "--nope", "a", "b"), "No such option"),
        (("compare",), "Missing argument 'HOLE'"),
        (("compare", "curlew-inlet"), "Missing argument 'PLAYER'"),
        (("check",), "Missing argument 'FILE'"),
        (("compare", "a", "b", "--sequences", "ten"), "--sequences"),
        (("compare", "a", "b", "--sequences", "99"), "--sequences"),
        (("compare", "a", "b", "--seed", "-1"), "--seed"),
        (("compare", "a", "b", "--strokes", "99"), "--strokes"),
        (("yardages", "a", "--aim", "left"), "--aim"),
    ],
)
def test_commands_and_options_that_are_not_there(simcaddie, words, told):
    ran = simcaddie(*words)
    assert (ran.code, ran.out) == (2, "")
    assert told in ran.err


def test_without_a_command_it_shows_its_help(simcaddie):
    ran = simcaddie()
    assert ran.code == 2
    assert "Commands:" in ran.out + ran.err


def test_a_reader_that_leaves_early_gets_no_complaint():
    for words in (("yardages", "millpond"), ("yardages", "millpond", "--json", "-"), ("--help",)):
        with subprocess.Popen(
            [sys.executable, "-m", "simcaddie", *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE
        ) as running:
            running.stdout.close()
            told = running.stderr.read()
        assert told == b""
        assert running.returncode in (0, 1)  # 1 where the toolkit below notices first


@pytest.mark.skipif(not FULL.exists(), reason="needs a device that is always full")
def test_a_full_disk_behind_a_redirection():
    with FULL.open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "simcaddie", "yardages", "millpond"],
            stdout=full, stderr=subprocess.PIPE, text=True, check=False,
        )  # fmt: skip
    assert (done.returncode, done.stderr) == (2, "can't write the output: no space left on device\n")


def test_a_terminal_that_knows_only_ascii():
    done = process(*QUICK, PYTHONIOENCODING="ascii")
    assert done.returncode == 0
    assert (done.stdout + done.stderr).isascii()
    assert process("compare", "nö", "wren", PYTHONIOENCODING="ascii").returncode == 2


@pytest.mark.parametrize(
    "words", [("today", "millpond", "wren"), pytest.param(QUICK, marks=pytest.mark.slow)], ids=["today", "compare"]
)
def test_the_first_run_ever_says_that_it_compiles_and_later_ones_do_not(tmp_path, words):
    first = process(*words, SIMCADDIE_CACHE=str(tmp_path))
    assert first.returncode == 0
    assert first.stderr.count("First run: compiling") == 1
    assert first.stderr.count("later runs start at once") == 1
    again = process(*words, SIMCADDIE_CACHE=str(tmp_path))
    assert (again.returncode, again.stderr) == (0, "")
    assert again.stdout == first.stdout


def test_where_compiled_code_can_not_be_kept_it_warns_once_and_goes_on(tmp_path):
    """A file stands where the folder should be: like a read-only place, but one that also stops an administrator."""
    blocked = tmp_path / "cache"
    blocked.write_text("")
    done = process("yardages", "millpond", SIMCADDIE_CACHE=str(blocked))
    assert done.returncode == 0
    assert done.stdout.startswith("Millpond")
    assert done.stderr in ("", f"{UNKEPT}: {blocked}/simcaddie: not a directory\n")


@pytest.mark.slow
def test_compare_without_a_place_for_compiled_code(tmp_path):
    blocked = tmp_path / "cache"
    blocked.write_text("")
    done = process(*QUICK, SIMCADDIE_CACHE=str(blocked))
    assert done.returncode == 0
    assert done.stderr.count(UNKEPT) == 1
    assert "later runs" not in done.stderr
    assert done.stdout == process(*QUICK).stdout
