"""How figures look and how they are written: one palette, one font family, the same bytes every time.

The palette is muted paper colours with dark ink over them. Nothing is told by colour alone: kinds of
ground also differ by texture or by lightness, options by line style and by a label on the line, so that
figures print in black and white.
"""

from __future__ import annotations

import io
import logging
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any, Final

import matplotlib as mpl
from matplotlib import font_manager
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from simcaddie.base.errors import BadRequest
from simcaddie.base.writing import write_bytes
from simcaddie.charts.palette import FAINT, INK, MARKINGS, OPTION_COLOURS, PAPER, QUIET, TROUBLE

__all__ = [
    "AREA_NAME",
    "FAINT",
    "INK",
    "MARKINGS",
    "OPTION_COLOURS",
    "OPTION_LINES",
    "PAPER",
    "QUIET",
    "TROUBLE",
    "known_kind",
    "lightness",
    "new_figure",
    "save_figure",
    "styled",
]  # fmt: skip

AREA_NAME: Final = (("style", "italic"),)  # names of areas on maps; numbers and places stand upright
OPTION_LINES: Final[tuple[Any, ...]] = ("-", (0, (5, 1.6)), (0, (1.4, 1.2)), (0, (6, 1.5, 1.2, 1.5)), (0, (9, 2)))
DPI: Final = 200

_FONTS: Final = Path(__file__).parent / "fonts"

_RC: Final[dict[str, Any]] = {
    "font.family": ["Fira Sans", "DejaVu Sans"],  # the second, which the plotting library brings, for rare letters
    "font.size": 7.5,
    "text.color": INK,
    "text.hinting": "none",
    "axes.edgecolor": INK,
    "axes.labelcolor": INK,
    "axes.linewidth": 0.7,
    "axes.facecolor": PAPER,
    "axes.unicode_minus": True,
    "figure.facecolor": PAPER,
    "savefig.facecolor": PAPER,
    "xtick.color": INK,
    "ytick.color": INK,
    "hatch.linewidth": 0.5,
    "lines.solid_capstyle": "round",
    "pdf.fonttype": 42,
    "svg.fonttype": "path",
    "svg.hashsalt": "simcaddie",
    "path.simplify": False,
}
_METADATA: Final[dict[str, dict[str, str | None]]] = {
    "png": {"Software": "simcaddie"},
    "svg": {"Creator": "simcaddie", "Date": None},
    "pdf": {"Creator": "simcaddie", "Producer": "simcaddie", "CreationDate": None},
}


@cache
def _add_fonts() -> None:
    """Make the bundled fonts known to matplotlib."""
    logging.getLogger("fontTools").setLevel(logging.ERROR)  # it wonders aloud at the fonts' dates, in every PDF
    for font in sorted(_FONTS.glob("*.ttf")):
        font_manager.fontManager.addfont(font)


@contextmanager
def styled() -> Iterator[None]:
    """Draw in this program's style, whatever the user's own matplotlib settings are."""
    _add_fonts()
    with mpl.rc_context():
        mpl.rcdefaults()
        for key, value in _RC.items():
            mpl.rcParams[key] = value  # type: ignore[index]
        yield


def new_figure(width: float, height: float) -> Figure:
    """Return an empty figure of ``width`` × ``height`` inches with a canvas that needs no screen."""
    figure = Figure(figsize=(width, height), dpi=DPI)
    FigureCanvasAgg(figure)
    return figure


def known_kind(path: Path) -> str:
    """Return the kind of figure that the ending of ``path`` asks for: "png", "svg" or "pdf".

    Raises
    ------
    BadRequest
        For another ending.
    """
    kind = path.suffix.lower().lstrip(".")
    if kind not in _METADATA:
        raise BadRequest(f"{path}: a figure is written as .png, .svg or .pdf, not as '{path.suffix}'")
    return kind


def save_figure(figure: Figure, path: str | Path) -> Path:
    """Write a figure as PNG, SVG or PDF by the ending of ``path``; the file is replaced whole or not at all.

    The same figure gives the same bytes: no date, fixed ids, fonts embedded (PDF) or drawn as outlines (SVG).

    Raises
    ------
    BadRequest
        For another ending, or where the file can't be written.

    """
    path = Path(path)
    kind = known_kind(path)
    buffer = io.BytesIO()
    with styled():
        figure.savefig(buffer, format=kind, dpi=figure.dpi, metadata=_METADATA[kind])
    write_bytes(path, buffer.getvalue())
    return path


def lightness(colour: str) -> float:
    """Return CIE L* (0 black … 100 white) of an sRGB colour, IEC 61966-2-1 and CIE 15.

    >>> round(lightness("#ffffff")), round(lightness("#000000")), round(lightness("#777777"))
    (100, 0, 50)
    """
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    y = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    return float(116 * y ** (1 / 3) - 16 if y > 0.008856 else 903.3 * y)
