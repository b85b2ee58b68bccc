"""Pieces of work run as a command asks: where, with which journal, and what is said of those that failed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from simcaddie.console.command import working
from simcaddie.console.options import Written, option

if TYPE_CHECKING:
    from simcaddie.base.pieces import Delivered, Piece

__all__ = ["PiecesOf", "failures"]


@dataclass(frozen=True, kw_only=True)
class PiecesOf:
    """Where the work is done."""

    executor: Annotated[
        str | None,
        option("WHERE", "processes:N, or dask:tcp://HOST:PORT for a running cluster; threads here by default."),
    ] = None
    resume: Annotated[
        Path | None,
        option("FOLDER", "Keep finished pieces of work in this folder, and go on with those that are there."),
        Written(folder=True),
    ] = None

    def deliver(self, what: str, pieces: Sequence[Piece], folder: Path | None) -> Delivered:
        """Run pieces, with progress; ``folder`` keeps the journal."""
        from simcaddie.base.executors import place_of
        from simcaddie.base.pieces import run_pieces

        with place_of(self.executor) as place, working(what, len(pieces)) as done:
            return run_pieces(pieces, place, folder=folder, done=done)


def failures(delivered: Delivered, folder: Path | None) -> list[str]:
    """Say which pieces failed, and how many were finished before."""
    told = [f"Failed three times: {name}: {why}" for name, why in delivered.failed]
    if delivered.failed and folder is not None:
        told.append(f"The rest is kept: --resume {folder} tries these again.")
    if delivered.kept:
        told.append(f"{delivered.kept} pieces of work were there already, {len(delivered.results)} in all.")
    return told
