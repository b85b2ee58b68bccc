"""Labels that never overlap: measured with the renderer, tried in many places, put where they cost least.

They are placed greedily, the most important first. A place is *ruled out* where the text would touch another label, a
blocked box, a leader line or the frame; it *costs* more the farther it is from what it names and the more it hides of
ground that should stay visible. A label with no place left is dropped and reported. ``overlaps`` and ``clipped`` check
any finished figure for texts that overlap or stick out.

All geometry here is in pixels of the figure, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

import shapely
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg
from matplotlib.figure import Figure
from matplotlib.patheffects import withStroke
from matplotlib.text import Text
from shapely import affinity

from simcaddie.charts.style import INK, PAPER, QUIET

__all__ = ["Label", "LabelPlacer", "clipped", "overlaps", "renderer_of", "shown_texts", "text_box"]


def renderer_of(figure: Figure) -> RendererAgg:
    """Return a renderer that measures texts as this figure will draw them."""
    canvas = figure.canvas
    agg = canvas if isinstance(canvas, FigureCanvasAgg) else FigureCanvasAgg(figure)
    renderer: RendererAgg = agg.get_renderer()  # type: ignore[no-untyped-call]
    return renderer


def text_box(text: Text, renderer: RendererAgg, pad: float = 0.0) -> Any:
    """Return the box of a text, ``pad`` pixels larger on every side, as a shapely polygon."""
    extent = text.get_window_extent(renderer)
    return shapely.box(extent.x0 - pad, extent.y0 - pad, extent.x1 + pad, extent.y1 + pad)


def shown_texts(figure: Figure) -> list[tuple[Text, Axes | None]]:
    """Return every text that the figure draws, with the Axes it belongs to."""
    found: list[tuple[Text, Axes | None]] = [(text, None) for text in figure.texts]
    for ax in figure.axes:
        legend = ax.get_legend()
        found += [(text, ax) for text in (*ax.texts, ax.title, *(legend.get_texts() if legend else ()))]
        if ax.axison:
            for axis in (ax.xaxis, ax.yaxis):
                ticks = axis.get_ticklabels() if axis.get_visible() else []
                found += [(text, ax) for text in (*ticks, axis.label)]
    return [(text, ax) for text, ax in found if text.get_visible() and text.get_text().strip()]


def overlaps(figure: Figure, tolerance: float = 0.5) -> list[tuple[str, str]]:
    """Return the pairs of texts whose boxes overlap by more than ``tolerance`` pixels each way."""
    renderer = renderer_of(figure)
    figure.draw_without_rendering()
    boxes = [(text.get_text(), text_box(text, renderer, -tolerance / 2)) for text, _ in shown_texts(figure)]
    return [(a, b) for i, (a, one) in enumerate(boxes) for b, two in boxes[i + 1 :] if one.intersects(two)]


def clipped(figure: Figure, tolerance: float = 0.5) -> list[str]:
    """Return the texts that stick out of the figure, or out of the Axes that clip them."""
    renderer = renderer_of(figure)
    figure.draw_without_rendering()
    out = []
    for text, ax in shown_texts(figure):
        within = ax.bbox.extents if ax is not None and text in ax.texts and text.get_clip_on() else figure.bbox.extents
        if not shapely.box(*within).buffer(tolerance).contains(text_box(text, renderer)):
            out.append(text.get_text())
    return out


_GAPS: Final = (2.5, 6.0, 11.0, 18.0, 27.0, 38.0, 52.0, 68.0, 88.0)  # points between a label and what it names
_DIRECTIONS: Final = 24
_LEADER_FROM: Final = 9.0  # points: a label farther off than this gets a leader line
_PAD: Final = 1.6  # points kept free around each label


@dataclass(frozen=True, slots=True)
class Label:
    """A label: its text, what it names (a shapely geometry in data units) and how it looks.

    ``priority`` 0 is placed first. ``inside`` allows a place on the named area itself. ``reach``
    (points) is how far away it may go. ``style`` holds keywords of matplotlib's Text.
    """

    text: str
    target: Any
    priority: int = 5
    inside: bool = False
    reach: float = 90.0
    size: float = 6.5
    colour: str = INK
    style: tuple[tuple[str, Any], ...] = ()


@dataclass(frozen=True, slots=True)
class _Place:
    """A box for a label in pixels, its leader line if it needs one, and what the place costs."""

    box: Any
    leader: Any
    cost: float


class LabelPlacer:
    """Collects the labels of one Axes whose limits and size are final, then places them all.

    No label is written smaller than ``least`` points.
    """

    def __init__(self, ax: Axes, least: float = 0.0) -> None:
        self.ax = ax
        self.least = least
        self._figure = _figure_of(ax)
        self._renderer = renderer_of(self._figure)
        self._labels: list[Label] = []
        self._hard: list[Any] = []
        self._soft: list[tuple[Any, float]] = []
        self._lines: list[tuple[Any, float]] = []
        self._point = self._figure.dpi / 72.0

    def add(self, label: Label) -> None:
        """Take a label to be placed."""
        self._labels.append(label)

    def block(self, geometry: Any, margin: float = 0.0) -> None:
        """Keep every label off ``geometry`` (data units), ``margin`` points around it included."""
        self._hard.append(self._pixels(geometry).buffer(margin * self._point))

    def block_texts(self, *texts: Text) -> None:
        """Keep every label off texts that are already drawn."""
        self._hard.extend(text_box(text, self._renderer, _PAD * self._point) for text in texts)

    def keep_clear(self, geometry: Any, weight: float) -> None:
        """Make hiding ``geometry`` (data units) cost ``weight`` points for a label that lies wholly on it."""
        shape = self._pixels(geometry)
        if not shape.is_empty:
            shapely.prepare(shape)
            self._soft.append((shape, weight))

    def keep_off_line(self, line: Any, weight: float) -> None:
        """Make touching a drawn ``line`` (data units) cost ``weight`` points."""
        self._lines.append((self._pixels(line), weight))

    def place(self) -> list[Label]:
        """Draw the labels and return those for which no place was left."""
        dropped = []
        for label in sorted(self._labels, key=lambda each: each.priority):
            text = self._text(label)
            best = min(self._candidates(label, text), key=lambda place: place.cost, default=None)
            if best is None:
                text.remove()
                dropped.append(label)
                continue
            self._fix(text, label, best)
        self._labels = []
        return dropped

    def _pixels(self, geometry: Any) -> Any:
        (x0, y0), (x1, y1) = self.ax.transData.transform([(0.0, 0.0), (1.0, 1.0)])
        return affinity.affine_transform(geometry, [x1 - x0, 0.0, 0.0, y1 - y0, x0, y0])

    def _text(self, label: Label) -> Text:
        style: dict[str, Any] = dict(label.style)
        text = self.ax.text(
            0.0,
            0.0,
            label.text,
            fontsize=max(label.size, self.least),
            color=label.colour,
            ha="center",
            va="center",
            linespacing=1.15,
            zorder=9.0,
            clip_on=True,
            **style,
        )
        text.set_path_effects([withStroke(linewidth=1.8, foreground=PAPER, alpha=0.85)])
        return text

    def _candidates(self, label: Label, text: Text) -> Iterator[_Place]:
        target = self._pixels(label.target)
        extent = text.get_window_extent(self._renderer)
        half_w, half_h = extent.width / 2, extent.height / 2
        frame = shapely.box(*self.ax.bbox.extents).buffer(-3.0 * self._point)
        for x, y, distance in self._centres(label, target, half_w, half_h):
            box = shapely.box(x - half_w, y - half_h, x + half_w, y + half_h)
            padded = box.buffer(_PAD * self._point, join_style="mitre")
            if not frame.contains(box) or any(padded.intersects(hard) for hard in self._hard):
                continue
            leader = None
            if distance > _LEADER_FROM:
                leader = shapely.shortest_line(box, target)
                if any(leader.intersects(hard) for hard in self._hard if not hard.intersects(target)):
                    continue
            yield _Place(box, leader, distance + self._hidden(box, target))

    def _centres(self, label: Label, target: Any, half_w: float, half_h: float) -> Iterator[tuple[float, float, float]]:
        """Yield box centres and how far each is from the target, in points.

        Inside places count as far by what sticks out of the target.
        """
        if label.inside:
            for point in _inner_points(target, 2 * half_h):
                box = shapely.box(point.x - half_w, point.y - half_h, point.x + half_w, point.y + half_h)
                yield point.x, point.y, 8.0 * (1.0 - box.intersection(target).area / box.area)
        for part in _parts(target, 60.0 * self._point):
            for x, y in self._around(part, half_w, half_h, label.reach):
                box = shapely.box(x - half_w, y - half_h, x + half_w, y + half_h)
                away = box.distance(target) / self._point
                if away > 0.8 * _GAPS[0]:
                    yield x, y, away + 0.02 * abs(y - part.centroid.y)

    def _around(self, target: Any, half_w: float, half_h: float, reach: float) -> Iterator[tuple[float, float]]:
        """Yield box centres on rectangles around a target, the nearest rectangle first."""
        left, low, right, high = target.bounds
        cx, cy = (left + right) / 2, (low + high) / 2
        for gap in (gap for gap in _GAPS if gap <= reach):
            wide, tall = (
                (right - left) / 2 + half_w + gap * self._point,
                (high - low) / 2 + half_h + gap * self._point,
            )
            for step in range(_DIRECTIONS):
                turn = 2 * math.pi * step / _DIRECTIONS
                dx, dy = math.cos(turn), math.sin(turn)
                stretch = 1.0 / max(abs(dx) / wide, abs(dy) / tall)
                yield cx + dx * stretch, cy + dy * stretch

    def _hidden(self, box: Any, target: Any) -> float:
        cost = 0.0
        for shape, weight in self._soft:
            if shape.intersects(box) and not (shape.equals(target)):
                cost += weight * shape.intersection(box).area / box.area
        cost += sum(weight for line, weight in self._lines if line.intersects(box))
        return cost

    def _fix(self, text: Text, label: Label, place: _Place) -> None:
        """Draw one label at its place and keep the later ones off it."""
        inverse = self.ax.transData.inverted()
        centre = place.box.centroid
        text.set_position(tuple(inverse.transform((centre.x, centre.y))))
        self._hard.append(place.box.buffer(_PAD * self._point, join_style="mitre"))
        if place.leader is not None:
            ends = inverse.transform(list(place.leader.coords))
            self.ax.plot(
                ends[:, 0],
                ends[:, 1],
                color=label.colour if label.colour != INK else QUIET,
                linewidth=0.45,
                zorder=8.5,
                solid_capstyle="butt",
            )
            self._hard.append(place.leader.buffer(0.6 * self._point))


def _inner_points(target: Any, step: float) -> list[Any]:
    """Return points of a grid inside an area, the deepest first."""
    shrunk = target.buffer(-step / 2)
    if shrunk.is_empty:
        return []
    left, low, right, high = shrunk.bounds
    points = [
        shapely.Point(left + i * step, low + j * step)
        for i in range(int((right - left) / step) + 1)
        for j in range(int((high - low) / step) + 1)
    ]
    points = [target.centroid, *points]
    edge = target.boundary
    inside = [point for point in points if shrunk.covers(point)]
    return sorted(inside, key=lambda point: (-round(edge.distance(point), 3), point.y, point.x))[:60]


def _parts(target: Any, most: float) -> list[Any]:
    """Cut a long target into pieces of about ``most`` pixels, to put a label beside any of them."""
    left, low, right, high = target.bounds
    if max(right - left, high - low) <= 2.0 * most:
        return [target]
    across = max(1, math.ceil((right - left) / most)), max(1, math.ceil((high - low) / most))
    wide, tall = (right - left) / across[0], (high - low) / across[1]
    boxes = [
        shapely.box(left + i * wide, low + j * tall, left + (i + 1) * wide, low + (j + 1) * tall)
        for i in range(across[0])
        for j in range(across[1])
    ]
    return [piece for piece in (target.intersection(box) for box in boxes) if not piece.is_empty]


def _figure_of(ax: Axes) -> Figure:
    figure = ax.get_figure(root=True)
    if not isinstance(figure, Figure):
        raise TypeError("these Axes belong to no figure")
    return figure
