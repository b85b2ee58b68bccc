"""Files spoilt by chance: sound ones with a few pieces changed, as slips and as malice would."""

from __future__ import annotations

import re

import numpy as np

__all__ = ["mutant"]

NUMBERS = (
    "0", "-1", "1", "1e9", "-1e9", "1e-9", "1e308", "1e999", ".nan", ".inf", "-.inf", "nan", "4000", "2000", "450",
    "0.5", "9" * 30, "0x1F", "1_000", "+3", "1,5", "NaN", "½", "٣", "-0.0", "1e-320",
)  # fmt: skip
TEXTS = (
    "", "null", "true", "[]", "{}", "[[]]", "~", "''", '"', "'", "x" * 300, "ü" * 81, "\t", "  ", "\0", "\x07",
    "\ufeff", "\u2028", "\u202e", "\ud7ff", "😀", "&a", "*a", "!!python/object:os.system", "---", "...", "#", ": ",
    "- ", "../..",
    "/etc/passwd", "%s%n", "{x}", "<script>", "\r", "|", ">", "yes", "12:30", "2020-01-01", "driver", "putter", "full",
    "7 iron", "L", "R", "12 yd", "m",
)  # fmt: skip


def _piece(rng: np.random.Generator, text: str, pattern: str) -> tuple[int, int]:
    """Return where one of the pieces of a text is that match a pattern; nowhere at a place by chance."""
    found = [match.span() for match in re.finditer(pattern, text)]
    at = int(rng.integers(len(text) + 1))
    return found[rng.integers(len(found))] if found else (at, at)


def _once(rng: np.random.Generator, text: str) -> str:
    how = rng.integers(9)
    if how <= 2:
        start, end = _piece(rng, text, r"-?\d+(\.\d+)?")
        near = f"{float(rng.normal(0, 300)):.{rng.integers(3)}f}"
        return text[:start] + (near if rng.random() < 0.5 else str(rng.choice(NUMBERS))) + text[end:]
    if how == 3:
        start, end = _piece(rng, text, r"[A-Za-z_]\w*")
        return text[:start] + TEXTS[rng.integers(len(TEXTS))] + text[end:]
    if how == 4:
        at = int(rng.integers(len(text) + 1))
        return text[:at] + TEXTS[rng.integers(len(TEXTS))] + text[at:]
    if how == 5:
        start, end = sorted(int(each) for each in rng.integers(len(text) + 1, size=2))
        return text[:start] + text[min(end, start + 80) :]
    lines = text.splitlines(keepends=True)
    one, other = rng.integers(len(lines), size=2) if lines else (0, 0)
    if not lines:
        return text
    if how == 6:
        lines[one], lines[other] = lines[other], lines[one]
    elif how == 7:
        lines.insert(int(one), lines[other] * int(rng.choice((1, 1, 2, 50))))
    else:
        lines[one] = " " * int(rng.integers(9)) + lines[one].lstrip(" ")
    return "".join(lines)


def mutant(text: str, seed: int) -> bytes:
    """Return a text with one to four changes; the same seed gives the same bytes."""
    rng = np.random.default_rng(seed)
    for _ in range(int(rng.choice((1, 1, 1, 2, 4)))):
        text = _once(rng, text)
    content = text.encode("utf-8", "surrogatepass")
    if rng.random() < 0.03:
        at = int(rng.integers(len(content) + 1))
        content = content[:at] + bytes(rng.integers(256, size=3, dtype=np.uint8)) + content[at:]
    return content
