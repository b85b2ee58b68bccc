"""The public names: files read to records, questions answered. What notebooks and scripts may rely on.

Answers come as rows (``table``), as data (``to_dict``), as a chart on given axes (``figure``), as text (``str``) and as
HTML in a notebook. Lengths are yards inside, whatever a file says.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from simcaddie.console.document import Document
from simcaddie.course.hole import Hole
from simcaddie.decision.request import Request
from simcaddie.io.find import find_hole, find_player
from simcaddie.io.hole import read_hole as _read_hole
from simcaddie.io.player import read_player as _read_player
from simcaddie.player.swing import Player

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["Answer", "compare", "plan", "read_hole", "read_player"]

T = TypeVar("T")
Source = str | Path


@dataclass(frozen=True)
class Answer:
    """An answer. ``record`` is what was worked out; its fields may change from version to version."""

    record: Any
    _document: Callable[[], Document]
    _data: Callable[[], dict[str, Any]]
    _rows: str
    _draw: Callable[[Axes], object]

    def to_dict(self) -> dict[str, Any]:
        """Return the answer as plain data, with the same keys as ``--json`` writes."""
        return self._data()

    def table(self) -> list[dict[str, Any]]:
        """Return the answer's rows, best or first one first: one mapping a row, as ``pandas.DataFrame`` takes them."""
        return [dict(row) for row in self._data()[self._rows]]

    def figure(self, ax: Axes | None = None) -> Axes:
        """Draw the answer on ``ax``, on axes of its own where none are given, and return them."""
        if ax is None:
            from matplotlib.figure import Figure

            ax = Figure(figsize=(7.0, 4.5), layout="constrained").subplots()
        from simcaddie.charts.style import styled

        with styled():
            self._draw(ax)
        return ax

    def _repr_html_(self) -> str:
        from simcaddie.console.html import html

        return html(self._document())

    def __str__(self) -> str:
        from simcaddie.console.terminal import plain

        return plain(self._document())


def read_hole(source: Source) -> Hole:
    """Return the hole of a file, or a demo hole by name.

    Raises
    ------
    BadFile
        With every fault of the file, by line.
    BadRequest
        Where there is no such file or name.
    """
    return _read_hole(find_hole(str(source)))


def read_player(source: Source) -> Player:
    """Return the player of a file, or a demo player by name; raises as ``read_hole`` does."""
    return _read_player(find_player(str(source)))


def compare(
    hole: Hole | Source,
    player: Player | Source,
    *,
    tee: str | None = None,
    spot: str | None = None,
    pin: str | None = None,
    clubs: Sequence[str] = (),
    aims: tuple[float, float, float] | None = None,
    then: str = "best",
    objective: str = "strokes",
    strokes: int | None = None,
    played: int | None = None,
    day: Mapping[str, str] | None = None,
    sequences: int = 4_000,
    all_aims: bool = False,
    seed: int = 1,
) -> Answer:
    """Rank clubs and lines for one stroke by the average score.

    Parameters
    ----------
    hole, player : records, files or names of demo ones
    tee, spot : where from, the file's first tee by default
    pin : by name, the middle one by default; "any" averages over all
    clubs : only these, by name
    aims : (low, high, step) of the lines to try, degrees right of the pin
    then : how the strokes that follow are played: "best", "sound" or "usual"
    objective : what to play for: "strokes", "points" or "blow-up"
    strokes, played : handicap strokes received, strokes already played; found out where None
    day : words of the day as on the command line, as {"wind": "12 mph into"}
    sequences : played for each club that may be best, as an audit
    all_aims : a row an aim line, not a club
    seed : same seed, same numbers

    Raises
    ------
    BadFile, BadRequest
        For files with faults, and questions that make no sense.
    """
    from simcaddie.decision.compare import compare as rank
    from simcaddie.features.compare.figure import draw_ranking
    from simcaddie.features.compare.present import comparison_data, present

    request = Request(
        tee=tee,
        spot=spot,
        pin=pin,
        clubs=tuple(clubs),
        aims=aims,
        then=then,  # type: ignore[arg-type]  # refused by the request where it is another word
        objective=objective,
        strokes=strokes,
        played=played,
        day=_day(day),
        sequences=sequences,
        all_aims=all_aims,
        seed=seed,
    )
    found = rank(_record(hole, read_hole), _record(player, read_player), request)
    return Answer(
        found,
        lambda: present(found),
        lambda: comparison_data(found),
        "options",
        lambda ax: draw_ranking(ax, found),
    )


def plan(
    hole: Hole | Source,
    player: Player | Source,
    *,
    tee: str | None = None,
    spot: str | None = None,
    pin: str | None = None,
    day: Mapping[str, str] | None = None,
    seed: int = 1,
) -> Answer:
    """Plan a whole hole by best play: each stroke in turn, and what to avoid; parameters and errors as ``compare``."""
    from simcaddie.decision.line_of_play import plan as find_plan
    from simcaddie.features.plan.figure import draw_map
    from simcaddie.features.plan.present import plan_data, present

    found = find_plan(
        _record(hole, read_hole), _record(player, read_player), tee=tee, spot=spot, pin=pin, day=_day(day), seed=seed
    )
    return Answer(found, lambda: present(found), lambda: plan_data(found), "legs", lambda ax: draw_map(ax, found))


def _record(given: T | Source, read: Callable[[Source], T]) -> T:
    return read(given) if isinstance(given, str | Path) else given


def _day(words: Mapping[str, str] | None) -> Any:
    if not words:
        return None
    from simcaddie.io.day import day_of_words

    return day_of_words(words)
