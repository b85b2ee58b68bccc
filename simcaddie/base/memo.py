"""What takes long to work out and depends on its inputs alone, kept on the disk between commands.

An entry is a plain npz file in the user's cache folder (``compiled.cache_folder``), named by a digest of all that goes
in; the folder is named after the program's own source. It is kept as ``base/keeping.py`` does, so that two processes
never see half of one; one that is damaged, or isn't what was asked for, is thrown away and made anew. The least
recently used go first where they take too much room.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import itertools
import os
import threading
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.compiled import cache_folder
from simcaddie.base.keeping import private_folder, read_kept, throw_away, write_kept

__all__ = ["MOST_BYTES", "Arrays", "digest", "ignore_kept", "ignoring_kept", "kept_arrays", "shelf"]

MOST_BYTES: Final = 256 * 2**20  # on the disk, all versions of the program together
ROOM_EVERY: Final = 32  # writes: looking through all entries takes time

Arrays = Mapping[str, NDArray[Any]]

_fresh = threading.Event()
_writes = itertools.count()


def ignore_kept(*, ignored: bool = True) -> None:
    """Make everything anew from now on, whatever the disk holds; what is made is still kept."""
    (_fresh.set if ignored else _fresh.clear)()


def ignoring_kept() -> bool:
    """Tell whether everything is made anew."""
    return _fresh.is_set()


def digest(*things: Any) -> str:
    """Return a digest of arrays, numbers, strings, bytes, None and tuples of them, however nested."""
    made = hashlib.blake2b(digest_size=16)

    def take(thing: Any) -> None:
        if isinstance(thing, np.ndarray):
            made.update(f"{thing.dtype}{thing.shape}".encode())
            made.update(np.ascontiguousarray(thing).data)
        elif isinstance(thing, tuple):
            made.update(f"({len(thing)}".encode())
            for one in thing:
                take(one)
        else:
            made.update(f"|{thing!r}".encode())

    take(things)
    return made.hexdigest()


def shelf() -> Path | None:
    """Return the folder of the entries, made if need be; None where there is none to be used."""
    folder = cache_folder()
    return folder and private_folder(folder / "kept")


def _read(path: Path, fits: Callable[[Arrays], bool]) -> Arrays | None:
    content = read_kept(path)
    if content is None:
        return None
    try:
        with np.load(io.BytesIO(content), allow_pickle=False) as held:
            found = {name: held[name] for name in held.files}
    except Exception:  # noqa: BLE001 (no archive raises all kinds: zlib's, NotImplementedError, TypeError …)
        found = {}
    if not found or not fits(found):
        throw_away(path)
        return None
    with contextlib.suppress(OSError):
        os.utime(path)  # used now
    return found


def _write(path: Path, arrays: Arrays, small: bool) -> None:
    save: Any = np.savez_compressed if small else np.savez
    content = io.BytesIO()
    save(content, **arrays)
    write_kept(path, content.getvalue())
    if next(_writes) % ROOM_EVERY == 0:
        _make_room(path.parent)


def _make_room(folder: Path) -> None:
    """Throw away the least recently used entries, of all versions of the program, beyond ``MOST_BYTES``."""
    found = []
    for entry in folder.parent.parent.glob("*/kept/*"):
        with contextlib.suppress(OSError):  # another process may be doing the same
            stat = entry.stat()
            found.append((stat.st_mtime, stat.st_size, entry))
    room = MOST_BYTES
    for _, size, entry in sorted(found, key=lambda one: -one[0]):
        room -= size
        if room < 0:
            with contextlib.suppress(OSError):
                entry.unlink()


def kept_arrays(key: str, make: Callable[[], Arrays], fits: Callable[[Arrays], bool], *, small: bool = False) -> Arrays:
    """Return the arrays that ``make`` makes, from the disk where they are kept there and ``fits`` says yes to them.

    ``small`` packs them: for arrays with long runs of the same number.
    """
    folder = shelf()
    path = folder / f"{key}.npz" if folder else None
    found = _read(path, fits) if path and not _fresh.is_set() else None
    if found is None:
        found = make()
        if path:
            _write(path, found, small)
    return found
