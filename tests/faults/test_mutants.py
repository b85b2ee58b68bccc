"""Spoilt files give faults by line, and those that pass can be played: never a traceback, a warning or no end."""

from __future__ import annotations

import json
import math
import shutil
import time
import warnings
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from mutants import mutant

from simcaddie.base.errors import BadFile, NothingToPlay, SimcaddieError
from simcaddie.course.hole import Hole
from simcaddie.decision.compare import compare
from simcaddie.decision.request import Request
from simcaddie.features.open_map.analysis import import_map
from simcaddie.io.check import check_file
from simcaddie.io.day import read_day
from simcaddie.io.find import demo_files
from simcaddie.io.hole import read_hole
from simcaddie.io.journal import Journal
from simcaddie.io.player import read_player
from simcaddie.io.round import read_round
from simcaddie.io.session import read_session

EXAMPLES = Path(__file__).parents[2] / "examples"
HOLES, PLAYERS = demo_files("holes"), demo_files("players")
COURSE = """\
name: Two Holes (invented)
units: yards
holes: [one.yaml, two.yaml]
tees: {white: {par: 7, course_rating: 26.4, slope: 121}}
day: {wind: 12 mph from 240, gust: 20 mph, temperature: 8 C, altitude: 150 m, firmness: soft, greens: 9}
source: invented
"""


JOURNAL = """\
{"journal": "range-round", "course": "tansywick-heath", "seed": 1}
{"hole": 1, "club": "driver", "carry": 187.5, "side": -4}
{"hole": 1, "club": "7 iron", "carry": 122, "side": 9.5, "undo": false}
"""


def _read_journal(path: Path) -> object:
    """Open a journal, which writes nothing where it has the right head."""
    journal = Journal(path, json.loads(JOURNAL.splitlines()[0]))
    journal.close()
    return journal


def _read_round(path: Path) -> object:
    return read_round(path, 18)


Kind = tuple[str | Path, Callable[[Path], object], int, int]  # what is spoilt, its reader, how often: fast, slow
KINDS: dict[str, Kind] = {
    "hole": (HOLES["millpond"], check_file, 60, 4000),
    "busy hole": (HOLES["curlew-inlet"], check_file, 40, 3000),
    "player": (PLAYERS["wren"], check_file, 60, 4000),
    "course": (COURSE, check_file, 40, 1500),
    "day": (EXAMPLES / "days" / "winter.yaml", read_day, 60, 2500),
    "session": (EXAMPLES / "sessions" / "friday-mixed.csv", read_session, 40, 2500),
    "round": (EXAMPLES / "rounds" / "sunday-medal.csv", _read_round, 60, 900),
    "journal": (JOURNAL, _read_journal, 60, 1000),
    "map": (EXAMPLES / "driftwood-bay.geojson", import_map, 5, 600),
}  # 20,000 in the slow form


def _mutants(kind: str, folder: Path, seeds: range) -> Iterator[tuple[int, object | SimcaddieError]]:
    """Yield what reading each mutant gives, a record or its error; anything else fails the test, with the seed."""
    source, read, *_ = KINDS[kind]
    text = source if isinstance(source, str) else source.read_text("utf-8")
    path = folder / ("mutant.yaml" if isinstance(source, str) else f"mutant{source.suffix}")
    for name in ("one.yaml", "two.yaml"):
        shutil.copy(HOLES["millpond"], folder / name)
    for seed in seeds:
        path.write_bytes(mutant(text, seed))
        try:
            yield seed, read(path)
        except SimcaddieError as error:
            yield seed, error
        except (Exception, RecursionError) as error:
            raise AssertionError(f"{kind}, {seed}: {error!r}") from error


def _look_at(kind: str, folder: Path, seeds: range) -> None:
    accepted = 0
    for seed, found in _mutants(kind, folder, seeds):
        if not isinstance(found, SimcaddieError):
            accepted += 1
            continue
        lines = str(found).splitlines()
        assert lines, seed
        assert all(line.isprintable() for line in lines), seed
        assert max(len(line) for line in lines) < 700 + len(str(folder)), seed
        if isinstance(found, BadFile):
            assert len(found.faults) <= 61 + 36 * (kind == "course"), seed
            assert all(fault.expected for fault in found.faults), seed
    assert 0 < accepted < len(seeds)


@pytest.mark.parametrize("kind", KINDS)
def test_spoilt_files_give_faults_and_no_traceback(tmp_path, kind):
    _look_at(kind, tmp_path, range(KINDS[kind][2]))


@pytest.mark.slow
@pytest.mark.parametrize("part", range(5))
@pytest.mark.parametrize("kind", KINDS)
def test_many_spoilt_files_give_faults_and_no_traceback(tmp_path, kind, part):
    many = KINDS[kind][3] // 5
    _look_at(kind, tmp_path, range(1000 + part * many, 1000 + (part + 1) * many))


def _played(kind: str, folder: Path, seed: int) -> float | None:
    """Play a mutant that `check` accepts, and return the processor time in seconds; None where it is refused."""
    ((_, found),) = _mutants(kind, folder, range(seed, seed + 1))
    if isinstance(found, SimcaddieError):
        return None
    hole = found if isinstance(found, Hole) else read_hole(HOLES["millpond"])
    player = read_player(PLAYERS["wren"]) if isinstance(found, Hole) else found
    started = time.process_time()
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            answer = compare(hole, player, Request(sequences=200))
        except NothingToPlay:
            return time.process_time() - started
    for option in answer.options:
        numbers = (option.mean, option.option.aim, option.blow_up, option.worth, *option.score_law.values())
        assert all(math.isfinite(number) for number in numbers), f"{kind} {seed}"
    return time.process_time() - started


@pytest.fixture(scope="module")
def compiled() -> None:
    """Compile before any clock runs."""
    compare(read_hole(HOLES["millpond"]), read_player(PLAYERS["wren"]), Request(sequences=200))


@pytest.mark.slow
@pytest.mark.usefixtures("compiled")
@pytest.mark.parametrize("start", range(0, 2000, 100))
@pytest.mark.parametrize("kind", ["hole", "busy hole", "player"])
def test_accepted_ones_are_played_to_an_end(tmp_path, kind, start):
    """Five accepted mutants of each hundred: 300 in all."""
    took: list[float] = []
    for seed in range(start, start + 100):
        if len(took) < 5 and (seconds := _played(kind, tmp_path, seed)) is not None:
            took.append(seconds)
            assert seconds < 20.0, f"{kind} {seed}"
    assert len(took) == 5
