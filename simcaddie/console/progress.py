"""A row of balls on stderr while something takes long: only on a terminal, and gone when it is done."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from rich.progress import Task

__all__ = ["balls", "progress"]

BALLS: Final = 18
STEP: Final = 0.4  # seconds that a ball takes to the next place where it isn't known how many there are


def balls(done: float, total: float | None, elapsed: float) -> str:
    """Return a row of balls: filled as far as the work has come, or one that moves on where that isn't known.

    >>> balls(3, 9, 1.0), balls(0, None, 0.9)
    ('●●●●●●○○○○○○○○○○○○', '○○●○○○○○○○○○○○○○○○')
    """
    if total is None:
        at = int(elapsed / STEP) % BALLS
        return "○" * at + "●" + "○" * (BALLS - 1 - at)
    filled = int(BALLS * min(1.0, done / max(total, 1e-9)))
    return "●" * filled + "○" * (BALLS - filled)


@contextmanager
def progress(what: str, steps: int | None = None) -> Iterator[Callable[[], None]]:
    """Show how many of ``steps`` are done; what comes out is to be called, from any thread, as each is finished.

    Without ``steps`` it only shows that the work goes on, and for how long.
    """
    if not sys.stderr.isatty():
        yield lambda: None
        return
    from rich.console import Console
    from rich.progress import Progress, ProgressColumn
    from rich.text import Text

    class Row(ProgressColumn):
        """The row of balls, what is done, and how long it takes."""

        def render(self, task: Task) -> Text:
            elapsed = task.elapsed or 0.0
            told = f"{elapsed:.0f} s"
            if task.total is not None:
                left = f", {task.time_remaining:.0f} s to go" if task.time_remaining is not None else ""
                told = f"{task.completed:.0f} of {task.total:.0f}{left}"
            return Text(f"{task.description}  {balls(task.completed, task.total, elapsed)}  {told}")

    with Progress(Row(), console=Console(stderr=True), transient=True) as shown:
        task = shown.add_task(what, total=steps)
        yield lambda: shown.advance(task)
