"""A round on the range as pages: what it cost, and every hole with its strokes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from matplotlib.figure import Figure

from simcaddie.base.cautions import ON_PAPER
from simcaddie.charts.pages import write_pages
from simcaddie.charts.strokes import hole_page, round_page
from simcaddie.decision.told import hole_played, hole_steps, part_steps
from simcaddie.features.range_round.analysis import Game, State
from simcaddie.features.range_round.present import PARTS

__all__ = ["draw_range_round", "range_pages"]


def range_pages(game: Game, state: State) -> Iterator[Figure]:
    """Yield the pages: the round, where it has several holes, then each hole that is finished."""
    note = f"{game.player.name}, on the range"
    if len(state.done) > 1:
        yield round_page(game.course.name, note, part_steps(state.done, PARTS), hole_steps(state.done), (), ON_PAPER)
    for ledger in state.done:
        yield hole_page(hole_played(ledger, note, PARTS), ON_PAPER)


def draw_range_round(game: Game, state: State, path: Path) -> None:
    """Draw the pages to a .pdf, or side by side to a .png; an .svg has the first page.

    Raises
    ------
    BadRequest
        Where the file can't be written.
    """
    write_pages(range_pages(game, state), path)
