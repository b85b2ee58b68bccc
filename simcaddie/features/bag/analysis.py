"""What lies between neighbours in the bag: holes that no swing carries into, what fills them, swings that carry alike.

A hole is 15 yd or more between two average carries with no ball of the middle halves in it, and swings within 5 yd of
each other carry alike: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from simcaddie.player.carries import SwingCarry
from simcaddie.player.estimated import marked

__all__ = ["Gap", "alike", "fillers", "gap_words", "gaps", "holes"]

HOLE: Final = 15.0  # yd
ALIKE: Final = 5.0


@dataclass(frozen=True, slots=True)
class Gap:
    """Two swings next to each other in carry.

    ``yards`` lie between their averages; ``clear`` between the middle halves of their balls, below zero where these
    overlap.
    """

    longer: SwingCarry
    shorter: SwingCarry

    @property
    def yards(self) -> float:
        """Yards between the average carries."""
        return self.longer.average - self.shorter.average

    @property
    def estimated(self) -> bool:
        """Whether either average is a guess."""
        return self.longer.swing.estimated or self.shorter.swing.estimated

    @property
    def clear(self) -> float:
        """Yards between the middle halves of the balls; negative where they overlap."""
        return self.longer.low - self.shorter.high


def gaps(carries: Sequence[SwingCarry]) -> tuple[Gap, ...]:
    """Return the gaps between neighbours of swings that stand longest first."""
    return tuple(Gap(longer, shorter) for longer, shorter in pairwise(carries))


def holes(carries: Sequence[SwingCarry]) -> tuple[Gap, ...]:
    """Return the gaps that are holes: no swing's middle half lands in them."""
    return tuple(gap for gap in gaps(carries) if gap.yards >= HOLE and gap.clear > 0.0)


def alike(carries: Sequence[SwingCarry]) -> tuple[Gap, ...]:
    """Return the pairs of full swings, neighbours among full swings, that carry alike."""
    full = [each for each in carries if each.swing.name == "full"]
    return tuple(gap for gap in gaps(full) if gap.yards <= ALIKE)


def fillers(carries: Sequence[SwingCarry]) -> tuple[tuple[SwingCarry, Gap], ...]:
    """Return the part swings that fill a hole between two neighbouring full swings, each with that hole."""
    full = [each for each in carries if each.swing.name == "full"]
    parts = [each for each in carries if each.swing.name != "full"]
    return tuple(
        (part, gap)
        for gap in holes(full)
        for part in parts
        if gap.shorter.average + ALIKE < part.average < gap.longer.average - ALIKE
    )


def _surely(gap: Gap) -> str:
    return "measure them before one goes." if gap.estimated else "one of them will do."


# ─── What the gaps in a bag mean, in sentences ──────────────────────────────────────────────────────────────────────


def gap_words(carries: Sequence[SwingCarry], unit: float, sign: str) -> list[str]:
    """Return sentences on wide gaps, what fills them, and clubs that carry alike.

    ``carries`` stand longest first; ``unit`` is the yards of the unit shown, ``sign`` its short form ("yd").
    """

    def told(each: SwingCarry) -> str:
        return f"{each.swing.title} ({each.average_shown(unit)})"

    lines = [
        f"The {told(part)} fills the gap between {told(gap.longer)} and {told(gap.shorter)}."
        for part, gap in fillers(carries)
    ]
    lines += [
        f"A gap of {marked(f'{gap.yards / unit:.0f}', gap.estimated)} {sign} between {told(gap.longer)} and "
        f"{told(gap.shorter)}: few balls land in it."
        for gap in holes(carries)
    ]
    lines += [
        f"{gap.longer.swing.title} and {gap.shorter.swing.title} carry alike, {gap.longer.average_shown(unit)} and "
        f"{gap.shorter.average_shown(unit)}: {_surely(gap)}"
        for gap in alike(carries)
    ]
    return [line[0].upper() + line[1:] for line in lines]
