"""Compiling with numba, and keeping what was compiled on disk.

numba's own cache notices a change only in the file of the function it compiled, not in the files of the functions that
one calls. So the cache lives in a folder named after a hash of every compiled source: a changed kernel is another
folder. Where no folder can be written the program still runs, compiles afresh each time, and says so once.

No ``fastmath``: it would cost reproducibility. Compiled functions allocate nothing, so numba's reference counting is
switched off (``_nrt=False``): with it on, handing a record of a dozen arrays from function to function cost four
times what the strokes themselves do.
"""

from __future__ import annotations

import hashlib
import os
import sys
import tempfile
import time
import warnings
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

import numba
import platformdirs
from numba.core import config, event

__all__ = ["announce_compiling", "cache_folder", "compiled", "inlined"]

F = TypeVar("F", bound=Callable[..., Any])

_COMPILED = (
    "base/compiled.py",
    "base/streams.py",
    "base/surfaces.py",
    "base/units.py",
    "weather/*.py",
    "course/*.py",
    "model/*.py",
    "simulate.py",
    "solve/*.py",
)  # every file with a compiled function, or whose work is kept on the disk


def _source_hash() -> str:
    root = Path(__file__).parents[1]
    digest = hashlib.sha256(f"{numba.__version__} {sys.version_info[:2]}".encode())
    for pattern in _COMPILED:
        for source in sorted(root.glob(pattern)):
            digest.update(source.read_bytes())
    return digest.hexdigest()[:16]


@cache
def cache_folder() -> Path | None:
    """Return the folder for compiled code and solved holes, made if need be; None where none can be written.

    ``SIMCADDIE_CACHE`` names another place than the user's cache folder.
    """
    base = os.environ.get("SIMCADDIE_CACHE")
    root = Path(base) / "simcaddie" if base else Path(platformdirs.user_cache_dir("simcaddie", appauthor=False))
    folder = root / _source_hash()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            return folder
    except OSError:
        return None


_FOLDER = cache_folder()
if _FOLDER is None:
    warnings.warn("no folder for compiled code can be written; simcaddie compiles afresh each time", stacklevel=2)


def inlined(function: F) -> F:
    """Compile as ``compiled`` does, and put it inside its callers: records then aren't handed over by value."""
    return compiled(function, forceinline=True, cache=False, no_cpython_wrapper=True, no_cfunc_wrapper=True)


def compiled(function: F, **more: Any) -> F:
    """Compile ``function`` on first call, or load it from the disk; it runs without holding Python's lock."""
    options: dict[str, Any] = {
        "cache": _FOLDER is not None,
        "nogil": True,
        "error_model": "numpy",
        "_nrt": False,
        **more,
    }
    settings: Any = config
    before = settings.CACHE_DIR
    settings.CACHE_DIR = str(_FOLDER) if _FOLDER else before
    try:
        made: F = numba.njit(**options)(function)
    finally:
        settings.CACHE_DIR = before
    return made


class _Announcer(event.Listener):  # type: ignore[misc,unused-ignore]
    """Says once that code is being compiled, and adds up how long that took."""

    def __init__(self, say: Callable[[str], None]) -> None:
        self.say = say
        self.depth = 0
        self.seconds = 0.0
        self.started = 0.0

    def on_start(self, _event: Any) -> None:
        if not self.depth:
            self.started = time.perf_counter()
            if not self.seconds:
                self.say("First run: compiling the simulator, some seconds, this once …")
        self.depth += 1

    def on_end(self, _event: Any) -> None:
        self.depth -= 1
        if not self.depth:
            self.seconds += time.perf_counter() - self.started


_announcers: list[_Announcer] = []


def announce_compiling(say: Callable[[str], None]) -> Callable[[], float]:
    """Let ``say`` alone hear of any compiling from now on; return a function that gives the seconds so far."""
    if not _announcers:
        _announcers.append(_Announcer(say))
        event.register("numba:compile", _announcers[0])  # type: ignore[no-untyped-call,unused-ignore]
    listener = _announcers[0]
    listener.say, listener.seconds = say, 0.0
    return lambda: listener.seconds
