"""Writing the plain part of YAML as people do: short lists in brackets, long ones wrapped, comments where needed."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

__all__ = ["WIDTH", "comment", "flow", "number", "word", "wrapped"]

WIDTH: Final = 116

_PLAIN: Final = re.compile(r"(?:\d+ )?[^\W\d_](?:[\w'’.°()/&+ -]*[\w'’.°)])?")
_MEANS: Final = ("null", "true", "false", "yes", "no", "on", "off", "y", "n")  # to some readers of YAML no text


def number(value: float, decimals: int = 6) -> str:
    """Return a number without zeros that say nothing.

    >>> number(12.0), number(-0.04, 1), number(3.25, 1), number(7)
    ('12', '0', '3.2', '7')
    """
    rounded = round(float(value), decimals) + 0.0
    return str(int(rounded)) if rounded.is_integer() else f"{rounded:.{decimals}f}".rstrip("0")


def word(text: str) -> str:
    """Return text as a YAML scalar, in quotes only where it must be.

    >>> word("Adder's Hollow"), word("7 iron"), word("7"), word("a: b"), word("No")
    ("Adder's Hollow", '7 iron', '"7"', '"a: b"', '"No"')
    """
    if _PLAIN.fullmatch(text) and text.lower() not in _MEANS:
        return text
    return json.dumps(text, ensure_ascii=False)


def flow(value: Any, decimals: int = 1) -> str:
    """Return plain data on one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return word(value)
    if isinstance(value, int | float):
        return number(value, decimals)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{word(key)}: {flow(item, decimals)}" for key, item in value.items()) + "}"
    return "[" + ", ".join(flow(item, decimals) for item in value) + "]"


def wrapped(head: str, items: Sequence[str], tail: str, indent: int) -> str:
    """Return ``head``, the items with commas between, and ``tail``; lines after the first begin ``indent`` in."""
    lines, line = [], head
    for place, item in enumerate(items):
        piece = item + ("," if place < len(items) - 1 else tail)
        if len(line) + len(piece) + 1 > WIDTH and len(line) > indent:
            lines.append(line.rstrip())
            line = " " * indent
        line += piece + " "
    return "\n".join([*lines, line.rstrip()])


def comment(text: str, indent: int = 0) -> str:
    """Return comment lines, ending in a newline; '' for no text."""
    lines: list[str] = []
    lead = " " * indent + "# "
    for part in _words(text):
        if lines and len(lines[-1]) + 1 + len(part) <= WIDTH:
            lines[-1] += " " + part
        else:
            lines.append(lead + part)
    return "".join(f"{line}\n" for line in lines)


def _words(text: str) -> Iterable[str]:
    return "".join(c if c.isprintable() else " " for c in text).split()
