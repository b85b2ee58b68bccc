"""``simcaddie check``: look for mistakes in files."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from simcaddie.console.command import Answer, command
from simcaddie.console.document import Text
from simcaddie.console.options import NoChance

__all__ = ["check"]


@dataclass(frozen=True, kw_only=True)
class Options(NoChance):
    """What is to be checked."""

    files: Annotated[list[Path], typer.Argument(metavar="FILE", help="Hole, player and course files, or demos.")]


@command(Options)
def check(options: Options) -> Answer:
    """Look for mistakes in hole, player and course files.

    All of them are told at once, each with its line. The exit code is 0 where every file is right and 2 where one is
    not.
    """
    from simcaddie.base.errors import BadFile, Fault
    from simcaddie.base.records import plain
    from simcaddie.io.check import check_file
    from simcaddie.io.find import find_any

    right: list[str] = []
    faults: list[Fault] = []
    for path in options.files:
        try:
            kind = type(check_file(find_any(path))).__name__.lower()
        except BadFile as error:
            faults += error.faults
        else:
            right.append(f"{path}: a {kind} file, no mistakes found")
    return Answer(
        data=lambda: {"schema": "check/1", "faults": plain(faults)},
        document=lambda: [Text(line, whole=True) for line in right],
        notes=[str(fault) for fault in faults],
        code=2 if faults else 0,
    )
