"""The strategy sheet as pages: a cover and the holes, one a page for the pocket or two for the desk.

Each hole has its title, a map with the advised line, the decisions, the green, and what flips the plan. Clarification
4.3a/1 of the Rules: a page is at most 4¼ × 7 inches, an image of a green at most 3/8 inch to 5 yards, 1:480.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np
import shapely
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patheffects import Normal, withStroke

from simcaddie.base.cautions import ON_PAPER
from simcaddie.base.errors import BadRequest
from simcaddie.base.surfaces import BY_NAME
from simcaddie.base.units import YARDS_PER
from simcaddie.charts.card import CARD_MARGIN, CARD_SIZE, draw_carries, draw_part_swings, part_swings
from simcaddie.charts.ground_fill import paint_hole, view_box
from simcaddie.charts.labels import Label, LabelPlacer
from simcaddie.charts.maps import draw_pattern, fit_view
from simcaddie.charts.marks import draw_landmarks, length_of, shown
from simcaddie.charts.pages import write_pages
from simcaddie.charts.style import INK, PAPER, styled
from simcaddie.charts.text import box_at, credit, head, panel_at, paper_size, sheet, width_of, write
from simcaddie.course.hole import Landmark, Point
from simcaddie.course.route import line_of_play, nearest_landmark
from simcaddie.decision.line_of_play import Leg
from simcaddie.decision.measure import ball_places
from simcaddie.decision.phrases import day_words
from simcaddie.features.sheet.analysis import Sheet, SheetHole
from simcaddie.features.sheet.present import Decision, chances, decisions, facts, flip_words
from simcaddie.player.estimated import estimates_told

__all__ = ["LARGEST_SCALE", "draw_sheet", "green_scale", "known_form", "known_sheet", "points_per_yard", "sheet_pages"]

LARGEST_SCALE: Final = 480  # 1:480
SCALES: Final = (LARGEST_SCALE, 600, 750, 1000, 1250, 1500, 2000, 2500)
AROUND: Final = 7.0  # yd of surroundings shown about the green
ARC: Final = 13.0  # yd to either side of the line, of a number's arc
DRAWN: Final = 1.8  # standard deviations of carry that a drawn pattern reaches
NEARLY_ALL: Final = (0.01, 0.99)


def points_per_yard(scale: float) -> float:
    """Return how many points of paper a yard takes at 1:``scale``.

    >>> points_per_yard(480)
    5.4
    """
    return 36.0 * 72.0 / scale


def green_scale(hole: SheetHole, wide: float, tall: float) -> int:
    """Return the scale, 1:n, at which the green and what is about it fit into ``wide`` × ``tall`` points."""
    left, low, right, high = hole.hole.green.bounds
    across, deep = right - left + 2 * AROUND, high - low + 2 * AROUND
    fits = [n for n in SCALES if across * points_per_yard(n) <= wide and deep * points_per_yard(n) <= tall]
    return fits[0] if fits else SCALES[-1]


def draw_green(ax: Axes, hole: SheetHole) -> int:
    """Draw the green with its pins, as large as the Axes and the Rules allow; return the scale, 1:n."""
    figure = ax.get_figure(root=True)
    dpi = figure.dpi if figure is not None else 72.0
    wide, tall = ax.bbox.width / dpi * 72.0, ax.bbox.height / dpi * 72.0
    scale = green_scale(hole, wide, tall)
    left, low, right, high = hole.hole.green.bounds
    cx, cy, per = (left + right) / 2, (low + high) / 2, points_per_yard(scale)
    ax.set_xlim(cx - wide / per / 2, cx + wide / per / 2)
    ax.set_ylim(cy - tall / per / 2, cy + tall / per / 2)
    ax.set_xticks([])
    ax.set_yticks([])
    paint_hole(ax, hole.hole)
    for at in hole.hole.pins.values():
        ax.plot(*at, marker="o", markersize=4.0, color=INK, markerfacecolor=PAPER, markeredgewidth=1.0, zorder=7.0)
    _approach_arrow(ax, hole)
    return scale


def _approach_arrow(ax: Axes, hole: SheetHole) -> None:
    """Draw where the approach comes from, and where it is to finish."""
    start, end = hole.line[-1].start, hole.finish
    tail = shapely.LineString([start, end]).intersection(view_box(ax))
    if not tail.is_empty:
        (line,) = ax.plot(*tail.xy, color=INK, linewidth=1.4, zorder=6.5)
        line.set_path_effects([withStroke(linewidth=3.0, foreground=PAPER), Normal()])
    ax.plot(*end, marker="+", markersize=9.0, color=INK, markeredgewidth=1.6, zorder=7.1)


def _reached(hole: SheetHole) -> tuple[float, float, float, float]:
    """Return the bounds, yards, of the ground that 98 balls in a hundred of each stroke need, and the green."""
    left, low, right, high = hole.hole.green.bounds
    boxes = [(left - AROUND, low - AROUND, right + AROUND, high + AROUND), (*hole.line[0].start, *hole.line[0].start)]
    for leg in hole.line:
        x, y = ball_places(leg.rest)
        (x0, x1), (y0, y1) = np.quantile(x, NEARLY_ALL), np.quantile(y, NEARLY_ALL)
        boxes.append((float(x0), float(y0), float(x1), float(y1)))
    lefts, lows, rights, highs = zip(*boxes, strict=True)
    return min(lefts) - AROUND, min(lows), max(rights) + AROUND, max(highs)


def _landmarks(hole: SheetHole) -> tuple[Landmark, ...]:
    """Return the landmarks that strokes of the line may be aimed by."""
    player, found = hole.on.player, []
    for leg in hole.line:
        far = leg.left if leg.swing >= len(player.swings) else player.swings[leg.swing].carry
        near = nearest_landmark(hole.hole, leg.start, leg.bearing, far)
        found += [near[0]] if near is not None else []
    return tuple(dict.fromkeys(found))


def draw_line_map(ax: Axes, hole: SheetHole, size: float) -> list[str]:
    """Draw the ground that balls reach with the advised line, the tee shot's pattern and the numbers of each stroke.

    ``size`` is that of the type, points; returns the labels that found no place.
    """
    first = hole.line[0]
    seen = replace(hole.hole, landmarks=_landmarks(hole))
    fit_view(ax, _reached(hole), margin=3.0)
    labels = LabelPlacer(ax, least=size)
    for name, shape in paint_hole(ax, seen).items():
        if BY_NAME[name].drawing.clear:
            labels.keep_clear(shape, 20.0)
    pattern = hole.on.pattern_of(first)
    if pattern is not None:
        draw_pattern(ax, first.start, first.bearing, pattern, labels=labels, aim=False)
    for order, leg in enumerate(hole.line):
        _leg(ax, leg.start, hole.finish if order == hole.approach else leg.finish, labels)
        for hazard in hole.hazards[order]:
            if hazard.yards is not None and not _within(hole, leg, hazard.yards):
                _arc(ax, leg.start, leg.bearing, hazard.yards, strong=hazard.say == "carry")
                _arc_label(hole, leg, hazard.yards, labels, size)
    draw_landmarks(ax, seen, labels, first.start)
    return [label.text for label in labels.place()]


def _within(hole: SheetHole, leg: Leg, yards: float) -> bool:
    """Tell whether a number's arc would cut the pattern of the club advised."""
    pattern = hole.on.pattern_of(leg)
    return pattern is not None and abs(yards - pattern.solid.carry) < DRAWN * pattern.solid.carry_sd


def _leg(ax: Axes, start: Point, end: Point, labels: LabelPlacer) -> None:
    (line,) = ax.plot(*zip(start, end, strict=True), color=INK, linewidth=1.5, zorder=7.0, solid_capstyle="round")
    line.set_path_effects([withStroke(linewidth=3.2, foreground=PAPER), Normal()])
    ax.plot(*start, marker="o", markersize=5.0, color=PAPER, markeredgecolor=INK, markeredgewidth=1.0, zorder=7.2)
    labels.block(shapely.Point(start), 3.0)
    labels.block(shapely.LineString([start, end]), 1.5)


def _arc_points(start: Point, bearing: float, yards: float) -> list[Point]:
    half = min(ARC / yards, 0.5)
    turns = [bearing + half * (step / 10.0 - 1.0) for step in range(21)]
    return [(start[0] + yards * math.sin(turn), start[1] + yards * math.cos(turn)) for turn in turns]


def _arc(ax: Axes, start: Point, bearing: float, yards: float, *, strong: bool) -> None:
    dashes = "-" if strong else (0, (2.2, 1.4))
    (arc,) = ax.plot(
        *zip(*_arc_points(start, bearing, yards), strict=True), color=INK, linewidth=1.3, linestyle=dashes, zorder=6.8
    )
    arc.set_path_effects([withStroke(linewidth=3.0, foreground=PAPER), Normal()])


def _arc_label(hole: SheetHole, leg: Leg, yards: float, labels: LabelPlacer, size: float) -> None:
    arc = shapely.LineString(_arc_points(leg.start, leg.bearing, yards))
    style = (("weight", "bold"),)
    labels.add(Label(shown(hole.hole, yards), arc, priority=0, reach=30.0, size=size, style=style))


# ─── A hole in its box ──────────────────────────────────────────────────────────────────────────────────────────────

NAME: Final = 1.15  # times the type: the smallest that a hole's name is written beside net par
GREEN: Final = 0.8  # height of the green's drawing as a share of its width
LEAST_GREEN: Final = 78.0  # points, of that height


@dataclass(frozen=True, slots=True)
class Box:
    """Where a hole goes on its page: points from the upper left corner; ``size`` of the type, ``map`` width.

    ``chances`` tells whether there is room for how sure each stroke is.
    """

    left: float
    top: float
    wide: float
    tall: float
    size: float
    map: float
    chances: bool


def _title(figure: Figure, box: Box, hole: SheetHole) -> float:
    """Write the hole's number, name, facts and net par across the top; return how tall that is."""
    ax = panel_at(figure, box.left, box.top, box.wide, 4.0 * box.size)
    number, name, net = f"{hole.number or ''}", hole.hole.name, "gross" if hole.gross else f"net par {hole.net_par}"
    big = 1.6 * box.size
    ax.text(0.0, -big, number, fontsize=1.25 * big, fontweight="bold", va="baseline")
    x = width_of(ax, number, 1.25 * big, "bold") + 0.6 * box.size if number else 0.0
    net_wide = width_of(ax, net, 1.15 * box.size, "bold")
    whole = big / width_of(ax, name, big)
    beside = whole * (box.wide - x - net_wide - box.size) >= NAME * box.size  # else net par goes to the line below
    room = box.wide - x - (net_wide + box.size if beside else 0.0)
    ax.text(x, -big, name, fontsize=min(big, whole * room), va="baseline")
    y = -big if beside else -big - 1.5 * box.size
    ax.text(box.wide, y, net, fontsize=1.15 * box.size, fontweight="bold", va="baseline", ha="right")
    length = length_of(line_of_play(hole.hole, hole.line[0].start))
    ax.text(0.0, -big - 1.5 * box.size, facts(hole, length), fontsize=box.size, va="baseline")
    ax.plot([0.0, box.wide], [-big - 1.95 * box.size] * 2, color=INK, linewidth=0.9)
    return big + 2.4 * box.size


def _decisions(ax: Axes, told: Sequence[Decision], size: float) -> float:
    """Write decisions on a panel, what to play in bold; return where they end."""
    y = 0.0
    for each in told:
        y = write(ax, y, f"{each.number} {each.name}", size=size)
        y = write(ax, y, each.play, size=1.2 * size, bold=True)
        for line in each.lines:
            y = write(ax, y, line, size=size)
        y -= 0.4 * size
    return y


def _fitting(figure: Figure, hole: SheetHole, wide: float, tall: float, size: float) -> tuple[Decision, ...]:
    """Return the decisions with as many of their lines as ``tall`` points hold; what hazards ask stays."""
    told, trial = list(decisions(hole)), panel_at(figure, 0.0, 0.0, wide, 72.0)
    while -_decisions(trial, told, size) > tall:
        spare = [
            (not line.startswith("as good"), not line.startswith("miss"), number, place)
            for number, each in enumerate(told)
            for place, line in enumerate(each.lines)
            if place > 0 and not line.startswith(("carry", "short of", "in play"))
        ]
        if not spare:
            break
        number, place = min(spare)[2:]
        lines = tuple(line for i, line in enumerate(told[number].lines) if i != place)
        told[number] = replace(told[number], lines=lines)
    trial.remove()
    return tuple(told)


def draw_sheet_hole(figure: Figure, box: Box, hole: SheetHole) -> list[str]:
    """Draw one hole in its box; return the labels that found no place."""
    head = _title(figure, box, hole)
    flips = (*flip_words(hole), *(chances(hole) if box.chances else ()))
    foot = _height(figure, box.wide, flips, box.size)
    low = box.tall - foot - 4.0
    chart = figure.add_axes(box_at(figure, box.left, box.top + head, box.map, low - head - 6.0))
    dropped = draw_line_map(chart, hole, max(9.0, 0.8 * box.size))
    left, wide = box.left + box.map + 0.8 * box.size, box.wide - box.map - 0.8 * box.size
    side_by_side = wide > DESK_WIDE
    note_tall = 1.3 * box.size
    green_wide = 0.42 * wide if side_by_side else wide
    text_wide = wide - green_wide - box.size if side_by_side else wide
    room = low - head - (0.0 if side_by_side else LEAST_GREEN + note_tall)
    told = _fitting(figure, hole, text_wide, room, box.size)
    end = -_decisions(panel_at(figure, left, box.top + head, text_wide, low - head), told, box.size)
    green_tall = min(GREEN * green_wide, low - head - note_tall - (0.0 if side_by_side else end) - 4.0)
    green_left = box.left + box.wide - green_wide
    green_top = box.top + (head if side_by_side else low - green_tall - note_tall - 4.0)
    ax = figure.add_axes(box_at(figure, green_left, green_top, green_wide, green_tall))
    scale = draw_green(ax, hole)
    note = panel_at(figure, green_left, green_top + green_tall, green_wide, note_tall)
    note.text(green_wide, -box.size, f"green 1:{scale}", fontsize=0.8 * box.size, ha="right")
    strip = panel_at(figure, box.left, box.top + low, box.wide, foot)
    strip.plot([0.0, box.wide], [0.0, 0.0], color=INK, linewidth=0.9)
    y = -0.2 * box.size
    for words in flips:
        y = write(strip, y, words, size=box.size)
    return dropped


def _height(figure: Figure, wide: float, lines: tuple[str, ...], size: float) -> float:
    trial = panel_at(figure, 0.0, 0.0, wide, 72.0)
    y = -0.2 * size
    for words in lines:
        y = write(trial, y, words, size=size)
    trial.remove()
    return -y + 2.0


# ─── The cover: card of carries, routine, cautions; on the desk all holes in a table too ────────────────────────────

NOTE: Final = "Carry: average of solid strikes. 8 in 10: eight balls in ten beat it. Averages over the pins."
SMALL: Final = 8.0  # points, of the caution
DESK_WIDE: Final = 300.0  # points of text and green beside each other
POCKET: Final = 320.0  # points: a page no wider than that is a pocket's
TALLEST: Final = 21.0  # points, of a row
HEADING: Final = 19.0  # points, of the course's name


def _cover_title(ax: Axes, answer: Sheet) -> float:
    wide = ax.get_xlim()[1]
    size = min(HEADING, HEADING * wide / width_of(ax, answer.title, HEADING))
    ax.text(0.0, -size, answer.title, fontsize=size, va="baseline")
    who = [answer.player.name]
    who += [f"{answer.tee} tees"] if answer.tee else []
    who += (
        [f"{answer.handicap} strokes{', by length' if answer.by_length else ''}"] if answer.handicap is not None else []
    )
    y = write(ax, -size - 6.5, " · ".join(who), size=10.0)
    ax.plot([0.0, wide], [y - 3.0] * 2, color=INK, linewidth=1.1)
    return y - 7.0


def _carries(ax: Axes, answer: Sheet, top: float, low: float) -> None:
    """Write the card of carries from ``top`` down to ``low``."""
    full = [each for each in answer.carries if each.swing.name == "full"]
    clubs, parts = full or list(answer.carries), part_swings(answer.player, answer.carries) if full else []
    rows = 1 + len(clubs) + (1.6 + len(parts) if parts else 0.0)
    row, unit = min(TALLEST, (top - low) / rows), YARDS_PER[answer.player.units]
    y = draw_carries(ax, clubs, unit, row, top)
    if parts:
        draw_part_swings(ax, parts, unit, row, y - 0.6 * row)


def _note(answer: Sheet) -> str:
    """Say what the card's words, and the mark of estimates, mean."""
    told = estimates_told(answer.player.swings)
    return f"{NOTE} {told}." if told else NOTE


def _foot(ax: Axes, answer: Sheet, y: float) -> float:
    """Write the player's routine, what the card's words mean, and the cautions; return where they end."""
    if answer.player.routine:
        y = write(ax, y, f"Routine: {answer.player.routine}", size=10.0, bold=True)
    return write(ax, y - 3.0, f"{_note(answer)} Planned for: {day_words(answer.day)}. {ON_PAPER}", size=SMALL)


def _holes(ax: Axes, answer: Sheet) -> None:
    """Write every hole in a row: number, name, net par, the tee shot."""
    wide, y = ax.get_xlim()[1], head(ax, 0.0, "The holes", 13.0)
    row = min(32.0, (y - ax.get_ylim()[0]) / max(len(answer.holes), 1))
    size = min(10.0, 0.42 * row)
    for hole in answer.holes:
        y -= row
        ax.text(14.0, y + 0.35 * row, f"{hole.number}", fontsize=1.2 * size, ha="right", fontweight="bold")
        ax.text(20.0, y + 0.55 * row, hole.hole.name, fontsize=size, va="baseline")
        net = "" if hole.gross else f", net par {hole.net_par}"
        told = f"par {hole.hole.par}{net}: {hole.line[0].title}"
        ax.text(20.0, y + 0.12 * row, told, fontsize=size, va="baseline", fontweight="bold")
        ax.plot([0.0, wide], [y, y], color=INK, linewidth=0.3)


def draw_cover(figure: Figure, answer: Sheet, margin: float) -> None:
    """Draw the cover on an empty page."""
    wide, tall = (72.0 * inches for inches in figure.get_size_inches())
    pocket = wide < POCKET
    across = wide - 2 * margin if pocket else 0.54 * (wide - 2 * margin)
    foot_tall = _foot_height(figure, answer, across)
    ax = panel_at(figure, margin, margin, across, tall - 2 * margin)
    y = _cover_title(ax, answer)
    low = -(tall - 2 * margin) + foot_tall
    card = panel_at(figure, margin - CARD_MARGIN, margin, across + 2 * CARD_MARGIN, tall - 2 * margin)
    _carries(card, answer, y, low + 6.0)
    _foot(ax, answer, low)
    if not pocket:
        left = margin + across + 24.0
        _holes(panel_at(figure, left, margin, wide - margin - left, tall - 2 * margin), answer)


def _foot_height(figure: Figure, answer: Sheet, wide: float) -> float:
    trial = panel_at(figure, 0.0, 0.0, wide, 72.0)
    end = _foot(trial, answer, 0.0)
    trial.remove()
    return 2.0 - end


# ─── The pages ──────────────────────────────────────────────────────────────────────────────────────────────────────

FORMS: Final = ("pocket", "desk")
MARGIN: Final = {"pocket": 12.0, "desk": 34.0}  # points
CAUTION: Final = 52.0  # points, where a single hole's page bears the caution itself


def known_form(form: str) -> None:
    """Refuse another form than "pocket" or "desk" with a BadRequest."""
    if form not in FORMS:
        raise BadRequest(f"--form: expected {' or '.join(FORMS)}, found '{form}'")


def known_sheet(path: Path) -> None:
    """Refuse another ending than .pdf or .png with a BadRequest."""
    if path.suffix.lower() not in (".pdf", ".png"):
        raise BadRequest(f"{path}: a sheet is written as .pdf, or as .png to look at, not as '{path.suffix}'")


def sheet_pages(answer: Sheet, form: str = "pocket", paper: str = "a4") -> Iterator[Figure]:
    """Yield the pages of a sheet as figures: a cover, then the holes; a single hole has one page and no cover.

    ``paper`` is that of the desk form; pocket pages measure 4¼ × 7 inches, which Clarification 4.3a/1 allows.

    Raises
    ------
    BadRequest
        For an unknown form or paper.
    """
    known_form(form)
    size = CARD_SIZE if form == "pocket" else paper_size(paper)
    margin = MARGIN[form]
    wide, tall = (72.0 * inches - 2 * margin for inches in size)
    if not answer.single:
        with styled():
            cover = sheet(*size)
            draw_cover(cover, answer, margin)
            credit(cover, (hole.hole.source for hole in answer.holes))
        yield cover
    each = 1 if form == "pocket" or answer.single else 2
    low = CAUTION if answer.single else 0.0
    part = (tall - low - margin * (each - 1)) / each
    for start in range(0, len(answer.holes), each):
        with styled():
            page = sheet(*size)
            credit(page, (hole.hole.source for hole in answer.holes[start : start + each]))
            for place, hole in enumerate(answer.holes[start : start + each]):
                box = (margin, margin + place * (part + margin), wide, part)
                draw_sheet_hole(page, _pocket(*box) if form == "pocket" else _desk(*box), hole)
            if answer.single:
                write(panel_at(page, margin, margin + tall - low + 6.0, wide, 60.0), 0.0, ON_PAPER, size=SMALL)
        yield page


def _pocket(left: float, top: float, wide: float, tall: float) -> Box:
    return Box(left, top, wide, tall, size=12.0, map=0.36 * wide, chances=False)


def _desk(left: float, top: float, wide: float, tall: float) -> Box:
    return Box(left, top, wide, tall, size=12.0, map=0.3 * wide, chances=True)


def draw_sheet(
    answer: Sheet, path: Path, form: str = "pocket", paper: str = "a4", *, done: Callable[[], None] | None = None
) -> int:
    """Draw a sheet to ``path`` and return how many pages it has: a .pdf to print, or all pages on one .png to look at.

    ``done`` is called as each page is drawn. The same sheet gives the same bytes: no date, fonts embedded.

    Raises
    ------
    BadRequest
        For an unknown form or paper, another ending, or where the file can't be written.
    """
    known_sheet(path)
    pages = _told(sheet_pages(answer, form, paper), done or (lambda: None))
    return write_pages(pages, path)


def _told(pages: Iterator[Figure], done: Callable[[], None]) -> Iterator[Figure]:
    for page in pages:
        yield page
        done()
