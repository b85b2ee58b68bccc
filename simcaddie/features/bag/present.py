"""A bag's carries and the gaps between them: the table, and as data."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from simcaddie.base.records import picked
from simcaddie.base.units import SHORT, YARDS_PER
from simcaddie.console.document import GAP, Block, Document, Heading, Text, figures, table, words
from simcaddie.features.bag.analysis import Gap, gap_words, gaps
from simcaddie.player.carries import SwingCarry
from simcaddie.player.estimated import estimates_told, marked
from simcaddie.player.swing import Player

__all__ = ["card_data", "gaps_data", "present"]


def present(player: Player, carries: Sequence[SwingCarry]) -> Document:
    """Return one row a swing, longest first, and what the gaps mean; lengths in the player's units."""
    unit = YARDS_PER[player.units]
    rows = [
        (
            each.swing.title,
            each.average_shown(unit),
            marked(f"{each.low / unit:.0f} to {each.high / unit:.0f}", each.swing.guessed),
            each.short_shown(unit),
            "" if gap is None else marked(f"{gap.yards / unit:.0f}", gap.estimated),
            _overlap(gap, unit),
        )
        for each, gap in zip(carries, [*gaps(carries), None], strict=True)
    ]
    blocks: list[Block] = [
        Heading(player.name, f", on the course from a good lie, {player.units}"),
        GAP,
        table(
            (*words("swing"), *figures("carry", "middle half", "8 in 10\nbeat", "to the\nnext", "overlap")),
            rows,
            "carry: average of solid strikes; overlap: of neighbours' middle halves\n"
            "middle half, 8 in 10: of all balls, mishits too",
            "close",
        ),
    ]
    if told := estimates_told(player.swings):
        blocks.append(Text(told))
    if said := gap_words(carries, unit, SHORT[player.units]):
        blocks += [GAP, *map(Text, said)]
    return blocks


def _overlap(gap: Gap | None, unit: float) -> str:
    if gap is None:
        return ""
    return f"{-gap.clear / unit:.0f}" if gap.clear < 0 else f"none, {gap.clear / unit:.0f} clear"


def gaps_data(player: Player, carries: Sequence[SwingCarry]) -> dict[str, Any]:
    """Return the carries and gaps as data, schema "gaps/1"; yards."""
    swings = [
        {
            **picked(each, club="swing.club", swing="swing.name", average="average"),
            "middle_half": [each.low, each.high],
            **picked(each, eight_in_ten_beat="short", right="right", estimated="swing.guessed"),
        }
        for each in carries
    ]
    for row, gap in zip(swings, gaps(carries), strict=False):
        row.update(picked(gap, to_next="yards", clear_to_next="clear"))
    return {"schema": "gaps/1", "player": player.name, "swings": swings, "words": gap_words(carries, 1.0, "yd")}


def card_data(player: Player, carries: Sequence[SwingCarry], file: str) -> dict[str, Any]:
    """Return what the card in ``file`` tells as data, schema "card/1"; yards."""
    keys = {"club": "swing.club", "swing": "swing.name", "average": "average", "eight_in_ten_beat": "short"}
    rows = [picked(each, **keys, miss="miss", trust="swing.trust", estimated="swing.guessed") for each in carries]
    return {"schema": "card/1", "player": player.name, "file": file, "swings": rows}
