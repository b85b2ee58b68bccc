"""Do texts overlap, or stick out? Checks on any finished figure, and how texts are measured.

Boxes are in pixels of the figure, y up.
"""

from __future__ import annotations

from typing import Any

import shapely
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg
from matplotlib.figure import Figure
from matplotlib.text import Text

__all__ = ["clipped", "overlaps", "renderer_of", "shown_texts", "text_box"]


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
