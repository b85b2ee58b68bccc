"""The strategy sheet as pages: for the pocket, a hole a page within 4¼ × 7 inches, or for the desk, two a page."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from matplotlib.image import imsave

from simcaddie.errors import BadRequest
from simcaddie.report.card import CARD_SIZE
from simcaddie.report.sheet_cover import draw_caution, draw_cover
from simcaddie.report.sheet_hole import Box, draw_sheet_hole
from simcaddie.report.style import styled, write_whole
from simcaddie.report.writing import paper_size, sheet
from simcaddie.strategy.sheet import Sheet

__all__ = ["FORMS", "draw_sheet", "known_form", "known_sheet", "sheet_pages"]

FORMS: Final = ("pocket", "desk")
MARGIN: Final = {"pocket": 14.0, "desk": 34.0}  # points
LOOK, ACROSS, GAP, DESK = 120.0, 4, 12, 205  # dots per inch, pages a row, pixels between them and their grey
CAUTION: Final = 52.0  # points, where a single hole's page bears the caution itself


def known_form(form: str) -> None:
    """Refuse a form that there isn't.

    Raises
    ------
    BadRequest
        For another than "pocket" or "desk".
    """
    if form not in FORMS:
        raise BadRequest(f"--form: expected {' or '.join(FORMS)}, found '{form}'")


def known_sheet(path: Path) -> None:
    """Refuse an ending that a sheet can't have.

    Raises
    ------
    BadRequest
        For another than .pdf or .png.
    """
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
        yield cover
    each = 1 if form == "pocket" or answer.single else 2
    low = CAUTION if answer.single else 0.0
    part = (tall - low - margin * (each - 1)) / each
    for start in range(0, len(answer.holes), each):
        with styled():
            page = sheet(*size)
            for place, hole in enumerate(answer.holes[start : start + each]):
                box = (margin, margin + place * (part + margin), wide, part)
                draw_sheet_hole(page, _pocket(*box) if form == "pocket" else _desk(*box), hole)
            if answer.single:
                draw_caution(page, margin, margin + tall - low + 6.0, wide)
        yield page


def _pocket(left: float, top: float, wide: float, tall: float) -> Box:
    return Box(left, top, wide, tall, size=9.5, map=0.41 * wide, green=0.54 * wide)


def _desk(left: float, top: float, wide: float, tall: float) -> Box:
    return Box(left, top, wide, tall, size=11.5, map=0.31 * wide, green=0.29 * wide)


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
    content, count = _pdf(pages) if path.suffix.lower() == ".pdf" else _picture(pages)
    write_whole(path, content)
    return count


def _told(pages: Iterator[Figure], done: Callable[[], None]) -> Iterator[Figure]:
    for page in pages:
        yield page
        done()


def _pdf(pages: Iterator[Figure]) -> tuple[bytes, int]:
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
