"""Solved holes are kept by all that they depend on, and an entry on the disk is trusted only as far as it can be."""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
import time
from collections import OrderedDict
from dataclasses import fields, replace
from pathlib import Path

import numpy as np
import pytest
from helpers import box, club, club_golfer
from solving import Question, ask

from simcaddie.base import keeping
from simcaddie.base import memo as shelf
from simcaddie.base.memo import digest, ignore_kept, kept_arrays
from simcaddie.course.hole import Area, Hole
from simcaddie.model import arrays as r
from simcaddie.model.heuristics import everyday, guess_to_go
from simcaddie.solve import memo as kept
from simcaddie.solve.solution import ROUGH, Solution, follow, solve
from simcaddie.weather.day import Day

TESTS = Path(__file__).parent.parent


def lawn() -> Hole:
    return Hole(
        "Lawn (invented)",
        3,
        {"t": (0.0, 0.0)},
        {"p": (1.0, 70.0)},
        (Area("fairway", box(-12, 20, 14, 58)), Area("green", box(-8, 60, 10, 80))),
        boundary=box(-24, -10, 26, 92),
    )


def golfer():
    return club_golfer(bag=(club("sand wedge", 70.0),))


@pytest.fixture
def folder(tmp_path, monkeypatch) -> Path:
    """Return a folder of entries of this test's own; nothing is in memory."""
    version = tmp_path / "version"
    version.mkdir()
    monkeypatch.setattr(shelf, "cache_folder", lambda: version)
    monkeypatch.setattr(kept, "_memory", OrderedDict())
    return version / "kept"


@pytest.fixture
def question() -> Question:
    return ask(lawn(), golfer()).on_cells(8.0)


@pytest.fixture
def solves(monkeypatch) -> list[tuple]:
    """Let ``solve`` make up its answers, and return the list of what it is asked."""
    asked = []

    def made_up(problem: r.Problem, *given: object, cap: int = 12, **named: object) -> Solution:
        asked.append((*given, cap, named))
        states, size = problem.states.lie.size, len(asked)
        return Solution(
            problem,
            r.Policy(np.full(states, size, np.int16), np.full(states, 0.1 * size)),
            r.Value(np.full(states, 3.0)),
            np.full((cap + 1, states), 1.0 / (cap + 1)),
            np.zeros(states),
            0.0,
            (0.0, 0.0),
        )

    monkeypatch.setattr(kept, "solve", made_up)
    return asked


def entries(folder: Path) -> list[Path]:
    return sorted(folder.glob("*"))


def solutions(folder: Path) -> list[Path]:
    """Return the entries that hold a solved hole; grids are kept beside them."""
    found = []
    for path in entries(folder):
        with np.load(path) as held:
            found += [path] if "law" in held.files else []
    return found


def forget(monkeypatch) -> None:
    monkeypatch.setattr(kept, "_memory", OrderedDict())


def rough(question: Question, **keys: object) -> Solution:
    return kept.solved(question.problem, question.grid, question.place, **{"effort": ROUGH, **keys})


def same(one: Solution, other: Solution) -> bool:
    columns = [
        (*solution.policy, *solution.value, solution.pmf, solution.visits, solution.residual, solution.cap)
        for solution in (one, other)
    ]
    return all(
        np.array_equal(a, b) and np.asarray(a).dtype == np.asarray(b).dtype for a, b in zip(*columns, strict=True)
    )


def test_from_memory_and_from_the_disk_comes_what_solve_gives(folder, question, monkeypatch):
    made = rough(question)
    assert same(made, solve(question.problem, question.grid, question.place, effort=ROUGH))
    assert rough(question) is made
    assert len(solutions(folder)) == 1
    forget(monkeypatch)
    monkeypatch.setattr(kept, "solve", None)  # not to be called
    again = rough(question)
    assert again is not made
    assert same(again, made)
    assert {f.name for f in fields(again)} == {f.name for f in fields(made)}
    assert again.problem is question.problem


def test_a_followed_policy_is_kept_too_and_not_even_looked_for_again(folder, question, monkeypatch):
    problem, to_go, looked = question.problem, guess_to_go(question.problem).to_go, []

    def policy() -> r.Policy:
        looked.append(1)
        return everyday(problem, golfer(), "sound", (1.0, 70.0))

    def ask_again(*name: object, nodes: tuple[int, int] = (8, 16)) -> Solution:
        return kept.followed(problem, policy, name, to_go, question.place, nodes=nodes)

    made = ask_again("sound")
    assert same(made, follow(problem, policy(), to_go, question.place, nodes=(8, 16)))
    forget(monkeypatch)
    looked.clear()
    assert same(ask_again("sound"), made)
    assert not looked
    ask_again("usual")
    ask_again("sound", nodes=(8, 32))
    assert len(looked) == 2
    assert len(solutions(folder)) == 3


def test_another_player_hole_day_place_or_effort_is_another_question(folder, question, solves):
    hole, player = lawn(), golfer()
    hills = np.array([[0.0, 0.0, 3.0], [20.0, 60.0, 5.0], [-20.0, 90.0, 9.0]])
    elsewhere = replace(hole, tees={"t": (0.25, 0.0)})
    others = [
        ask(hole, replace(player, putting=replace(player.putting, direction_sd=1.0))),
        ask(hole, replace(player, bag=(club("sand wedge", 71.0),))),
        ask(replace(hole, pins={"p": (1.0, 71.0)}), player),
        ask(replace(hole, heights=hills), player),
        ask(replace(hole, areas=(*hole.areas, Area("bunker", box(12, 60, 18, 66)))), player),
        ask(hole, player, Day(wind=3.0)),
        ask(elsewhere, player),
    ]
    for other in (question, *(one.on_cells(8.0) for one in others), question.on_cells(4.0)):
        rough(other)
    rough(question, cap=9)
    rough(question, effort=ROUGH._replace(start=2 * ROUGH.start))
    assert len(solves) == len(solutions(folder)) == len(others) + 4
    rough(ask(hole, player).on_cells(8.0))  # the same question, built from scratch
    assert len(solves) == len(others) + 4


def test_digests_tell_apart_what_is_nested_otherwise():
    row = np.arange(4.0)
    things = [
        (row,), (row.astype(np.float32),), (row.reshape(2, 2),), (row, 1), (row, 2), ((row, 1),), ((row,), 1), (1, row),
        ("1", row), (row, None), (row, b"1"), (row, "1"), (1.0, row),
    ]  # fmt: skip
    assert len({digest(*thing) for thing in things}) == len(things)
    assert digest(row[::2]) == digest(np.array([0.0, 2.0]))  # what it holds counts, not how it lies in memory


def test_memory_holds_the_last_few(folder, question, solves, monkeypatch):
    monkeypatch.setattr(kept, "MOST_IN_MEMORY", 2)
    shelf_of = [rough(question, cap=cap) for cap in (7, 8)]
    assert rough(question, cap=7) is shelf_of[0]
    rough(question, cap=9)
    assert rough(question, cap=7) is shelf_of[0]  # used last but one: still here
    assert rough(question, cap=8) is not shelf_of[1]  # from the disk
    assert len(solves) == 3


class Caught:
    """What a pickle runs when it is read."""

    def __reduce__(self) -> tuple:
        return (os.mkdir, (os.environ["SIMCADDIE_TEST_TRAP"],))


def damages() -> dict[str, object]:
    """Return ways to spoil an entry: a function of its path each."""

    def arrays(path: Path, **changed: object) -> None:
        with np.load(path) as held:
            found = {name: held[name] for name in held.files}
        found = {name: array for name, array in {**found, **changed}.items() if array is not None}
        with path.open("wb") as file:
            np.savez(file, **found)

    def law_of(path: Path) -> np.ndarray:
        with np.load(path) as held:
            return held["law"]

    def one_array(path: Path) -> None:
        with path.open("wb") as file:
            np.save(file, np.zeros(3))

    return {
        "empty": lambda path: path.write_bytes(b""),
        "text": lambda path: path.write_text("not an archive"),
        "cut in half": lambda path: path.write_bytes(path.read_bytes()[: path.stat().st_size // 2]),
        "cut by a byte": lambda path: path.write_bytes(path.read_bytes()[:-1]),
        "one array, no archive": one_array,
        "pickled": lambda path: path.write_bytes(pickle.dumps(Caught())),
        "a pickle inside": lambda path: arrays(path, pmf=np.array([Caught()], object)),
        "an array less": lambda path: arrays(path, visits=None),
        "an array more": lambda path: arrays(path, more=np.zeros(2)),
        "of another hole": lambda path: arrays(path, pmf=law_of(path)[:, :-1]),
        "of another cap": lambda path: arrays(path, pmf=law_of(path)[:-1]),
        "in other numbers": lambda path: arrays(path, pmf=law_of(path).astype(np.float32)),
    }


@pytest.mark.parametrize("name", list(damages()))
@pytest.mark.filterwarnings("ignore:what is kept was damaged")
def test_a_damaged_or_foreign_entry_is_thrown_away_and_made_anew(name, folder, question, solves, monkeypatch, tmp_path):
    monkeypatch.setenv("SIMCADDIE_TEST_TRAP", str(tmp_path / "trap"))
    rough(question)
    (path,) = solutions(folder)
    good = path.read_bytes()
    damages()[name](path)
    forget(monkeypatch)
    assert rough(question).policy.swing[0] == 2  # the second that was made up
    assert len(solves) == 2
    assert not (tmp_path / "trap").exists()  # nothing was run
    assert path.stat().st_size == len(good)
    forget(monkeypatch)
    assert rough(question).policy.swing[0] == 2  # and kept
    assert len(solves) == 2


@pytest.mark.filterwarnings("ignore:what is kept was damaged")
@pytest.mark.parametrize("small", [False, True], ids=["plain", "packed"])
def test_any_flipped_byte_is_noticed_or_does_no_harm(small, folder):
    """Each byte of a small entry is turned over in turn: never another answer, and never a fault."""
    made = {"swing": np.arange(6, dtype=np.int16), "law": np.linspace(0.0, 1.0, 5)}

    def fits(found) -> bool:
        return set(found) == set(made) and all(
            found[name].shape == made[name].shape and found[name].dtype == made[name].dtype for name in made
        )

    kept_arrays("entry", lambda: made, fits, small=small)
    (path,) = entries(folder)
    good, anew = path.read_bytes(), 0
    for place in range(len(good)):
        path.write_bytes(good[:place] + bytes([good[place] ^ 0xFF]) + good[place + 1 :])
        again = []
        found = kept_arrays("entry", lambda again=again: again.append(1) or made, fits, small=small)
        assert all(np.array_equal(found[name], made[name]) for name in made), place
        anew += len(again)
    assert anew > len(good) / 2


def test_what_is_kept_can_be_ignored_and_is_kept_again(folder, question, solves, monkeypatch):
    rough(question)
    forget(monkeypatch)
    ignore_kept()
    try:
        assert rough(question).policy.swing[0] == 2
        forget(monkeypatch)
        assert rough(question).policy.swing[0] == 3
    finally:
        ignore_kept(ignored=False)
    forget(monkeypatch)
    assert rough(question).policy.swing[0] == 3
    assert len(solutions(folder)) == 1


def test_where_no_folder_can_be_written_holes_are_solved_all_the_same(question, solves, monkeypatch):
    monkeypatch.setattr(shelf, "cache_folder", lambda: None)
    forget(monkeypatch)
    rough(question)
    rough(question)
    forget(monkeypatch)
    rough(question)
    assert len(solves) == 2


def test_a_full_disk_costs_nothing_but_the_entry(folder, question, solves, monkeypatch):
    def full(*_given: object, **_arrays: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(keeping, "put", full)
    monkeypatch.setattr(keeping, "_told", set())
    with pytest.warns(UserWarning, match="nothing more can be kept"):
        assert rough(question).policy.swing[0] == 1
    assert solutions(folder) == []


def test_the_least_recently_used_go_first_where_they_take_too_much_room(folder, monkeypatch):
    """Entries of another version of the program are counted, and go, like those of this one."""
    made = {"law": np.zeros(1000)}
    monkeypatch.setattr(shelf, "ROOM_EVERY", 1)

    def use(key: str) -> None:
        kept_arrays(key, lambda: made, lambda found: "law" in found)

    for key in ("a", "b", "c"):
        use(key)
    old = folder.parent.parent / "older version" / "kept"
    old.mkdir(parents=True)
    (old / "d.npz").write_bytes((folder / "a.npz").read_bytes())
    bystander = folder.parent / "compiled.nbi"
    bystander.write_bytes(bytes(100_000))
    for age, path in enumerate([folder / "c.npz", folder / "b.npz", old / "d.npz", folder / "a.npz"]):
        os.utime(path, (1_000_000 - age, 1_000_000 - age))  # a is the oldest, c the newest
    use("a")  # used now: the newest of them all
    size = (folder / "a.npz").stat().st_size
    monkeypatch.setattr(shelf, "MOST_BYTES", int(3.5 * size))
    use("e")
    assert [path.stem for path in entries(folder)] == ["a", "c", "e"]
    assert not list(old.iterdir())
    assert bystander.exists()


TWO_AT_ONCE = """
import sys, time
from pathlib import Path
import numpy as np
from simcaddie.base import memo as shelf
shelf.cache_folder = lambda: Path({version!r})
shelf.ROOM_EVERY, shelf.MOST_BYTES = 3, 300_000  # room for four of the seven
own, start, odd, worked = int(sys.argv[1]), float(sys.argv[2]), 0, 0
fits = lambda found: set(found) == {{"a", "b"}}
while time.time() < start:
    time.sleep(0.001)
for turn in range(300):
    key, made = f"k{{turn % (3 if turn % 2 else 7)}}", {{"a": np.full(4000, own), "b": np.full(4000, own)}}
    shelf.ignore_kept(ignored=turn % 3 == 0)
    found = shelf.kept_arrays(key, lambda: made, fits)
    worked += found is not made
    odd += not (found["a"] == found["a"][0]).all() or not np.array_equal(found["a"], found["b"])
print(odd, worked)
"""


def test_two_processes_at_once_never_see_half_an_entry(folder):
    """Either writes, reads and makes room among the same seven entries, three of them asked for most."""
    code, start = TWO_AT_ONCE.format(version=str(folder.parent)), time.time() + 3.0
    call, pipe = [sys.executable, "-c", code], subprocess.PIPE
    both = [subprocess.Popen([*call, str(own), str(start)], stdout=pipe, stderr=pipe, text=True) for own in (1, 2)]
    said = [one.communicate(timeout=120) for one in both]
    assert [errors for _, errors in said] == ["", ""]
    for out, _ in said:
        odd, worked = out.split()
        assert int(odd) == 0
        assert int(worked) > 20  # entries were read, its own or the other's
    assert not list(folder.glob("*.part"))


SOLVED = """
import hashlib, sys
sys.path[:0] = [{tests!r}, {here!r}]
from pathlib import Path
from simcaddie.base import memo as shelf
shelf.cache_folder = lambda: Path({version!r})
from test_kept import rough, lawn, golfer
from solving import ask
solution = rough(ask(lawn(), golfer()).on_cells(8.0))
digest = hashlib.sha256()
for column in (*solution.policy, *solution.value, solution.pmf, solution.visits):
    digest.update(column.tobytes())
print(digest.hexdigest())
"""


def test_two_processes_that_solve_the_same_hole_keep_one_answer(folder, question):
    code = SOLVED.format(tests=str(TESTS), here=str(Path(__file__).parent), version=str(folder.parent))
    both = [subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True) for _ in range(2)]
    said = {one.communicate(timeout=120)[0].strip() for one in both}
    assert [len(one) for one in said] == [64]
    before = entries(folder)
    assert len(solutions(folder)) == 1
    assert all(path.suffix == ".npz" for path in before)
    kept_here = rough(question)
    assert entries(folder) == before  # it was found
    assert same(kept_here, solve(question.problem, question.grid, question.place, effort=ROUGH))
