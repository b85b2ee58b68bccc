"""Compiling with numba, and keeping what was compiled on disk.

numba's own cache notices a change only in the file of the function it compiled, not in the files of the functions that
one calls. So the cache lives in a folder named after a hash of every compiled source: a changed kernel is another
folder, where it is kept as ``base/keeping.py`` does: looked at before it runs. Where nothing can be kept the program
still runs, compiles afresh each time, and says so once.

No ``fastmath``: it would cost reproducibility. Compiled functions allocate nothing, so numba's reference counting is
switched off (``_nrt=False``): with it on, handing a record of a dozen arrays from function to function cost four
times what the strokes themselves do.
"""

from __future__ import annotations

import hashlib
import os
import pickle
import sys
import time
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, TypeVar, cast

import numba
import platformdirs
from numba.core import event
from numba.core.caching import Cache
from numba.core.compiler import CompileResult
from numba.core.serialize import dumps

from simcaddie.base.keeping import private_folder, read_kept, throw_away, write_kept

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
    """Return the folder for compiled code and solved holes, made if need be; None where there is none to be used.

    ``SIMCADDIE_CACHE`` names another place than the user's cache folder.
    """
    base = os.environ.get("SIMCADDIE_CACHE")
    try:
        root = Path(base).absolute() / "simcaddie" if base else platformdirs.user_cache_path("simcaddie", False)
    except (OSError, RuntimeError):  # no home folder, or none to work in
        root = Path("~")
    return private_folder(root) and private_folder(root / _source_hash())


class _Kept(Cache):
    """Compiled code on the disk, an entry a file, named by all that it depends on."""

    def __init__(self, function: Callable[..., Any], folder: Path) -> None:
        self._py_func, self._folder = function, folder
        self._name = f"{function.__module__}.{function.__qualname__}"
        code = Path(function.__code__.co_filename)
        own = Path(__file__).parents[1] in code.parents  # the folder's name tells of its sources
        self._source = "" if own else hashlib.sha256(code.read_bytes()).hexdigest()
        self.enable()  # type: ignore[no-untyped-call]

    @property
    def cache_path(self) -> str:
        """The folder, for whoever asks numba."""
        return str(self._folder)

    def _path(self, sig: Any, codegen: Any) -> Path:
        key = self._index_key(sig, codegen)  # type: ignore[no-untyped-call]  # processor and its features included
        told = repr((self._name, self._source, key))
        return self._folder / f"{self._name}.{hashlib.sha256(told.encode()).hexdigest()[:24]}.code"

    def load_overload(self, sig: Any, target_context: Any) -> Any:
        """Return what was compiled for a signature; None where it isn't kept, or not as it was written."""
        target_context.refresh()
        path = self._path(sig, target_context.codegen())
        content = read_kept(path)
        try:
            return content and CompileResult._rebuild(  # type: ignore[no-untyped-call]
                target_context, *pickle.loads(content)
            )
        except Exception:  # noqa: BLE001 (of another make of the compiler, say)
            throw_away(path)
            return None

    def save_overload(self, sig: Any, data: Any) -> None:
        """Keep what was compiled for a signature."""
        if not data.lifted and not data.library.has_dynamic_globals:
            write_kept(self._path(sig, data.codegen), dumps(data._reduce()))  # type: ignore[no-untyped-call]

    def flush(self) -> None:
        """Forget nothing: a changed function is another entry."""


def inlined(function: F) -> F:
    """Compile as ``compiled`` does, and put it inside its callers: records then aren't handed over by value."""
    return compiled(function, forceinline=True, cache=False, no_cpython_wrapper=True, no_cfunc_wrapper=True)


def compiled(function: F, **more: Any) -> F:
    """Compile ``function`` on first call, or load it from the disk; it runs without holding Python's lock."""
    keep = more.pop("cache", True) and cache_folder()
    options: dict[str, Any] = {"nogil": True, "error_model": "numpy", "_nrt": False, **more}
    made: Any = numba.njit(**options)(function)
    if keep:
        made._cache = _Kept(function, keep)
    return cast("F", made)


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
