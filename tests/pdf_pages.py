"""What stands in a PDF that matplotlib wrote: its pages' sizes, and the extents of shapes filled in a colour."""

from __future__ import annotations

import re
import zlib
from dataclasses import dataclass

NUMBER = re.compile(r"[-+]?\d*\.?\d+$")


@dataclass(frozen=True)
class Extent:
    """The box of one filled shape on its page, points."""

    left: float
    low: float
    right: float
    high: float

    @property
    def wide(self) -> float:
        return self.right - self.left

    @property
    def tall(self) -> float:
        return self.high - self.low


def page_sizes(content: bytes) -> list[tuple[float, float]]:
    """Return (width, height) of every page, points."""
    boxes = re.findall(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", content)
    assert len(boxes) == content.count(b"/Type /Page ")
    return [(float(wide), float(tall)) for wide, tall in boxes]


def page_streams(content: bytes) -> list[str]:
    """Return the drawing of every page, unpacked, in page order."""
    numbers = [int(number) for number in re.findall(rb"/Contents (\d+) 0 R", content)]
    found = []
    for number in numbers:
        (packed,) = re.findall(rb"\n%d 0 obj\n<<.*?>>\nstream\n(.*?)\nendstream" % number, content, re.DOTALL)
        found.append(zlib.decompress(packed).decode("latin-1"))
    return found


def filled(stream: str, colour: str) -> list[Extent]:
    """Return the extents of the shapes that a page fills in ``colour``, "#rrggbb"."""
    wanted = tuple(int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    fill, saved, points, numbers, found = (0.0, 0.0, 0.0), [], [], [], []
    for word in stream.split():
        if NUMBER.match(word):
            numbers.append(float(word))
            continue
        if word in ("rg", "g"):
            fill = tuple(numbers[-3:]) if word == "rg" else (numbers[-1],) * 3
        elif word == "q":
            saved.append(fill)
        elif word == "Q":
            fill = saved.pop()
        elif word in ("m", "l"):
            points.append(tuple(numbers[-2:]))
        elif word in ("f", "f*", "B", "B*", "b", "S", "s", "n"):
            near = max(abs(a - b) for a, b in zip(fill, wanted, strict=True)) < 1e-6
            if word not in ("S", "s", "n") and near and points:
                xs, ys = zip(*points, strict=True)
                found.append(Extent(min(xs), min(ys), max(xs), max(ys)))
            points = []
        numbers = []
    return found
