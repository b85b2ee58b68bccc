"""``simcaddie check``: look for mistakes in files."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from simcaddie.console.command import Answer, command
from simcaddie.console.options import NoChance

__all__ = ["check"]


@dataclass(frozen=True, kw_only=True)
class Options(NoChance):
    """What is to be checked."""

    files: Annotated[list[Path], typer.Argument(metavar="FILE", help="Hole, player and course files, or demos.")]


@command(Options)
def check(options: Options) -> Answer:
    """Look for mistakes in hole, player and course files.

    All of them are told at once, each with its line. Of a file without mistakes it says what was understood: lengths,
    how wide the fairway is, what lies where along the line; and what can hardly be meant. The exit code is 0 where
    every file is right and 2 where one is not.
    """
    from simcaddie.base.errors import BadFile, Fault
    from simcaddie.base.records import plain
    from simcaddie.features.check.present import present, understood_data
    from simcaddie.io.check import check_file, has_units
    from simcaddie.io.find import find_any

    right = []
    faults: list[Fault] = []
    for path in options.files:
        try:
            right.append((str(path), check_file(find_any(path)), has_units(find_any(path))))
        except BadFile as error:
            faults += error.faults
    return Answer(
        data=lambda: {
            "schema": "check/1",
            "faults": plain(faults),
            "files": [understood_data(path, record, units=units) for path, record, units in right],
        },
        document=lambda: [block for path, record, units in right for block in present(path, record, units=units)],
        notes=[str(fault) for fault in faults],
        code=2 if faults else 0,
    )
