"""What the gaps in a bag mean, in sentences."""

from __future__ import annotations

from collections.abc import Sequence

from simcaddie.golfer.carries import SwingCarry
from simcaddie.golfer.gaps import alike, fillers, holes

__all__ = ["gap_words"]


def gap_words(carries: Sequence[SwingCarry], unit: float, sign: str) -> list[str]:
    """Return sentences on wide gaps, what fills them, and clubs that carry alike.

    ``carries`` stand longest first; ``unit`` is the yards of the unit shown, ``sign`` its short form ("yd").
    """
    lines = []
    for part, gap in fillers(carries):
        lines.append(
            f"The {part.swing.title} ({part.average / unit:.0f}) fills the gap between {gap.longer.swing.title} "
            f"({gap.longer.average / unit:.0f}) and {gap.shorter.swing.title} ({gap.shorter.average / unit:.0f})."
        )
    lines += [
        f"A gap of {gap.yards / unit:.0f} {sign} between {gap.longer.swing.title} ({gap.longer.average / unit:.0f}) "
        f"and {gap.shorter.swing.title} ({gap.shorter.average / unit:.0f}): few balls land in it."
        for gap in holes(carries)
    ]
    lines += [
        f"{gap.longer.swing.title} and {gap.shorter.swing.title} carry alike, {gap.longer.average / unit:.0f} and "
        f"{gap.shorter.average / unit:.0f}: one of them will do."
        for gap in alike(carries)
    ]
    return [line[0].upper() + line[1:] for line in lines]
