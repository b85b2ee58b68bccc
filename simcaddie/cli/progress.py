"""A bar on stderr while something takes long: only on a terminal, and gone when it is done."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

__all__ = ["progress"]


@contextmanager
def progress(what: str, steps: int | None = None) -> Iterator[Callable[[], None]]:
    """Show how many of ``steps`` are done; what comes out is to be called, from any thread, as each is finished.

    Without ``steps`` it only shows that the work goes on, and for how long.
    """
    if not sys.stderr.isatty():
        yield lambda: None
        return
    from rich.console import Console
    from rich.progress import (
        BarColumn,
        MofNCompleteColumn,
        Progress,
        ProgressColumn,
        TextColumn,
        TimeElapsedColumn,
        TimeRemainingColumn,
    )

    counted: tuple[ProgressColumn, ...] = (MofNCompleteColumn(), TimeRemainingColumn())
    columns = (TextColumn("{task.description}"), BarColumn(), *(counted if steps else (TimeElapsedColumn(),)))
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=steps)
        yield lambda: bar.advance(task)
