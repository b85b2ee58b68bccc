"""An invented aerial picture to trace a hole from: ``python tests/aerial.py`` draws it anew into examples/pictures.

No real ground: the outlines, in yards with the tee at (0, 0), and all the trees and their shadows are made up here. The
picture is turned and scaled as one from the air would be, with the sun in the south-west; its scale is that of the bar.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import matplotlib as mpl
import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon
from PIL import Image

from simcaddie.course.outlines import smooth_ring

TARGET = Path(__file__).parent.parent / "examples" / "pictures" / "invented-aerial.png"
WIDE, TALL = 1000, 1250  # pixels
YARDS = 0.42  # of a pixel
TURN = math.radians(24.0)  # straight up the hole, clockwise from up the picture, which is north
TEE_AT = (300.0, 1090.0)  # pixels
BAR = ((700.0, 1180.0), (700.0 + 100.0 / YARDS, 1180.0))  # 100 yards
TEES = {"white": (0.0, 0.0)}
PINS = {"middle": (21.0, 402.0)}
# kind, name, whether it is smooth, points
AREAS: tuple[tuple[str, str, bool, tuple[tuple[float, float], ...]], ...] = (
    ("fairway", "", True, ((-16, 150), (8, 140), (22, 170), (20, 230), (26, 290), (36, 350), (22, 374), (2, 366),
                           (-6, 310), (-14, 250), (-22, 195))),
    ("trees", "alders", True, ((-62, 90), (-40, 86), (-34, 130), (-40, 190), (-44, 236), (-64, 240), (-72, 170))),
    ("trees", "old firs", True, ((52, 170), (74, 166), (84, 220), (80, 290), (62, 296), (50, 240))),
    ("water", "reed pond", True, ((24, 100), (44, 96), (56, 116), (50, 140), (30, 138), (20, 120))),
    ("bunker", "left trap", True, ((-31, 258), (-22, 256), (-19, 268), (-26, 275), (-33, 269))),
    ("bunker", "front trap", True, ((34, 374), (42, 372), (46, 382), (39, 388), (33, 383))),
    ("bunker", "back trap", True, ((2, 410), (8, 407), (12, 414), (6, 420), (0, 416))),
    ("tee", "", False, ((-5, -7), (5, -7), (5, 7), (-5, 7))),
    ("green", "", True, ((8, 396), (20, 388), (34, 394), (38, 408), (28, 417), (14, 412))),
)  # fmt: skip


def pixel(x: float, y: float) -> tuple[float, float]:
    """Return where a point of the hole (yd) lies in the picture, pixels from its upper left corner."""
    along, across = (y * math.cos(TURN) - x * math.sin(TURN)) / YARDS, (x * math.cos(TURN) + y * math.sin(TURN)) / YARDS
    return TEE_AT[0] + across, TEE_AT[1] - along


def _ring(points: Any, smooth: bool) -> Any:
    ring = smooth_ring(np.array(points, float)) if smooth else np.array(points, float)
    return np.array([pixel(x, y) for x, y in ring])


def _crowns(ring: Any, rng: np.random.Generator, apart: float) -> Any:
    """Return places (pixels) of trees inside a ring, roughly so far apart, those in the north first."""
    from shapely import Point
    from shapely import Polygon as Shape

    shape, (low, high) = Shape(ring), (ring.min(axis=0), ring.max(axis=0))
    places = rng.uniform(low, high, (int(np.prod(high - low) / apart**2 * 1.6), 2))
    inside = [place for place in places if shape.contains(Point(place))]
    return sorted(inside, key=lambda place: place[1])


def _trees(ax: Any, places: Any, rng: np.random.Generator) -> None:
    sizes = rng.uniform(9.0, 17.0, len(places))
    for place, size in zip(places, sizes, strict=True):
        ax.add_patch(
            Circle(place + 0.8 * size * np.array([1.0, -1.0]), size, facecolor="#1c2a18", alpha=0.55, zorder=4)
        )
    for place, size in zip(places, sizes, strict=True):
        for shrink, tone in ((1.0, "#2f4a29"), (0.72, "#3c5b33"), (0.4, "#4c6e3f")):
            at = place - (1.0 - shrink) * size * np.array([0.35, -0.35])
            ax.add_patch(Circle(at, size * shrink, facecolor=tone, zorder=5))


def _ground(rng: np.random.Generator) -> Any:
    """Return float64[TALL, WIDE]: blotches of dry and lush grass, from 0 to 1."""
    field = np.zeros((TALL, WIDE))
    for cells, weight in ((6, 1.0), (18, 0.5), (60, 0.25)):
        coarse = Image.fromarray(rng.uniform(size=(cells, cells)).astype(np.float32))
        field += weight * np.asarray(coarse.resize((WIDE, TALL), Image.Resampling.BICUBIC))
    return (field - field.min()) / (field.max() - field.min())


def draw(target: Path = TARGET) -> None:
    """Draw the picture."""
    rng = np.random.default_rng(20)
    with mpl.rc_context({**mpl.rcParamsDefault}):
        figure = Figure(figsize=(WIDE / 100, TALL / 100), dpi=100)
        FigureCanvasAgg(figure)
        ax = figure.add_axes((0, 0, 1, 1))
        ax.set(xlim=(0, WIDE), ylim=(TALL, 0))
        ax.axis("off")
        tones = mpl.colors.LinearSegmentedColormap.from_list("grass", ["#6f8350", "#7f8f58", "#93996a"])
        ax.imshow(_ground(rng), cmap=tones, extent=(0, WIDE, TALL, 0), zorder=0)
        fills = {"fairway": "#86a860", "water": "#3d5a66", "bunker": "#e2d2a4", "tee": "#8fb267", "green": "#9cc274"}
        for kind, _, smooth, points in AREAS:
            ring = _ring(points, smooth)
            if kind in fills:
                ax.add_patch(Polygon(ring, facecolor=fills[kind], edgecolor="#5c7244", linewidth=0.8, zorder=2))
            else:
                _trees(ax, _crowns(ring, rng, 15.0), rng)
        for x, y in zip(rng.uniform(0, WIDE, 60), rng.uniform(0, TALL, 60), strict=True):
            if all(abs(x - px) > 60 for px, py in (pixel(0, step) for step in range(0, 430, 10)) if abs(y - py) < 90):
                _trees(ax, np.array([[x, y]]), rng)
        _furniture(ax)
        figure.savefig(target, metadata={"Software": "simcaddie"})
    with Image.open(target) as opened:
        packed = opened.convert("RGB").quantize(128, Image.Quantize.MAXCOVERAGE, 1, dither=Image.Dither.NONE)
        packed.save(target, optimize=True)


def _furniture(ax: Any) -> None:
    (x0, y0), (x1, _) = BAR
    style = {"color": "white", "zorder": 9, "fontsize": 13}
    ax.plot([x0, x0, x0, x1, x1, x1], [y0 - 9, y0 + 9, y0, y0, y0 - 9, y0 + 9], color="white", linewidth=2.5, zorder=9)
    ax.text((x0 + x1) / 2, y0 - 14, "100 yards", ha="center", **style)
    ax.text(20, TALL - 22, "Invented ground: no real place", **style)
    ax.annotate("N", (940, 60), (940, 130), ha="center", arrowprops={"facecolor": "white", "width": 3}, **style)


if __name__ == "__main__":
    draw()
