"""Several pages in one file: a PDF to print, or all of them side by side on a PNG to look at."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from matplotlib.image import imsave

from simcaddie.base.writing import write_bytes
from simcaddie.charts.style import save_figure, styled

__all__ = ["pdf_of", "write_pages"]

LOOK, ACROSS, GAP, DESK = 120.0, 4, 12, 205  # dots per inch, pages a row, pixels between them and their grey


def write_pages(pages: Iterator[Figure], path: Path) -> int:
    """Write pages to a .pdf, or side by side to a .png, the first of them to an .svg; return how many. No date.

    Raises
    ------
    BadRequest
        Where the file can't be written.
    """
    if path.suffix.lower() == ".svg":
        save_figure(next(pages), path)
        return 1
    content, count = pdf_of(pages) if path.suffix.lower() == ".pdf" else _picture(pages)
    write_bytes(path, content)
    return count


def pdf_of(pages: Iterator[Figure]) -> tuple[bytes, int]:
    """Return the pages as a PDF, and how many there are."""
    buffer, count = io.BytesIO(), 0
    told = {"Creator": "simcaddie", "Producer": "simcaddie", "CreationDate": None}
    with styled(), PdfPages(buffer, metadata=told) as made:  # fonts are written as the file is closed
        for page in pages:
            page.savefig(made, format="pdf", dpi=page.dpi)
            count += 1
    return buffer.getvalue(), count


def _picture(pages: Iterator[Figure]) -> tuple[bytes, int]:
    """Return the pages side by side as a PNG, and how many there are."""
    drawn = []
    for page in pages:
        page.set_dpi(LOOK)
        canvas = FigureCanvasAgg(page)
        with styled():
            canvas.draw()  # type: ignore[no-untyped-call]
        drawn.append(np.asarray(canvas.buffer_rgba())[..., :3])  # type: ignore[no-untyped-call]
    tall, wide = drawn[0].shape[:2]
    columns = min(ACROSS, len(drawn))
    rows = -(-len(drawn) // columns)
    whole = np.full((rows * (tall + GAP) + GAP, columns * (wide + GAP) + GAP, 3), DESK, np.uint8)
    for number, page_pixels in enumerate(drawn):
        top, left = GAP + number // columns * (tall + GAP), GAP + number % columns * (wide + GAP)
        whole[top : top + tall, left : left + wide] = page_pixels
    buffer = io.BytesIO()
    imsave(buffer, whole, format="png", metadata={"Software": "simcaddie"})
    return buffer.getvalue(), len(drawn)
