"""The journal: nothing that was typed is lost, whenever the process is killed."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest

from simcaddie.base.errors import BadFile, BadRequest
from simcaddie.io.journal import Journal

HEAD = {"journal": "round on the range", "course": "Lane (invented)", "seed": 1}
WRITER = """
import sys
from simcaddie.io.journal import Journal
journal = Journal(__import__("pathlib").Path(sys.argv[1]), {"journal": "round on the range", "course": "L", "seed": 1})
number = len(journal.entries)
while True:
    journal.add({"typed": f"ball {number} ÷"})
    print(number, flush=True)
    number += 1
"""


def test_entries_come_back_in_order(tmp_path):
    path = tmp_path / "a.jsonl"
    journal = Journal(path, HEAD)
    for text in ("driver", "168 6R", "“two”"):
        journal.add({"typed": text})
    journal.close()
    again = Journal(path, HEAD)
    assert [entry["typed"] for entry in again.entries] == ["driver", "168 6R", "“two”"]
    assert again.torn == ""
    again.add({"typed": "more"})
    again.close()
    last = Journal(path, HEAD)
    last.close()
    assert len(last.entries) == 4


@pytest.mark.parametrize("cut", range(1, 23))
def test_half_a_last_line_is_dropped_with_a_word(tmp_path, cut):
    path = tmp_path / "a.jsonl"
    journal = Journal(path, HEAD)
    journal.add({"typed": "driver"})
    journal.add({"typed": "168 6R ÷"})
    journal.close()
    whole = path.read_bytes()
    path.write_bytes(whole[:-cut])
    again = Journal(path, HEAD)
    assert [entry["typed"] for entry in again.entries] == ["driver"]
    assert again.torn
    again.add({"typed": "next"})
    again.close()
    assert [json.loads(line) for line in path.read_text("utf-8").splitlines()][1:] == [
        {"typed": "driver"}, {"typed": "next"},
    ]  # fmt: skip


def test_half_a_first_line_begins_anew(tmp_path):
    path = tmp_path / "a.jsonl"
    Journal(path, HEAD).close()
    path.write_bytes(path.read_bytes()[:20])
    Journal(path, HEAD).close()
    assert json.loads(path.read_text("utf-8")) == HEAD


def test_another_round_or_another_file_is_refused(tmp_path):
    path = tmp_path / "a.jsonl"
    Journal(path, HEAD).close()
    with pytest.raises(BadRequest, match=r"begun otherwise \(seed 1, now 2\); --new begins another"):
        Journal(path, HEAD | {"seed": 2})
    for text in ("club,carry\n", '{"journal": "something"}\n', "[1]\n", "no journal"):
        path.write_text(text)
        with pytest.raises(BadFile, match=r"a.jsonl:1: expected"):
            Journal(path, HEAD)
    path.write_text(json.dumps(HEAD) + "\n{\n" + json.dumps({"typed": "x"}) + "\n")
    with pytest.raises(BadFile, match=r"a.jsonl:2: expected a line of a journal, found '{'"):
        Journal(path, HEAD)
    with pytest.raises(BadRequest, match="can't be written"):
        Journal(tmp_path / "none" / "a.jsonl", HEAD)


def test_a_process_killed_at_twenty_random_moments_loses_nothing(tmp_path):
    """Whatever was said to be on the disk is there, in order, and the next process goes on after it."""
    path, rng, last = tmp_path / "a.jsonl", np.random.default_rng(9), -1
    for _ in range(20):
        writer = subprocess.Popen([sys.executable, "-c", WRITER, str(path)], stdout=subprocess.PIPE, text=True)
        first = int(writer.stdout.readline())
        assert first == last + 1 or first == last + 2  # one may be on the disk that nobody had heard of yet
        time.sleep(float(rng.uniform(0.0, 0.03)))
        os.kill(writer.pid, signal.SIGKILL)
        told = [first, *map(int, writer.stdout.read().split())]
        writer.wait()
        writer.stdout.close()
        last = told[-1]
        kept = Journal(path, {"journal": "round on the range", "course": "L", "seed": 1})
        kept.close()
        assert [entry["typed"] for entry in kept.entries][: last + 1] == [f"ball {i} ÷" for i in range(last + 1)]
        last = len(kept.entries) - 1


@pytest.mark.slow
def test_the_command_killed_at_twenty_random_moments_ends_as_if_it_never_was(tmp_path):
    """Lines are typed one by one; after a kill those are typed again that the journal hasn't got."""
    lines = [*("6 iron, pin", "118 4L", "fat 60", "touch, pin", "18 1R", "2"), *("pick up",) * 3]
    command = [sys.executable, "-m", "simcaddie", "range-round", "millpond", "wren", "--json"]
    whole = tmp_path / "whole"
    whole.mkdir()
    run = {"text": True, "capture_output": True}
    subprocess.run([*command, "whole.json"], cwd=whole, input="\n".join(lines) + "\n", check=True, **run)
    rng, journal = np.random.default_rng(3), tmp_path / "millpond-wren.range.jsonl"
    for _ in range(20):
        going = subprocess.Popen(
            [*command, "part.json"], cwd=tmp_path, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL
        )
        kept = _typed(journal)
        going.stdin.write("".join(f"{line}\n" for line in lines[len(kept) :]).encode())
        going.stdin.flush()
        time.sleep(float(rng.uniform(0.5, 4.0)))
        os.kill(going.pid, signal.SIGKILL)
        going.wait()
        going.stdin.close()
        assert _typed(journal) == lines[: len(_typed(journal))]
    rest = "".join(f"{line}\n" for line in lines[len(_typed(journal)) :])
    subprocess.run([*command, "part.json"], cwd=tmp_path, input=rest, check=True, **run)
    one, other = (json.loads(path.read_text()) for path in (whole / "whole.json", tmp_path / "part.json"))
    assert one == other


def _typed(path: Path) -> list[str]:
    if not path.exists():
        return []
    whole = path.read_bytes().rpartition(b"\n")[0]
    return [json.loads(line)["typed"] for line in whole.split(b"\n")[1:]] if whole else []
