"""Every way to spoil a file that we could think of gives exactly the faults written down for it."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from samples import HOLE, PLAYER

from simcaddie.base.errors import BadFile
from simcaddie.io.check import check_file
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player

HERE = Path(__file__).parent
READ = {"hole": (HOLE, read_hole), "player": (PLAYER, read_player)}


def _cases(kind: str) -> list[tuple[str, str, str, list[str]]]:
    cases = []
    for block in (HERE / f"bad_{kind}s.txt").read_text("utf-8").split("\n\n"):
        lines = [line for line in block.splitlines() if not line.startswith("#")]
        if lines:
            old, new = (line[2:].replace("\\n", "\n").replace("\\t", "\t") for line in lines[:2])
            cases.append((kind, old, new.replace("\\\t", "\\t"), lines[2:]))
    return cases


@pytest.mark.parametrize(
    "case", _cases("hole") + _cases("player"), ids=lambda case: f"{case[0]}: {case[2]}"[:60]
)
def test_a_spoilt_file_gives_exactly_these_faults(tmp_path, monkeypatch, case):
    kind, old, new, told = case
    monkeypatch.chdir(tmp_path)
    text, read = READ[kind]
    assert old in text
    Path("f.yaml").write_text(text.replace(old, new, 1), "utf-8")
    with pytest.raises(BadFile) as caught:
        read("f.yaml")
    assert str(caught.value).splitlines() == told


def test_all_faults_come_at_once(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = HOLE.replace("par: 4", "par: 9\npar: 4").replace("kind: bunker", "kind: bunkr")
    text = text.replace("red: [5, 41]", "red: [30, 220]").replace("back: [0, 370]", "back: [0, 300]")
    Path("f.yaml").write_text(text)
    with pytest.raises(BadFile) as caught:
        check_file("f.yaml")
    assert str(caught.value).splitlines() == [
        "f.yaml:3: par: expected a whole number from 3 to 6, found 9",
        "f.yaml:4: expected each key once, found `par` again, first in line 3",
        "f.yaml:8: tees > red: expected ground that a tee can stand on, "
        "found [30, 220], which is in water (pond)",
        "f.yaml:9: pins > back: expected a place on a green, found [0, 300], which is in fairway",
        "f.yaml:13: areas > no. 2 (left bunker) > kind: expected a kind of ground (did you mean `bunker`?), "
        "found 'bunkr'",
    ]


def test_more_faults_than_anyone_reads_are_counted(tmp_path):
    path = tmp_path / "f.yaml"
    path.write_text(HOLE + "".join(f"zz{number}: 1\n" for number in range(500)))
    with pytest.raises(BadFile) as caught:
        read_hole(path)
    assert len(caught.value.faults) == 61
    assert str(caught.value.faults[-1]).endswith(":83: expected no more faults, found 440 more from here on")


def _told(path) -> str:
    with pytest.raises(BadFile) as caught:
        check_file(path)
    return str(caught.value)


def test_files_that_can_not_be_read_at_all(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("folder.yaml").mkdir()
    Path("empty.yaml").write_text("")
    Path("remarks.yaml").write_text("# nothing yet\n\n")
    Path("latin.yaml").write_bytes("name: x\nnote: Grüße\n".encode("latin-1"))
    Path("wide.yaml").write_text("name: x", "utf-16")
    Path("zero.yaml").write_bytes(b"name: x\npar: 4\0")
    Path("bell.yaml").write_bytes(b"name: x\x07\n")
    Path("list.yaml").write_text("- 1\n")
    Path("word.yaml").write_text("hello\n")
    Path("other.yaml").write_text("colour: red\n")
    assert _told("missing.yaml") == "missing.yaml: expected a file, found none of that name"
    assert _told("missing/a.yaml") == "missing/a.yaml: expected a file, found none of that name"
    assert _told("empty.yaml/a") == "empty.yaml/a: expected a file that can be read, found not a directory"
    assert _told("a\0b") == "a?b: expected a file that can be read, found a name no file can have"
    assert _told("a" * 300).endswith(": expected a file that can be read, found file name too long")
    assert _told("folder.yaml") == "folder.yaml: expected a file, found a directory"
    assert _told("/dev/zero") == "/dev/zero: expected an ordinary file, found a device or pipe"
    assert _told("empty.yaml") == "empty.yaml: expected something written in it, found an empty file"
    assert _told("remarks.yaml") == "remarks.yaml: expected something written in it, found an empty file"
    assert _told("latin.yaml") == (
        "latin.yaml:2: expected text saved as UTF-8, found the byte 0xfc, which belongs to another encoding"
    )
    assert _told("wide.yaml") == "wide.yaml: expected text saved as UTF-8, found UTF-16"
    assert _told("zero.yaml") == "zero.yaml:2: expected plain text, found the control character U+0000"
    assert _told("bell.yaml") == "bell.yaml:1: expected plain text, found the control character U+0007"
    either = "expected a hole (`par`, `areas` …), a player (`bag` …), a course (`holes` …) or a day (`day`), found"
    assert _told("list.yaml") == f"list.yaml:1: {either} [1]"
    assert _told("word.yaml") == f"word.yaml:1: {either} 'hello'"
    assert _told("other.yaml") == f"other.yaml:1: {either} the keys colour"


def test_a_hole_or_player_that_is_no_mapping(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("f.yaml").write_text("[1, 2]")
    with pytest.raises(BadFile, match=r"^f.yaml:1: expected a hole: lines of `key: value`, found \[1, 2\]$"):
        read_hole("f.yaml")
    with pytest.raises(
        BadFile, match=r"^f.yaml:1: expected a player: lines of `key: value`, found \[1, 2\]$"
    ):
        read_player("f.yaml")


def test_a_file_of_200_mb_is_refused_unread(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with Path("big.yaml").open("wb") as stream:
        stream.truncate(200_000_000)
    start = time.perf_counter()
    assert _told("big.yaml") == "big.yaml: expected a file of at most 1 MB, found 200 MB"
    assert time.perf_counter() - start < 1.0


def test_a_yaml_bomb_is_refused_at_its_first_anchor(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    rows = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    rows += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 30)]
    Path("bomb.yaml").write_text("\n".join(rows))
    assert (
        _told("bomb.yaml") == "bomb.yaml:1: expected every value written out, found the anchor or alias `a0`"
    )


def test_deep_nesting_is_refused(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("deep.yaml").write_text("a: " + "[" * 30 + "]" * 30)
    assert _told("deep.yaml") == (
        "deep.yaml:1: expected at most 20 brackets or indents inside each other, found more"
    )


@pytest.mark.parametrize("text", ["[" * 5000, "{a: " * 5000, "- " * 5000 + "x", "[" * 400_000])
def test_nesting_that_would_break_a_parser_is_refused_at_once(tmp_path, text):
    path = tmp_path / "deep.yaml"
    path.write_text(text)
    start = time.perf_counter()
    assert _told(path).count("\n") == 0
    assert time.perf_counter() - start < 2.0


def test_an_unreadable_file(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)

    def refuse(*_args: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "stat", refuse)
    assert _told("mine.yaml") == "mine.yaml: expected a file that can be read, found permission denied"
