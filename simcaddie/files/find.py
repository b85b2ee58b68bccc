"""Finding a file by what was typed: a path, or the name of a demo hole or player."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

import simcaddie
from simcaddie.errors import BadFile, Fault
from simcaddie.files.nodes import PathLike, shown
from simcaddie.files.told import near
from simcaddie.files.write import slug

__all__ = ["demo_files", "find_hole", "find_player"]

_SUFFIXES: Final = (".yaml", ".yml")


def _folder(kind: str) -> Path:
    """Return where the demo files are: in the installed package, or at the top of a checkout."""
    package = Path(simcaddie.__file__).parent
    inside = package / "demo" / kind
    return inside if inside.is_dir() else package.parent / kind


def demo_files(kind: str) -> dict[str, Path]:
    """Return the demo files of a kind, ``holes`` or ``players``, by name."""
    return {path.stem: path for path in sorted(_folder(kind).glob("*.yaml"))}


def find_hole(name: PathLike) -> Path:
    """Return the path of a hole file, given its path or the name of a demo hole.

    Raises
    ------
    BadFile
        Where there is neither; near names are suggested.

    """
    return _find(name, "holes", "hole")


def find_player(name: PathLike) -> Path:
    """Return the path of a player file, given its path or the name of a demo player; see ``find_hole``."""
    return _find(name, "players", "player")


def _find(name: PathLike, folder: str, kind: str) -> Path:
    typed, path, demos = os.fsdecode(name), Path(name), demo_files(folder)
    try:
        there, directory = path.exists(), path.is_dir()
    except (OSError, ValueError):  # too long, or with a zero byte
        there = directory = False
    if there and not directory:
        return path
    if os.sep not in typed and path.suffix not in _SUFFIXES and slug(typed) in demos:
        return demos[slug(typed)]
    expected = f"a {kind} file, or a demo {kind} by name ({', '.join(demos)})"
    if directory:
        raise BadFile([Fault(shown(typed, 200), 0, "", expected, "a directory")])
    close = _close(path, demos)
    hint = f"; did you mean `{close}`?" if close else ""
    raise BadFile([Fault(shown(typed, 200), 0, "", expected, f"none of that name{hint}")])


def _close(path: Path, demos: dict[str, Path]) -> str | None:
    """Return a neighbour of a missing path, or else a demo, that was probably meant."""
    try:
        names = [other.name for other in path.parent.iterdir() if other.suffix in _SUFFIXES]
    except (OSError, ValueError):
        names = []
    close = near(path.name, names)
    return str(path.with_name(close)) if close else near(path.stem, demos)
