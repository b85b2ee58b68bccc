"""What can go wrong, as one tree.

SimcaddieError
├── BadFile          one or more faults in files that people write, each with its line
├── BadRequest       an option or argument that makes no sense here
└── NothingToPlay    no swing can be used from the place asked for

The command line prints any of them as plain lines and leaves with exit code 2.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["BadFile", "BadRequest", "Fault", "NothingToPlay", "SimcaddieError", "shown"]


def shown(text: str, limit: int = 60) -> str:
    """Return ``text`` fit to print: no control characters, no longer than ``limit``."""
    text = "".join(c if c.isprintable() else " " if c in "\n\t\r" else "?" for c in text[: limit + 1])
    return text if len(text) <= limit else text[: limit - 1] + "…"


class SimcaddieError(Exception):
    """Base of every error that simcaddie raises on purpose."""


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One fault in one file.

    ``line`` counts from 1 and is 0 where the file as a whole is at fault.
    """

    file: str
    line: int
    where: str
    expected: str
    found: str

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        where = f"{self.where}: " if self.where else ""
        found = f", found {self.found}" if self.found else ""
        return f"{place}: {where}expected {self.expected}{found}"


class BadFile(SimcaddieError):
    """Files that can't be used; ``faults`` holds every fault found, in file and line order."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(sorted(set(faults)))
        super().__init__("\n".join(str(fault) for fault in self.faults))


class BadRequest(SimcaddieError):
    """A question that can't be answered as put: an unknown tee, an empty range of aims."""


class NothingToPlay(SimcaddieError):
    """The player has no swing that can be used from this place and lie."""
