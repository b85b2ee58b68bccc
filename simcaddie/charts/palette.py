"""The colours of charts and pages, those of the ground apart: ``base/surfaces.py`` has them."""

from __future__ import annotations

from typing import Final

__all__ = ["FAINT", "INK", "MARKINGS", "OPTION_COLOURS", "PAPER", "QUIET", "TROUBLE"]

INK: Final = "#26292d"
QUIET: Final = "#5d6268"
FAINT: Final = "#9a9e9f"
PAPER: Final = "#fdfbf5"
TROUBLE: Final = "#a8442f"
MARKINGS: Final = {"red": "#b5352c", "yellow": "#d09a14"}  # stakes and lines of penalty areas, Rule 17
OPTION_COLOURS: Final = ("#1b4a78", "#b5531a", "#37323a", "#3c5a4c", "#7a6a2c")
