"""Making faults: small disks, other users, nodes of one's own, programs stopped half-way."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

STRANGER = 54321  # a user without an entry
COMMAND = [sys.executable, "-m", "simcaddie"]

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="needs Linux")
root = pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="needs the administrator's rights")


@contextmanager
def small_disk(folder: Path, size: str = "120k") -> Iterator[Path]:
    """Yield ``folder`` with a disk in memory on it that holds no more than ``size``."""
    folder.mkdir(exist_ok=True)
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", folder], capture_output=True, check=False
    )
    if mounted.returncode:
        pytest.skip(f"no disk can be mounted here: {mounted.stderr.decode().strip()}")
    try:
        yield folder
    finally:
        subprocess.run(["umount", "-l", folder], check=True)


def node(path: Path, minor: int) -> Path:
    """Return a private character device, as /dev/null (3) or /dev/full (7), never the machine's own."""
    try:
        os.mknod(path, 0o666 | stat.S_IFCHR, os.makedev(1, minor))
        path.open("wb").close()
    except OSError as error:
        pytest.skip(f"no device can be made here: {error}")
    return path


def as_stranger(work: Callable[[], str]) -> str:
    """Return what ``work`` returns for a user without rights, in a process of its own."""
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.setgroups([])
            os.setgid(STRANGER)
            os.setuid(STRANGER)
            told = work()
        except BaseException as error:  # noqa: BLE001 (told to the test)
            told = f"{type(error).__name__}: {error}"
        os.write(writer, told.encode())
        os._exit(0)
    os.close(writer)
    with os.fdopen(reader, "rb") as pipe:
        told = pipe.read().decode()
    os.waitpid(child, 0)
    return told


def names(folder: Path) -> list[str]:
    """Return the names of all files in a folder, hidden ones as well."""
    return sorted(path.name for path in folder.iterdir())
