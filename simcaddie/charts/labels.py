"""Labels that never overlap: measured with the renderer, tried in many places, put where they cost least.

They are placed greedily, the most important first. A place is *ruled out* where the text would touch another label, a
blocked box, a leader line or the frame; it *costs* more the farther it is from what it names and the more it hides of
ground that should stay visible. A label with no place left is dropped and reported. ``overlaps`` and ``clipped`` check
any finished figure for texts that overlap or stick out.

All geometry here is in pixels of the figure, y up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import shapely
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg
from matplotlib.figure import Figure
from matplotlib.patheffects import withStroke
from matplotlib.text import Text
from numpy.typing import NDArray
from shapely import affinity

from simcaddie.charts.style import INK, PAPER, QUIET

__all__ = ["Label", "LabelPlacer", "clipped", "overlaps", "renderer_of", "shown_texts", "text_box"]

Floats = NDArray[np.float64]


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
    """A box for a label in pixels, and its leader line if it needs one."""

    box: Any
    leader: Any


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
            best = self._best(label, text)
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

    def _best(self, label: Label, text: Text) -> _Place | None:
        """Return the free place for a label that costs least, the first of several; None where none is free."""
        target = self._pixels(label.target)
        extent = text.get_window_extent(self._renderer)
        half_w, half_h = extent.width / 2, extent.height / 2
        x, y, away = self._centres(label, target, half_w, half_h).T
        boxes, hard = _boxes(x, y, half_w, half_h), np.array(self._hard, object)
        padded = _boxes(x, y, half_w + _PAD * self._point, half_h + _PAD * self._point)
        free = shapely.contains(shapely.box(*self.ax.bbox.extents).buffer(-3.0 * self._point), boxes)
        free[free] = ~shapely.intersects(padded[free, None], hard).any(axis=1)
        far = free & (away > _LEADER_FROM)
        leaders = np.full(x.size, None, object)
        leaders[far] = shapely.shortest_line(boxes[far], target)
        free[far] = ~shapely.intersects(leaders[far, None], hard[~shapely.intersects(hard, target)]).any(axis=1)
        which = np.flatnonzero(free)
        if not which.size:
            return None
        cost = away[which] + self._hidden(boxes[which], target)
        best = int(which[np.argmin(cost)])
        return _Place(boxes[best], leaders[best])

    def _centres(self, label: Label, target: Any, half_w: float, half_h: float) -> Floats:
        """Return box centres and how far each is from the target, in points: float64[place, (x, y, distance)].

        Inside places count as far by what sticks out of the target.
        """
        found = [np.empty((0, 3))]
        if label.inside:
            x, y = _inner_points(target, 2 * half_h).T
            boxes = _boxes(x, y, half_w, half_h)
            out = 8.0 * (1.0 - shapely.area(shapely.intersection(boxes, target)) / shapely.area(boxes))
            found.append(np.column_stack([x, y, out]))
        for part in _parts(target, 60.0 * self._point):
            x, y = self._around(part, half_w, half_h, label.reach).T
            away = shapely.distance(_boxes(x, y, half_w, half_h), target) / self._point
            beside = np.column_stack([x, y, away + 0.02 * np.abs(y - part.centroid.y)])
            found.append(beside[away > 0.8 * _GAPS[0]])
        return np.concatenate(found)

    def _around(self, target: Any, half_w: float, half_h: float, reach: float) -> Floats:
        """Return box centres on rectangles around a target, the nearest rectangle first: float64[place, 2]."""
        left, low, right, high = target.bounds
        gap = np.array([gap for gap in _GAPS if gap <= reach])[:, None] * self._point
        wide, tall = (right - left) / 2 + half_w + gap, (high - low) / 2 + half_h + gap
        turn = 2 * math.pi * np.arange(_DIRECTIONS) / _DIRECTIONS
        dx, dy = np.cos(turn), np.sin(turn)
        stretch = 1.0 / np.maximum(np.abs(dx) / wide, np.abs(dy) / tall)
        x, y = (left + right) / 2 + dx * stretch, (low + high) / 2 + dy * stretch
        return np.column_stack([x.ravel(), y.ravel()])

    def _hidden(self, boxes: Any, target: Any) -> Floats:
        """Return what the ground that boxes hide costs, float64[box]."""
        cost = np.zeros(boxes.size)
        for shape, weight in self._soft:
            over = shapely.intersects(shape, boxes)
            if over.any() and not shape.equals(target):
                cost[over] += (
                    weight * shapely.area(shapely.intersection(shape, boxes[over])) / shapely.area(boxes[over])
                )
        for line, weight in self._lines:
            cost += weight * shapely.intersects(line, boxes)
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


def _boxes(x: Floats, y: Floats, half_w: float, half_h: float) -> Any:
    """Return boxes about centres, shapely polygons of object[place]."""
    return shapely.box(x - half_w, y - half_h, x + half_w, y + half_h)


def _inner_points(target: Any, step: float) -> Floats:
    """Return points of a grid inside an area, float64[point, 2], the deepest first, at most 60."""
    shrunk = target.buffer(-step / 2)
    if shrunk.is_empty:
        return np.empty((0, 2))
    left, low, right, high = shrunk.bounds
    x, y = (axis.ravel() for axis in np.meshgrid(np.arange(left, right, step), np.arange(low, high, step)))
    x, y = np.append(target.centroid.x, x), np.append(target.centroid.y, y)
    points = shapely.points(x, y)
    inside = shapely.covers(shrunk, points)
    deep = shapely.distance(target.boundary, points[inside]).round(3)
    order = np.lexsort((x[inside], y[inside], -deep))[:60]
    return np.column_stack([x[inside], y[inside]])[order]


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
