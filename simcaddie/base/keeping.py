"""What is kept on the disk between commands: in a folder of the user's own, and looked at before it is used.

Kept code runs, so a folder that another user owns or can write to is not used, and neither is such a file. Every file
ends in a digest of its name and content: one that is damaged is thrown away and made anew. Where nothing can be kept
the program works all the same; each kind of trouble is told once.
"""

from __future__ import annotations

import hashlib
import os
import stat
import warnings
from pathlib import Path
from typing import Final

from simcaddie.base.writing import put, reason

__all__ = ["private_folder", "read_kept", "throw_away", "write_kept"]

SEAL: Final = 32  # bytes of the digest
_OPEN: Final = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
_told: set[str] = set()


def _tell(kind: str, text: str) -> None:
    """Say something once a run."""
    if kind not in _told:
        _told.add(kind)
        warnings.warn(text, stacklevel=2)


def _own(found: os.stat_result) -> bool:
    """Tell whether a folder or file is the user's or the administrator's, and nobody else can write to it."""
    return not hasattr(os, "geteuid") or (found.st_uid in (os.geteuid(), 0) and not found.st_mode & 0o022)


def private_folder(path: Path) -> Path | None:
    """Return a folder, made if need be for its user alone; None, told once, where there is none to be used."""
    try:
        if not path.is_absolute():
            raise FileNotFoundError(2, "no home folder")
        for folder in reversed([each for each in (path, *path.parents) if not each.exists()]):
            folder.mkdir(mode=0o700, exist_ok=True)
        if not stat.S_ISDIR((found := path.stat()).st_mode):
            raise NotADirectoryError(20, "not a directory")
    except (OSError, ValueError) as error:
        why = reason(error)
    else:
        if _own(found):
            return path
        why = "others own it or can write to it"
    _tell("folder", f"nothing is kept between commands, so that each takes longer: {path}: {why}")
    return None


def _seal(path: Path, content: bytes) -> bytes:
    return hashlib.blake2b(os.fsencode(path.name) + b"\0" + content, digest_size=SEAL).digest()


def read_kept(path: Path) -> bytes | None:
    """Return what was written by ``write_kept``; None where there is nothing, or nothing to be trusted."""
    try:
        with os.fdopen(os.open(path, _OPEN), "rb") as file:
            found = os.fstat(file.fileno())
            content = file.read() if stat.S_ISREG(found.st_mode) and _own(found) else b""
    except FileNotFoundError:
        return None
    except OSError as error:
        _tell("reading", f"what is kept can't be read and is made anew: {path.parent} ({reason(error)})")
        return None
    if len(content) > SEAL and _seal(path, content[:-SEAL]) == content[-SEAL:]:
        return content[:-SEAL]
    throw_away(path)
    return None


def throw_away(path: Path) -> None:
    """Remove a kept file that isn't what it should be, and say so."""
    _tell("damage", f"what is kept was damaged and is made anew: {path.parent}")
    try:
        path.unlink(missing_ok=True)
    except OSError:
        return


def write_kept(path: Path, content: bytes) -> None:
    """Keep ``content``; where that can't be done it is told once, and nothing is left behind."""
    try:
        put({path: content + _seal(path, content)}, mode=0o600, sync=False)
    except OSError as error:
        _tell("writing", f"nothing more can be kept, which takes longer: {path.parent} ({reason(error)})")
