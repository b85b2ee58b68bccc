"""Kept code and kept holes that are damaged, foreign, full or unwritable: told once, and worked around."""

from __future__ import annotations

import os
import shutil
import stat
import subprocess
import warnings
from pathlib import Path

import numpy as np
import pytest
from making import COMMAND, STRANGER, as_stranger, linux, root, small_disk

from simcaddie.base import compiled as compiling
from simcaddie.base import keeping, memo
from simcaddie.base.keeping import private_folder, read_kept, write_kept
from simcaddie.base.memo import kept_arrays


def _plus(x: float) -> float:
    return x + 0.5


@pytest.fixture(scope="module")
def stocked(tmp_path_factory) -> Path:
    """Return a folder that holds the compiled code of ``_plus``."""
    folder = tmp_path_factory.mktemp("stock")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(compiling, "cache_folder", lambda: folder)
        assert compiling.compiled(_plus)(1.0) == 1.5
    return folder


@pytest.fixture
def folder(stocked, tmp_path, monkeypatch) -> Path:
    copy = tmp_path / "cache"
    shutil.copytree(stocked, copy)
    monkeypatch.setattr(compiling, "cache_folder", lambda: copy)
    return copy


def used() -> tuple[float, int]:
    """Return what ``_plus`` gives when it is compiled or loaded anew, and how often it was loaded."""
    made = compiling.compiled(_plus)
    return made(1.0), sum(made.stats.cache_hits.values())


def entry(folder: Path) -> Path:
    (found,) = folder.glob("*.code")
    return found


def test_kept_code_is_found_again(folder):
    assert used() == (1.5, 1)
    assert stat.S_IMODE(entry(folder).stat().st_mode) & 0o077 == 0 or not hasattr(os, "geteuid")


DAMAGES = {
    "emptied": lambda _: b"",
    "cut in half": lambda code: code[: len(code) // 2],
    "cut by a byte": lambda code: code[:-1],
    "a byte turned over": lambda code: code[:900] + bytes([code[900] ^ 0xFF]) + code[901:],
    "other text": lambda _: b"no code at all" * 50,
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_damaged_code_is_compiled_anew_told_once_and_kept_again(folder, damage):
    path = entry(folder)
    path.write_bytes(DAMAGES[damage](path.read_bytes()))
    with pytest.warns(UserWarning, match=f"was damaged and is made anew: {folder}") as told:
        assert (used(), used()) == ((1.5, 0), (1.5, 1))
    assert len(told) == 1


def test_an_entry_under_another_name_is_not_taken_for_it(folder):
    path = entry(folder)
    content = path.read_bytes()
    path.unlink()
    other = path.with_name("simcaddie.other.code")
    other.write_bytes(content)
    with pytest.warns(UserWarning, match="damaged"):
        assert read_kept(other) is None
    assert not other.exists()


def test_another_processor_or_version_finds_nothing_and_no_fault(folder, monkeypatch):
    monkeypatch.setattr(compiling._Kept, "_index_key", lambda *_given: ("another processor",))
    assert used() == (1.5, 0)
    assert len(list(folder.glob("*.code"))) == 2


def test_an_entry_of_the_right_seal_that_another_compiler_wrote_is_thrown_away(folder):
    path = entry(folder)
    write_kept(path, b"of another make")
    with pytest.warns(UserWarning, match="damaged"):
        assert used() == (1.5, 0)


def test_a_link_in_the_place_of_an_entry_is_not_followed(folder, tmp_path):
    path = entry(folder)
    elsewhere = tmp_path / path.name
    path.rename(elsewhere)
    path.symlink_to(elsewhere)
    with pytest.warns(UserWarning, match="can't be read"):
        assert used() == (1.5, 0)


@root
@linux
def test_code_that_another_user_wrote_is_not_run(folder):
    os.chown(entry(folder), STRANGER, STRANGER)
    with pytest.warns(UserWarning, match="damaged"):
        assert used() == (1.5, 0)


@root
@linux
def test_a_full_disk_is_told_once_and_leaves_no_draft(tmp_path, monkeypatch):
    with small_disk(tmp_path / "disk") as disk:
        monkeypatch.setattr(compiling, "cache_folder", lambda: disk)
        (disk / "filler").write_bytes(bytes(118 * 1024))
        with pytest.warns(UserWarning, match="nothing more can be kept.*no space left") as told:
            assert (used(), used()) == ((1.5, 0), (1.5, 0))
        assert len(told) == 1
        assert [path.name for path in disk.iterdir()] == ["filler"]


def test_folders_are_made_for_their_user_alone(tmp_path):
    made = private_folder(tmp_path / "deep" / "deeper")
    assert made == tmp_path / "deep" / "deeper"
    if hasattr(os, "geteuid"):
        assert [stat.S_IMODE(path.stat().st_mode) for path in (made, made.parent)] == [0o700, 0o700]


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="needs owners and modes")
@pytest.mark.parametrize("mode", [0o770, 0o702, 0o777])
def test_a_folder_that_others_can_write_to_is_not_used(tmp_path, mode):
    (tmp_path / "open").mkdir()
    (tmp_path / "open").chmod(mode)
    with pytest.warns(UserWarning, match="nothing is kept .* others own it or can write to it"):
        assert private_folder(tmp_path / "open") is None


@root
@linux
def test_a_folder_of_another_user_is_not_used(tmp_path):
    (tmp_path / "theirs").mkdir(mode=0o755)
    os.chown(tmp_path / "theirs", STRANGER, STRANGER)
    with pytest.warns(UserWarning, match="others own it"):
        assert private_folder(tmp_path / "theirs") is None


@root
@linux
def test_a_folder_that_can_not_be_made_or_written_is_told(seen_by_all):

    def work() -> str:
        with warnings.catch_warnings(record=True) as told:
            warnings.simplefilter("always")
            made = private_folder(seen_by_all / "mine")
            write_kept(seen_by_all / "kept", b"x")
        return f"{made} {[str(one.message) for one in told]}"

    told = as_stranger(work)
    assert told.startswith("None ['nothing is kept")
    assert told.count("permission denied") == 2


def test_a_file_in_the_folders_place_and_no_home_folder_are_told(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("")
    for path in (tmp_path / "file", Path("~")):
        monkeypatch.setattr(keeping, "_told", set())
        with pytest.warns(UserWarning, match="nothing is kept between commands"):
            assert private_folder(path) is None
    assert not Path("~").exists()


def test_kept_holes_are_looked_at_as_well(tmp_path, monkeypatch):
    monkeypatch.setattr(memo, "cache_folder", lambda: tmp_path)
    made = {"law": np.arange(4.0)}
    kept_arrays("hole", lambda: made, lambda found: "law" in found)
    path = tmp_path / "kept" / "hole.npz"
    content = path.read_bytes()
    for damaged in (b"", content[:-1], content[:50] + b"?" + content[51:]):
        monkeypatch.setattr(keeping, "_told", set())
        path.write_bytes(damaged)
        with pytest.warns(UserWarning, match="damaged"):
            found = kept_arrays("hole", lambda: made, lambda found: "law" in found)
        assert found["law"].tolist() == [0.0, 1.0, 2.0, 3.0]
        assert path.read_bytes() == content


@pytest.mark.slow
@root
@linux
def test_a_command_on_a_full_disk_answers_and_says_so_once(tmp_path):
    with small_disk(tmp_path / "disk") as disk:
        done = subprocess.run(
            [*COMMAND, "today", "millpond", "wren"],
            env={**os.environ, "SIMCADDIE_CACHE": str(disk)}, capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert not list(disk.rglob("*.part"))
    assert done.returncode == 0
    assert done.stdout.startswith("Millpond")
    assert done.stderr.count("nothing more can be kept") == 1
