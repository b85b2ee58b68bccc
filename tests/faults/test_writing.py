"""Files are written whole, where they belong, and never over a device, a link or what somebody else planted."""

from __future__ import annotations

import os
import socket
import stat
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from making import STRANGER, as_stranger, linux, names, node, root, small_disk

from simcaddie.base import writing
from simcaddie.base.errors import BadRequest
from simcaddie.base.writing import look_at, look_at_folder, put, write_bytes
from simcaddie.io.write import write_all

posix = pytest.mark.skipif(os.name != "posix", reason="needs links, pipes and modes")


@posix
def test_links_are_followed_also_where_they_lead_to_nothing_yet(tmp_path):
    for name, target in (("one", "two"), ("two", "deep/file"), ("new", "deep/made")):
        (tmp_path / name).symlink_to(target)
    (tmp_path / "deep").mkdir()
    (tmp_path / "deep" / "file").write_text("old")
    write_bytes(tmp_path / "one", b"first")
    write_bytes(tmp_path / "new", b"second")
    assert (tmp_path / "one").is_symlink()
    assert (tmp_path / "two").is_symlink()
    assert (tmp_path / "new").is_symlink()
    assert (tmp_path / "deep" / "file").read_bytes() == b"first"
    assert (tmp_path / "deep" / "made").read_bytes() == b"second"
    assert names(tmp_path / "deep") == ["file", "made"]


@posix
def test_links_in_a_circle_are_refused(tmp_path):
    (tmp_path / "a").symlink_to("b")
    (tmp_path / "b").symlink_to("a")
    with pytest.raises(BadRequest, match=r"can't write .*/a: too many levels of symbolic links"):
        write_bytes(tmp_path / "a", b"x")


@posix
def test_a_pipe_is_written_into(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    got = []
    reader = threading.Thread(target=lambda: got.append((tmp_path / "pipe").read_bytes()))
    reader.start()
    assert look_at(tmp_path / "pipe") is None
    write_bytes(tmp_path / "pipe", b"through")
    reader.join(10)
    assert got == [b"through"]
    assert stat.S_ISFIFO((tmp_path / "pipe").stat().st_mode)


@root
@linux
def test_a_device_is_written_into_and_stays_one(tmp_path):
    null, full = node(tmp_path / "null", 3), node(tmp_path / "full", 7)
    (tmp_path / "link").symlink_to("null")
    for path in (null, tmp_path / "link"):
        write_bytes(path, b"x" * 10_000)
    with pytest.raises(BadRequest, match="full: no space left on device"):
        write_bytes(full, b"x")
    assert all(stat.S_ISCHR(path.stat().st_mode) for path in (null, full))
    assert names(tmp_path) == ["full", "link", "null"]


@root
@linux
def test_a_disk_as_a_device_is_refused(tmp_path):
    try:
        os.mknod(tmp_path / "disk", 0o600 | stat.S_IFBLK, os.makedev(240, 77))  # nothing is behind it
    except OSError as error:
        pytest.skip(f"no device can be made here: {error}")
    with pytest.raises(BadRequest, match="neither a file, a pipe nor a terminal"):
        write_bytes(tmp_path / "disk", b"x")


@posix
def test_a_socket_and_a_folder_are_refused(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with socket.socket(socket.AF_UNIX) as made:
        made.bind("s")
        with pytest.raises(BadRequest, match="neither a file"):
            write_bytes("s", b"x")
    with pytest.raises(BadRequest, match="is a directory"):
        write_bytes(tmp_path, b"x")


@linux
@pytest.mark.parametrize("to", ["file", "pipe"])
def test_standard_output_by_its_name_is_not_replaced(tmp_path, to):
    code = "from simcaddie.base.writing import write_bytes; print('a'); write_bytes('/dev/stdout', b'b\\n'); print('c')"
    with (tmp_path / "out").open("wb") as file:
        pipe = file if to == "file" else subprocess.PIPE
        done = subprocess.run([sys.executable, "-c", code], stdout=pipe, check=True)
    assert (done.stdout or (tmp_path / "out").read_bytes()) == b"a\nb\nc\n"


@posix
def test_rights_of_the_old_file_stay_and_a_new_one_has_the_usual(tmp_path):
    old = tmp_path / "old"
    old.write_text("x")
    old.chmod(0o640)
    write_bytes(old, b"y")
    write_bytes(tmp_path / "new", b"y")
    usual = os.umask(0)
    os.umask(usual)
    assert stat.S_IMODE(old.stat().st_mode) == 0o640
    assert stat.S_IMODE((tmp_path / "new").stat().st_mode) == 0o666 & ~usual


@root
@linux
def test_the_old_files_owner_keeps_it(tmp_path):
    (tmp_path / "theirs").write_text("x")
    os.chown(tmp_path / "theirs", STRANGER, STRANGER)
    write_bytes(tmp_path / "theirs", b"y")
    assert (tmp_path / "theirs").stat().st_uid == STRANGER


@posix
def test_a_link_planted_where_the_draft_goes_is_not_followed(tmp_path, monkeypatch):
    """Even somebody who could foresee the draft's name gets nothing: it is opened only where there is nothing."""
    monkeypatch.setattr(writing.secrets, "token_hex", lambda _: "foreseen")
    (tmp_path / "precious").write_text("precious")
    (tmp_path / ".simcaddie-foreseen.part").symlink_to("precious")
    with pytest.raises(BadRequest, match="file exists"):
        write_bytes(tmp_path / "out", b"x")
    assert (tmp_path / "precious").read_text() == "precious"
    assert not (tmp_path / "out").exists()


def test_drafts_have_names_that_nobody_can_foresee(tmp_path, monkeypatch):
    seen, move = [], Path.replace
    monkeypatch.setattr(Path, "replace", lambda self, to: (seen.append(self.name), move(self, to))[1])
    for _ in range(5):
        write_bytes(tmp_path / "out", b"x")
    assert len(set(seen)) == 5
    assert all(len(name) == len(".simcaddie-.part") + 16 for name in seen)


@root
@linux
def test_a_link_that_another_user_put_into_a_folder_for_all_is_refused(tmp_path):
    shared = tmp_path / "shared"
    shared.mkdir()
    shared.chmod(0o1777)
    (tmp_path / "precious").write_text("precious")
    (shared / "out").symlink_to(tmp_path / "precious")
    os.lchown(shared / "out", STRANGER, STRANGER)
    with pytest.raises(BadRequest, match=r"another user|permission denied"):
        write_bytes(shared / "out", b"x")
    assert (tmp_path / "precious").read_text() == "precious"


@pytest.mark.parametrize("stop", [KeyboardInterrupt, SystemExit, MemoryError])
@pytest.mark.parametrize("where", ["fsync", "replace"])
def test_no_draft_stays_on_any_way_out(tmp_path, monkeypatch, stop, where):
    def stopped(*_given: object) -> None:
        raise stop

    (tmp_path / "out").write_text("old")
    monkeypatch.setattr(os if where == "fsync" else Path, where, stopped)
    with pytest.raises(stop):
        write_bytes(tmp_path / "out", b"new")
    assert names(tmp_path) == ["out"]
    assert (tmp_path / "out").read_text() == "old"
    assert not writing._drafts


def test_what_is_written_is_on_the_disk_before_it_is_moved(tmp_path, monkeypatch):
    steps, sync, move = [], os.fsync, Path.replace
    monkeypatch.setattr(os, "fsync", lambda handle: (steps.append("sync"), sync(handle))[1])
    monkeypatch.setattr(Path, "replace", lambda self, to: (steps.append("move"), move(self, to))[1])
    write_bytes(tmp_path / "out", b"x")
    assert steps == ["sync", "move"]


@pytest.mark.parametrize("error", [OSError(28, "No space left on device"), KeyboardInterrupt()])
@pytest.mark.parametrize("fails", [1, 2, 3])
def test_several_files_are_moved_all_or_none(tmp_path, monkeypatch, fails, error):
    (tmp_path / "b").write_text("old b")
    moved, move = [], Path.replace

    def replace(self: Path, to: Path) -> Path:
        moved.append(to)
        if len(moved) == fails:
            raise error
        return move(self, to)

    monkeypatch.setattr(Path, "replace", replace)
    with pytest.raises(BaseException, match=r"o space left|^$"):
        put({tmp_path / name: f"new {name}".encode() for name in "abc"})
    assert names(tmp_path) == ["b"]
    assert (tmp_path / "b").read_text() == "old b"


def test_several_files_come_all_where_nothing_fails(tmp_path):
    (tmp_path / "b").write_text("old b")
    write_all(tmp_path / "x" / "y", {"a": "new a"})
    write_all(tmp_path, {name: f"new {name}" for name in "ab"})
    assert names(tmp_path) == ["a", "b", "x"]
    assert (tmp_path / "b").read_text() == "new b"
    assert (tmp_path / "x" / "y" / "a").read_text() == "new a"


@root
@linux
def test_a_full_disk_leaves_the_old_files_no_draft_and_no_folder(tmp_path):
    with small_disk(tmp_path / "disk") as disk:
        (disk / "out").write_text("old")
        with pytest.raises(BadRequest, match="out: no space left on device"):
            write_bytes(disk / "out", bytes(500_000))
        with pytest.raises(BadRequest, match=r"can't write into .*: no space left"):
            write_all(disk / "new" / "folder", {"a": "x", "b": "y" * 500_000})
        with pytest.raises(BadRequest, match=r"can't write into .*: no space left"):
            write_all(disk, {"out": "x" * 20_000, "b": "y" * 500_000})
        assert names(disk) == ["out"]
        assert (disk / "out").read_text() == "old"


@root
@linux
def test_folders_and_rights_are_looked_at(seen_by_all):
    (seen_by_all / "open").mkdir()
    (seen_by_all / "open").chmod(0o777)
    (seen_by_all / "open" / "fixed").write_text("x")

    def refused(look, path: Path) -> str:
        try:
            look(path)
        except BadRequest as error:
            return str(error).rpartition(": ")[2]
        return "fine"

    def work() -> str:
        looks = [
            (look_at, seen_by_all / "out"),
            (look_at, seen_by_all / "open" / "fixed"),
            (look_at, seen_by_all / "open" / "new"),
        ]
        looks += [(look_at_folder, seen_by_all / "a" / "b"), (look_at_folder, seen_by_all / "open" / "b")]
        return "; ".join(refused(*each) for each in looks)

    assert as_stranger(work) == "no file can be made in its folder; permission denied; fine; permission denied; fine"


def test_a_name_as_long_as_a_name_can_be_is_written(tmp_path):
    write_bytes(tmp_path / ("x" * 251 + ".pdf"), b"x")
    with pytest.raises(BadRequest, match="file name too long"):
        write_bytes(tmp_path / ("x" * 256), b"x")
