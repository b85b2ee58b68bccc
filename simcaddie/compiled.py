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
from pathlib import Path
from typing import Any, TypeVar

import numba
from numba.core import config, event

__all__ = ["announce_compiling", "cache_folder", "compiled"]

F = TypeVar("F", bound=Callable[..., Any])

_COMPILED = (
    "air/*.py",
    "compiled.py",
    "units.py",
    "play/*.py",
    "simulate/*.py",
    "solve/*.py",
)  # every file with a compiled function, or read by one


def _source_hash() -> str:
    root = Path(__file__).parent
    digest = hashlib.sha256(f"{numba.__version__} {sys.version_info[:2]}".encode())
    for pattern in _COMPILED:
        for source in sorted(root.glob(pattern)):
            digest.update(source.read_bytes())
    return digest.hexdigest()[:16]


def cache_folder() -> Path | None:
    """Return the folder for compiled code, made if need be; None where none can be written.

    ``SIMCADDIE_CACHE`` names another place than the user's cache folder.
    """
    base = os.environ.get("SIMCADDIE_CACHE") or os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    root = Path(base) if base else Path.home() / ".cache"
    folder = root / "simcaddie" / _source_hash()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            return folder
    except OSError:
        return None


_FOLDER = cache_folder()
if _FOLDER is None:
    warnings.warn("no folder for compiled code can be written; simcaddie compiles afresh each time", stacklevel=2)


def compiled(function: F) -> F:
    """Compile ``function`` on first call, or load it from the disk; it runs without holding Python's lock."""
    options: dict[str, Any] = {"cache": _FOLDER is not None, "nogil": True, "error_model": "numpy", "_nrt": False}
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


def announce_compiling(say: Callable[[str], None]) -> Callable[[], float]:
    """Let ``say`` hear of any compiling from now on; return a function that gives the seconds spent so far."""
    listener = _Announcer(say)
    event.register("numba:compile", listener)  # type: ignore[no-untyped-call,unused-ignore]
    return lambda: listener.seconds
