"""Writing what people asked for: whole or not at all, and never over what the same command reads.

A file is written under an unpredictable name beside its place, put on the disk, and moved there: a reader sees the old
one or the new one. Links are followed to the file behind them. A pipe, a terminal or a character device can't be
replaced, so it is written into. Several files are moved all or none.
"""

from __future__ import annotations

import contextlib
import os
import secrets
import shutil
import stat
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final

from simcaddie.base.errors import BadRequest, shown

__all__ = [
    "PathLike",
    "asked_for",
    "look_at",
    "look_at_folder",
    "put",
    "reading",
    "reason",
    "remove_drafts",
    "stands",
    "write_bytes",
    "write_into",
    "writing_to",
]

PathLike = str | os.PathLike[str]

_EXCLUSIVE: Final = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
_drafts: set[Path] = set()
_asked: dict[Path, Path] = {}  # files that the running command writes, behind all links: the path as it was typed


class _Refused(OSError):
    """A place that isn't written to, in words of our own."""

    def __init__(self, words: str) -> None:
        super().__init__(0, words)


# ─── Where a path leads ───────────────────────────────────────────────────────────────────────────────────────────────


def _status(path: Path) -> os.stat_result | None:
    with contextlib.suppress(FileNotFoundError):
        return path.stat()
    return None


def _same(one: os.stat_result, other: os.stat_result) -> bool:
    return (one.st_dev, one.st_ino) == (other.st_dev, other.st_ino)


def _stream(found: os.stat_result) -> int | None:
    """Return 1 or 2 where a path is what standard output or error goes to, as /dev/stdout is."""
    for number in (1, 2):
        with contextlib.suppress(OSError):
            if _same(os.fstat(number), found):
                return number
    return None


def _replaced(path: Path) -> Path | None:
    """Return the file behind all links that a path means, be it there or not; None for a pipe or device.

    Raises OSError or ValueError where a path can be neither written to nor into.
    """
    found = _status(path)
    if found is not None and stat.S_ISDIR(found.st_mode):
        raise IsADirectoryError(21, "is a directory")
    if found is not None and (stat.S_ISFIFO(found.st_mode) or stat.S_ISCHR(found.st_mode) or _stream(found)):
        return None
    if found is not None and not stat.S_ISREG(found.st_mode):
        raise _Refused("neither a file, a pipe nor a terminal")
    if _planted(path):
        raise _Refused("a link that another user put there")
    return Path(os.path.realpath(path))


def _planted(path: Path) -> bool:
    """Tell whether a path is a link of somebody else's in a folder that all may write to, as /tmp is."""
    link, folder = path.lstat() if path.is_symlink() else None, _status(path.parent)
    if link is None or folder is None or not hasattr(os, "geteuid"):
        return False
    shared = folder.st_mode & stat.S_ISVTX and folder.st_mode & stat.S_IWOTH
    return bool(shared) and link.st_uid not in (os.geteuid(), folder.st_uid)


def stands(path: PathLike) -> bool:
    """Tell whether a plain file is there, which writing to ``path`` would replace."""
    with contextlib.suppress(OSError, ValueError):
        file = _replaced(Path(path))
        return file is not None and file.exists()
    return False


# ─── Before any work ──────────────────────────────────────────────────────────────────────────────────────────────────


def reason(error: OSError | ValueError, what: str = "file") -> str:
    """Return what an error of the system says, in small letters."""
    return str(getattr(error, "strerror", None) or f"not a name that a {what} can have").lower()


def _cant(path: PathLike, error: OSError | ValueError) -> BadRequest:
    return BadRequest(f"can't write {shown(os.fsdecode(path), 200)}: {reason(error)}")


def look_at(path: PathLike) -> Path | None:
    """Return the file that a path means, None for a pipe or device, having looked whether it can be written.

    Raises
    ------
    BadRequest
        Where it can't be.
    """
    try:
        file = _replaced(Path(path))
        if file is not None:
            file.parent.stat()
            if not file.parent.is_dir():
                raise NotADirectoryError(20, "not a directory")
            if not os.access(file.parent, os.W_OK | os.X_OK):
                raise _Refused("no file can be made in its folder")
            if file.exists() and not os.access(file, os.W_OK):
                raise PermissionError(13, "permission denied")
    except (OSError, ValueError) as error:
        raise _cant(path, error) from None
    return file


def look_at_folder(path: PathLike) -> None:
    """Look whether files can be written into a folder, which may have to be made.

    Raises
    ------
    BadRequest
        Where they can't be.
    """
    folder = Path(path)
    try:
        while _status(folder) is None and folder != folder.parent:
            folder = folder.parent
        if not folder.is_dir():
            raise NotADirectoryError(20, "not a directory")
        if not os.access(folder, os.W_OK | os.X_OK):
            raise PermissionError(13, "permission denied")
    except (OSError, ValueError) as error:
        raise BadRequest(f"can't write into {shown(os.fsdecode(path), 200)}: {reason(error, 'folder')}") from None


@contextlib.contextmanager
def writing_to(paths: Sequence[Path]) -> Iterator[None]:
    """Hold the files that a command will write while it works: all writable, no two the same, none of them read.

    Raises
    ------
    BadRequest
        Where one can't be written, or two are the same file.
    """
    try:
        for path in paths:
            file = look_at(path)
            if file is None:
                continue
            found = _status(file)
            for other, typed in _asked.items():
                there = _status(other)
                if file == other or (found is not None and there is not None and _same(found, there)):
                    raise BadRequest(f"{typed} and {path} are one file: two outputs need two")
            _asked[file] = path
        yield
    finally:
        _asked.clear()


def asked_for(file: Path) -> bool:
    """Tell whether the running command was asked to write this very file."""
    return Path(os.path.realpath(file)) in _asked


def reading(found: os.stat_result) -> None:
    """Refuse to read a file that the running command is to write over.

    Raises
    ------
    BadRequest
        Where it is.
    """
    for file, typed in _asked.items():
        there = _status(file)
        if there is not None and _same(found, there):
            raise BadRequest(f"can't write {shown(os.fsdecode(typed), 200)}: this command reads it")


# ─── Writing ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def remove_drafts() -> None:
    """Remove what is written but not in its place yet: for the way out in a hurry."""
    for draft in tuple(_drafts):
        with contextlib.suppress(OSError):
            draft.unlink(missing_ok=True)
        _drafts.discard(draft)


class _Drafts:
    """Files beside their places, gone on any way out; ``mode`` is for new ones, ``sync`` puts them on the disk."""

    def __init__(self, mode: int, *, sync: bool) -> None:
        self.mode, self.sync = mode, sync
        self.own: list[Path] = []

    def __enter__(self) -> _Drafts:
        return self

    def __exit__(self, *_error: object) -> None:
        for draft in self.own:
            with contextlib.suppress(OSError):
                draft.unlink(missing_ok=True)
            _drafts.discard(draft)

    def beside(self, file: Path) -> Path:
        """Return a name beside a file that nobody can foresee."""
        draft = file.parent / f".simcaddie-{secrets.token_hex(8)}.part"
        self.own.append(draft)
        _drafts.add(draft)
        return draft

    def write(self, file: Path, content: bytes) -> Path:
        """Write a file beside its place, with the rights and owner of the one that is there."""
        draft, old = self.beside(file), _status(file)
        with os.fdopen(os.open(draft, _EXCLUSIVE, self.mode), "wb") as made:
            if old is not None and hasattr(os, "fchmod"):
                with contextlib.suppress(PermissionError):
                    os.fchown(made.fileno(), old.st_uid, old.st_gid)
                os.fchmod(made.fileno(), stat.S_IMODE(old.st_mode) & 0o777)
            made.write(content)
            made.flush()
            if self.sync:
                os.fsync(made.fileno())
        return draft

    def keep(self, file: Path) -> Path | None:
        """Return a second name for what is at a path, None where there is nothing."""
        if not file.exists():
            return None
        second = self.beside(file)
        try:
            os.link(file, second)
        except OSError:  # a disk without second names
            shutil.copy2(file, second)
        return second


def put(contents: Mapping[Path, bytes], *, mode: int = 0o666, sync: bool = True) -> None:
    """Put files in their places, all or none, and leave no draft; OSError where that can't be done."""
    with _Drafts(mode, sync=sync) as drafts:
        written = [(drafts.write(file, content), file) for file, content in contents.items()]
        if len(written) == 1:
            written[0][0].replace(written[0][1])
            return
        old: dict[Path, Path | None] = {}
        try:
            for draft, file in written:
                old[file] = drafts.keep(file)
                draft.replace(file)
        except BaseException:
            for file, kept in old.items():
                with contextlib.suppress(OSError):
                    kept.replace(file) if kept is not None else file.unlink(missing_ok=True)
            raise


def write_into(path: Path, content: bytes) -> None:
    """Write into a pipe or device; what standard output or error goes to is written by it."""
    number = _stream(path.stat())
    if number is not None:
        stream = sys.stdout if number == 1 else sys.stderr
        if stream is not None:
            stream.flush()
    handle = os.open(path, os.O_WRONLY) if number is None else os.dup(number)
    with os.fdopen(handle, "wb") as pipe:
        pipe.write(content)


def write_bytes(path: PathLike, content: bytes) -> None:
    """Write a file in one step: a reader sees the old one or the new one, never a half.

    Raises
    ------
    BadRequest
        Where it can't be written.

    """
    try:
        file = _replaced(Path(path))
        if file is None:
            write_into(Path(path), content)
        else:
            put({file: content})
    except BrokenPipeError:
        raise
    except (OSError, ValueError) as error:
        raise _cant(path, error) from None
