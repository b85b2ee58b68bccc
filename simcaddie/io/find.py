"""Finding a file by what was typed: a path, or the name of a demo hole, player or course.

A demo course is a folder among the demo holes with a course file of the same name. Its holes go by both names:
`tansywick-heath/07-sandpit`.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from simcaddie.base.errors import BadFile, Fault
from simcaddie.io.faults import near
from simcaddie.io.write import slug
from simcaddie.io.yaml_reader import PathLike, shown

__all__ = ["demo_courses", "demo_files", "find_any", "find_course", "find_hole", "find_player", "player_files"]

_SUFFIXES: Final = (".yaml", ".yml")


def _folder(kind: str) -> Path:
    """Return where the demo files are: in the installed package, or at the top of a checkout."""
    package = Path(__file__).parents[1]
    inside = package / "demo" / kind
    return inside if inside.is_dir() else package.parent / kind


def demo_files(kind: str) -> dict[str, Path]:
    """Return the demo files of a kind, ``holes`` or ``players``, by name; without the holes of demo courses."""
    return {path.stem: path for path in sorted(_folder(kind).glob("*.yaml"))}


def demo_courses() -> dict[str, Path]:
    """Return the course files of the demo courses by name."""
    found = sorted(_folder("holes").glob("*/*.yaml"))
    return {path.stem: path for path in found if path.stem == path.parent.name}


def _holes_of(course: str) -> dict[str, Path]:
    """Return the hole files of a demo course, by the names of course and hole."""
    path = demo_courses()[course]
    return {f"{course}/{hole.stem}": hole for hole in sorted(path.parent.glob("*.yaml")) if hole != path}


def find_hole(name: PathLike) -> Path:
    """Return the path of a hole file, given its path or the name of a demo hole, be it `course/hole`.

    Raises
    ------
    BadFile
        Where there is neither; near names are suggested.

    """
    holes, brief = demo_files("holes"), [*demo_files("holes")]
    for course in demo_courses():
        inside = _holes_of(course)
        first, last = next(iter(inside)), next(reversed(inside))
        if not _is(Path(name), folder=False) and _demo(name, {course: Path()}):
            expected = f"one hole of the course, such as `{first}`"
            raise BadFile([Fault(shown(os.fsdecode(name), 200), 0, "", expected, "the whole of it")])
        holes |= inside
        brief.append(f"{first} … {last.partition('/')[2]}")
    return _find(name, holes, "hole", brief)


def find_player(name: PathLike) -> Path:
    """Return the path of a player file, given its path or the name of a demo player; see ``find_hole``."""
    return _find(name, demo_files("players"), "player")


def player_files(names: Sequence[PathLike]) -> list[Path]:
    """Return the player files of several names, each once; a folder stands for all of its player files.

    Raises
    ------
    BadFile
        Where a name is none, or a folder holds no player file.

    """
    found: list[Path] = []
    for name in names:
        if not _is(Path(name), folder=True):
            found.append(find_player(name))
            continue
        inside = sorted(path for path in Path(name).iterdir() if path.suffix in _SUFFIXES and path.is_file())
        if not inside:
            raise BadFile([Fault(shown(os.fsdecode(name), 200), 0, "", "a folder with player files (.yaml)", "none")])
        found += inside
    return list(dict.fromkeys(found))


def find_course(name: PathLike) -> Path:
    """Return the path of a course file, given its path or the name of a demo course; see ``find_hole``."""
    return _find(name, demo_courses(), "course")


def find_any(name: PathLike) -> Path:
    """Return the path of a file of any kind: the path itself, unless only a demo goes by that name."""
    demos = demo_files("holes") | demo_files("players") | demo_courses()
    for course in demo_courses():
        demos |= _holes_of(course)
    return Path(name) if _is(Path(name), folder=False) else _demo(name, demos) or Path(name)


def _is(path: Path, *, folder: bool) -> bool:
    """Tell whether there is a folder, or something else, at a path."""
    try:
        return path.exists() and path.is_dir() == folder
    except (OSError, ValueError):  # too long, or with a zero byte
        return False


def _demo(name: PathLike, demos: dict[str, Path]) -> Path | None:
    """Return the demo of a name as people type it: `Curlew Inlet`, `tansywick-heath/07-sandpit`."""
    typed = os.fsdecode(name)
    if "\\" in typed or Path(typed).suffix in _SUFFIXES:
        return None
    return demos.get("/".join(slug(part) for part in typed.split("/")))


def _find(name: PathLike, demos: dict[str, Path], kind: str, brief: list[str] | None = None) -> Path:
    typed, path = os.fsdecode(name), Path(name)
    if _is(path, folder=False):
        return path
    if demo := _demo(name, demos):
        return demo
    expected = f"a {kind} file, or a demo {kind} by name ({', '.join(brief or demos)})"
    if _is(path, folder=True):
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
    return str(path.with_name(close)) if close else near(path.with_suffix("").as_posix(), demos)
