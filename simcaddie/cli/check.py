"""``simcaddie check``: look for mistakes in files."""

from __future__ import annotations

import time
from dataclasses import asdict
from pathlib import Path
from typing import Annotated

import typer

from simcaddie.cli.shared import Json, NoSeed, Verbose, note, took

__all__ = ["check"]


def check(
    files: Annotated[list[Path], typer.Argument(metavar="FILE", help="Hole, player and course files, or demos.")],
    json: Json = None,
    seed: NoSeed = 0,
    verbose: Verbose = False,
) -> int:
    """Look for mistakes in hole, player and course files.

    All of them are told at once, each with its line. The exit code is 0 where every file is right and 2 where one is
    not.
    """
    from simcaddie.errors import BadFile, Fault
    from simcaddie.files import check_file, find_any, write_json

    started = time.perf_counter()
    faults: list[Fault] = []
    for path in files:
        try:
            record = check_file(find_any(path))
            if json != "-":
                typer.echo(f"{path}: a {type(record).__name__.lower()} file, no mistakes found")
        except BadFile as error:
            faults.extend(error.faults)
    if json is not None:
        write_json({"schema": "check/1", "faults": [asdict(fault) for fault in faults]}, json)
    for fault in faults:
        note(str(fault))
    took(started, verbose)
    return 2 if faults else 0
