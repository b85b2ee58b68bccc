"""The engine: same results anywhere, workers that die, pieces that fail, a journal to go on from."""

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
import small_pieces
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from simcaddie.base import pieces as pieces_module
from simcaddie.base.errors import BadRequest
from simcaddie.base.executors import place_of
from simcaddie.base.pieces import JOURNAL, TRIES, Piece, packed, run_pieces, unpacked

HERE = Path(__file__).parent
MANY = 9


def some(work, folder: Path, *more: int) -> list[Piece]:
    return [Piece(f"piece {n}", work, (str(folder), n, *more)) for n in range(MANY)]


def ran(folder: Path, number: int) -> int:
    path = folder / f"{number}.ran"
    return path.stat().st_size if path.exists() else 0


def run(pieces, text=None, **keys):
    with place_of(text) as place:
        return run_pieces(pieces, place, **keys)


@pytest.mark.parametrize("text", ["threads", "processes:1", "processes:2"])
def test_results_are_the_same_anywhere_and_in_order(text, tmp_path):
    found = run(some(small_pieces.root, tmp_path), text)
    assert found.results == tuple([n**0.5, 1 / (n + 3)] for n in range(MANY))
    assert found.failed == ()
    assert [ran(tmp_path, n) for n in range(MANY)] == [1] * MANY


def test_a_worker_that_dies_takes_nothing_with_it(tmp_path):
    found = run(some(small_pieces.dies_once, tmp_path, 4), "processes:2")
    assert found.results == tuple([n**0.5, 1 / (n + 3)] for n in range(MANY))
    assert found.failed == ()
    assert ran(tmp_path, 4) == 2


def test_a_piece_that_kills_its_workers_is_told_and_takes_no_other_with_it(tmp_path):
    found = run(some(small_pieces.dies, tmp_path, 2), "processes:1")
    assert found.failed == (("piece 2", "its worker died"),)
    assert found.results == tuple(None if n == 2 else n for n in range(MANY))
    assert ran(tmp_path, 2) == TRIES


@pytest.mark.parametrize("text", [None, pytest.param("processes:2", marks=pytest.mark.slow)])
def test_a_piece_that_fails_three_times_is_told_by_name_and_the_rest_is_delivered(text, tmp_path):
    found = run(some(small_pieces.fails, tmp_path, 5), text)
    assert found.failed == (("piece 5", "ValueError: no root of 5"),)
    assert found.results == tuple(None if n == 5 else n for n in range(MANY))
    assert ran(tmp_path, 5) == TRIES


def test_what_failed_is_tried_again_and_the_rest_is_not(tmp_path):
    journal = tmp_path / "out"
    first = run(some(small_pieces.fails, tmp_path, 5), folder=journal)
    again = run(some(small_pieces.fails, tmp_path, 5), folder=journal)
    assert again == type(again)(first.results, first.failed, MANY - 1, again.sent, 0)
    assert [ran(tmp_path, n) for n in range(MANY)] == [2 * TRIES if n == 5 else 1 for n in range(MANY)]


def test_other_arguments_or_another_version_are_worked_out_anew(tmp_path, monkeypatch):
    journal = tmp_path / "out"
    run(some(small_pieces.fails, tmp_path, 99), folder=journal)
    assert run(some(small_pieces.fails, tmp_path, 98), folder=journal).kept == 0
    assert run(some(small_pieces.fails, tmp_path, 98), folder=journal).kept == MANY
    monkeypatch.setattr(pieces_module, "version", lambda: "another")
    assert run(some(small_pieces.fails, tmp_path, 98), folder=journal).kept == 0


@pytest.mark.parametrize(
    "spoil", [lambda b: b[:-7], lambda b: b.replace(b"0.", b"1."), lambda b: b"\xff\n" + b + b"half"]
)
def test_a_torn_or_spoilt_line_of_the_journal_counts_for_nothing(spoil, tmp_path):
    journal = tmp_path / "out"
    first = run(some(small_pieces.root, tmp_path), folder=journal)
    path = journal / JOURNAL
    path.write_bytes(spoil(path.read_bytes()))
    for _ in range(2):
        again = run(some(small_pieces.root, tmp_path), folder=journal)
        assert again.results == first.results
    assert again.kept == MANY


SCRIPT = """
import sys
from pathlib import Path
sys.path.insert(0, {here!r})
import small_pieces
from simcaddie.base.executors import place_of
from simcaddie.base.pieces import Piece, run_pieces
if __name__ == "__main__":
    pieces = [Piece(f"piece {{n}}", small_pieces.slow, ({folder!r}, n)) for n in range(9)]
    with place_of("processes:2") as place:
        run_pieces(pieces, place, folder=Path({folder!r}))
"""


def test_a_run_that_was_killed_goes_on_and_leaves_no_workers(tmp_path):
    script = tmp_path / "run.py"
    script.write_text(SCRIPT.format(here=str(HERE), folder=str(tmp_path)), encoding="utf-8")
    with subprocess.Popen([sys.executable, script], start_new_session=True) as process:
        for _ in range(300):
            journal = tmp_path / JOURNAL
            if journal.exists() and journal.read_bytes().count(b"\n") >= 3:
                break
            time.sleep(0.1)
        process.send_signal(signal.SIGKILL)
    for _ in range(50):
        try:
            os.killpg(process.pid, 0)
        except ProcessLookupError:
            break
        time.sleep(0.1)
    else:
        pytest.fail("workers outlived the process that started them")
    found = run(some(small_pieces.slow, tmp_path), folder=tmp_path)
    assert found.results == tuple(range(MANY))
    assert 3 <= found.kept < MANY


def test_bytes_are_counted_without_what_was_there(tmp_path):
    journal = tmp_path / "out"
    pieces = some(small_pieces.root, tmp_path)
    first, again = run(pieces, folder=journal), run(pieces, folder=journal)
    assert first.sent == sum(len(json.dumps(piece.given)) for piece in pieces)
    assert first.back == sum(len(json.dumps(result)) for result in first.results)
    assert (again.sent, again.back, again.kept) == (0, 0, MANY)


@pytest.mark.parametrize("text", ["processes", "processes:0", "processes:9999", "dask:nowhere", "cluster", "threads:2"])
def test_what_is_no_executor_is_refused(text):
    with pytest.raises(BadRequest, match="--executor: expected processes:N or dask:tcp"), place_of(text):
        pass


def test_a_folder_that_cant_be_written_is_refused(tmp_path):
    (tmp_path / "out").write_text("a file", encoding="utf-8")
    with pytest.raises(BadRequest, match="can't keep finished pieces in"):
        run(some(small_pieces.root, tmp_path), folder=tmp_path / "out")


@given(arrays(np.float64, st.tuples(st.integers(0, 4), st.integers(0, 4)), elements=st.floats(allow_nan=False)))
def test_arrays_come_back_to_the_last_bit(array):
    assert unpacked(packed(array)).tobytes() == array.tobytes()
