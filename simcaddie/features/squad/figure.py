"""The group on one page: what each player's round comes to, and the club on every tee; who differs stands out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from simcaddie.base.cautions import ON_PAPER
from simcaddie.charts.style import FAINT, INK, OPTION_COLOURS, QUIET, styled
from simcaddie.charts.text import panel_at, sheet, width_of, write
from simcaddie.features.squad.analysis import Member, Squad
from simcaddie.features.squad.present import short_club

__all__ = ["overview_pages"]

WIDE: Final = 842.0  # points, A4 across
EDGE: Final = 30.0
ROW: Final = 17.0
TOP: Final = 92.0  # above the first row
FOOT: Final = 52.0
NAMES: Final = 128.0
SCORES: Final = 190.0
PAYS: Final = 122.0
A_PAGE: Final = 27  # rows


def overview_pages(answer: Squad) -> Iterator[Figure]:
    """Yield pages of rows, a player each."""
    for start in range(0, len(answer.members), A_PAGE):
        with styled():
            yield _page(answer, start, answer.members[start : start + A_PAGE])


def _page(answer: Squad, start: int, members: Sequence[Member]) -> Figure:
    tall = TOP + ROW * min(A_PAGE, len(answer.members)) + FOOT  # all pages alike
    figure = sheet(WIDE / 72.0, tall / 72.0)
    ax = panel_at(figure, EDGE, EDGE, WIDE - 2 * EDGE, tall - EDGE)
    ax.text(0.0, -14.0, answer.course.name, fontsize=17, va="baseline")
    ax.text(WIDE - 2 * EDGE, -14.0, "a group: rounds and tee clubs", fontsize=9, ha="right", va="baseline")
    _heads(ax, answer)
    scale = _scale(answer)
    for place, member in enumerate(members):
        y = -(TOP - EDGE) - ROW * (place + 0.5)
        if place % 2 == 0:
            ax.add_patch(Rectangle((0.0, y - ROW / 2), WIDE - 2 * EDGE, ROW, facecolor="#f3f0e8", edgecolor="none"))
        _row(ax, answer, member, start + place, y, scale)
    words = (
        "Bar: eight rounds in ten; its mark: the average. Boxed: another kind of club than most from the same tee play "
        f"(par 4s and 5s). {'' if answer.request.tee else 'Tee: the longest with enough in reach. '}"
        f"Pays most: strokes a round by closing the gap to a golfer five strokes better. {ON_PAPER}"
    )
    write(ax, -(TOP - EDGE) - ROW * len(members) - 4.0, words, size=6.3, colour=QUIET)
    return figure


def _columns(answer: Squad) -> tuple[float, float, float]:
    """Return where the scores begin, where the clubs begin, and how wide a club's column is."""
    clubs = NAMES + SCORES
    return NAMES, clubs, min(30.0, (WIDE - 2 * EDGE - PAYS - clubs) / len(answer.course.holes))


def _scale(answer: Squad) -> tuple[float, float]:
    laws = [member.total for member in answer.members if member.total]
    low, high = min(law.quantile(0.1) for law in laws), max(law.quantile(0.9) for law in laws)
    return low - 1.0, high + 1.0


def _at(value: float, scale: tuple[float, float]) -> float:
    return NAMES + 12.0 + (value - scale[0]) / (scale[1] - scale[0]) * (SCORES - 52.0)


def _heads(ax: Axes, answer: Squad) -> None:
    scores, clubs, wide = _columns(answer)
    y = -(TOP - EDGE) + 5.0
    ax.text(0.0, y, "player, tee", fontsize=7, color=QUIET)
    ax.text(scores + 12.0, y, "strokes", fontsize=7, color=QUIET)
    for number in range(len(answer.course.holes)):
        ax.text(clubs + wide * (number + 0.5), y, str(number + 1), fontsize=7, color=QUIET, ha="center")
    ax.text(clubs + wide * len(answer.course.holes) + 10.0, y, "pays most", fontsize=7, color=QUIET)
    ax.plot([0.0, WIDE - 2 * EDGE], [y - 4.0] * 2, color=FAINT, linewidth=0.6)


def _row(ax: Axes, answer: Squad, member: Member, number: int, y: float, scale: tuple[float, float]) -> None:
    _, clubs, wide = _columns(answer)
    ax.text(0.0, y, _name(ax, member), fontsize=8, va="center")
    ax.text(NAMES - 4.0, y, member.tee or "", fontsize=7, color=QUIET, va="center", ha="right")
    if (law := member.total) is not None:
        low, high = (_at(law.quantile(share), scale) for share in (0.1, 0.9))
        ax.plot([low, high], [y, y], color=OPTION_COLOURS[0], linewidth=3.0, solid_capstyle="butt")
        ax.plot([_at(law.mean, scale)] * 2, [y - 5.0, y + 5.0], color=INK, linewidth=1.2)
        ax.text(NAMES + SCORES - 8.0, y, f"{law.mean:.1f}", fontsize=8, va="center", ha="right")
    other = {one.number for one in answer.differs for name, _ in one.players if name == member.player.name}
    for hole, found in enumerate(member.holes):
        middle = clubs + wide * (hole + 0.5)
        told = short_club(found.club) if found else "–"
        if hole + 1 in other:
            box = Rectangle((middle - wide / 2 + 1, y - 6.5), wide - 2, 13.0, facecolor="none")
            box.set(edgecolor=OPTION_COLOURS[1], linewidth=1.1)
            ax.add_patch(box)
        ax.text(middle, y, told, fontsize=7, va="center", ha="center")
    if member.pays:
        best = member.pays[0]
        told = f"{best.thing.title} {best.gap.saved:.2f}"
        ax.text(clubs + wide * len(member.holes) + 10.0, y, told, fontsize=7, va="center")


def _name(ax: Axes, member: Member) -> str:
    """Return a player's name as long as its column has room."""
    name, room = member.player.name, NAMES - 12.0 - width_of(ax, member.tee or "", 7.0)
    while len(name) > 4 and width_of(ax, name, 8.0) > room:
        name = f"{name.rstrip('…')[:-1].rstrip()}…"
    return name
