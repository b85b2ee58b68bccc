"""The strategy sheet as pages: for the pocket, a hole a page within 4¼ × 7 inches, or for the desk, two a page."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure

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
        For another than .pdf.
    """
    if path.suffix.lower() != ".pdf":
        raise BadRequest(f"{path}: a sheet is written as .pdf, not as '{path.suffix}'")


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
    """Draw a sheet to ``path``, a .pdf, page by page; return how many pages it has.

    ``done`` is called as each page is drawn. The same sheet gives the same bytes: no date, fonts embedded.

    Raises
    ------
    BadRequest
        For an unknown form or paper, another ending, or where the file can't be written.
    """
    known_sheet(path)
    buffer, count = io.BytesIO(), 0
    told = {"Creator": "simcaddie", "Producer": "simcaddie", "CreationDate": None}
    with styled(), PdfPages(buffer, metadata=told) as pages:  # fonts are written as the file is closed
        for page in sheet_pages(answer, form, paper):
            page.savefig(pages, format="pdf", dpi=page.dpi)
            count += 1
            if done is not None:
                done()
    write_whole(path, buffer.getvalue())
    return count
