"""``simcaddie trace``: one page on which a hole is drawn over a picture."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from simcaddie.console.command import Answer, command
from simcaddie.console.options import PAGE, NoChance, option

__all__ = ["trace"]


@dataclass(frozen=True, kw_only=True)
class Options(NoChance):
    """What is to be traced, over what."""

    hole: Annotated[
        str | None, typer.Argument(metavar="HOLE", help="A hole file to correct, or the name of a demo hole.")
    ] = None
    picture: Annotated[
        Path | None, option("FILE", "A picture to draw over (JPEG, PNG, WebP); the page can load one too.")
    ] = None
    output: Annotated[Path, option("FILE", "Where to write the page: .html.", "--output", "-o"), PAGE] = Path(
        "trace.html"
    )


@command(Options)
def trace(options: Options) -> Answer:
    """Write a page to trace a hole on, over a picture, and to save it as a hole file.

    A single file for any browser; it needs no net, and what you draw and the picture never leave your device. Mistakes
    that check would find are shown where they are; a hole file that has some may be opened and mended.
    """
    from simcaddie.features.trace.present import open_hole, open_picture, trace_data, trace_html
    from simcaddie.io.find import find_hole
    from simcaddie.io.write import write_text

    opened = None if options.hole is None else open_hole(find_hole(options.hole))
    picture = None if options.picture is None else open_picture(options.picture)
    data = trace_data(opened, picture)
    return Answer(
        data=lambda: data,
        figures=[(options.output, lambda: write_text(options.output, trace_html(data)))],
        notes=[str(fault) for fault in opened.faults] if opened else (),
    )
