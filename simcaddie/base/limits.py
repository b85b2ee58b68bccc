"""How much may be asked for: what fits two gigabytes, and numbers that mean something."""

from __future__ import annotations

from typing import Final

__all__ = ["FEWEST_SEQUENCES", "MOST_SEQUENCES", "MOST_SEQUENCES_OF_PRACTICE"]

FEWEST_SEQUENCES: Final = 100
MOST_SEQUENCES: Final = 1_000_000  # half a gigabyte, and a standard error of a thousandth of a stroke
MOST_SEQUENCES_OF_PRACTICE: Final = 100_000  # of every hole and change
