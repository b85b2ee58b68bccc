"""A sheet made as one piece of work, wherever that runs: its pages as a PDF, and as data."""

from __future__ import annotations

import base64
import threading
from collections.abc import Mapping
from typing import Any, Final

__all__ = ["sheet_piece"]

_DRAWING: Final = threading.Lock()  # the style is set for a whole process


def sheet_piece(
    course: Mapping[str, Any], player: str, tee: str | None, day: Mapping[str, Any], seed: int
) -> dict[str, Any]:
    """Return {"pdf": base64, "pages": count, "sheet": data} of a player's pocket sheet; texts as ``io.sent`` has them.

    Raises
    ------
    SimcaddieError
        As ``sheet`` does.
    """
    from simcaddie.charts.pages import pdf_of
    from simcaddie.features.sheet.analysis import sheet
    from simcaddie.features.sheet.figure import sheet_pages
    from simcaddie.features.sheet.present import sheet_data
    from simcaddie.io.sent import course_from, day_from, player_from

    answer = sheet(course_from(course), player_from(player), tee=tee, seed=seed, day=day_from(day))
    with _DRAWING:
        content, count = pdf_of(sheet_pages(answer))
    return {"pdf": base64.b64encode(content).decode(), "pages": count, "sheet": sheet_data(answer)}
