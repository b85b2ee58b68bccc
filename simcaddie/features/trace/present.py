"""A tracing page as one object of data, schema "trace/1", and as one HTML file that needs nothing else."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from simcaddie.base import __version__
from simcaddie.base.cautions import BEFORE
from simcaddie.base.errors import BadFile, Fault
from simcaddie.base.surfaces import GROUND, SURFACES
from simcaddie.base.units import SHORT, YARDS_PER
from simcaddie.charts.palette import INK, MARKINGS, OPTION_COLOURS, PAPER, TROUBLE
from simcaddie.console.webpage import packed_text, webpage
from simcaddie.course.hole import TREE_DENSITY, TREE_HEIGHT
from simcaddie.course.outlines import MOST_PARTS, SAME, TOLERANCE
from simcaddie.io.hole import HoleFile, drawing_of
from simcaddie.io.hole_rules import HERE, LARGEST, MIN_AREA, MOST_GROUND, OWNERS, RULES, THERE
from simcaddie.io.schema import schema_text
from simcaddie.io.yaml_reader import comment_lines, parse, read_bytes, read_text
from simcaddie.io.yaml_writer import WIDTH

__all__ = ["Opened", "Picture", "open_hole", "open_picture", "trace_data", "trace_html"]

MAX_PICTURE: Final = 40_000_000  # bytes; the page grows by a third more
_SIGNS: Final = {"image/jpeg": (0, b"\xff\xd8\xff"), "image/png": (0, b"\x89PNG\r\n\x1a\n"), "image/webp": (8, b"WEBP")}


@dataclass(frozen=True, slots=True)
class Opened:
    """A hole file to be corrected, as it is drawn: its ``comments`` by line are lost, its ``faults`` can be mended."""

    file: str
    drawing: HoleFile
    comments: tuple[int, ...] = ()
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture to draw over; ``kind`` is its media type."""

    file: str
    kind: str
    content: bytes


def open_hole(path: Path) -> Opened:
    """Return a hole file with what is wrong with the hole as a whole.

    Raises
    ------
    BadFile
        Where it can't be read, or a part of it isn't what a hole file has there.

    """
    text = read_text(path)
    drawing, faults = drawing_of(parse(text, str(path)))
    return Opened(path.name, drawing, tuple(comment_lines(text)), tuple(faults))


def open_picture(path: Path) -> Picture:
    """Return a picture.

    Raises
    ------
    BadFile
        Where there is none, it is too large, or none that browsers show.

    """
    content = read_bytes(path, MAX_PICTURE)
    kind = next((kind for kind, (at, sign) in _SIGNS.items() if content[at : at + len(sign)] == sign), None)
    if kind is None:
        raise BadFile([Fault(str(path), 0, "", "a picture as JPEG, PNG or WebP", "another kind of file")])
    return Picture(path.name, kind, content)


def _kinds() -> list[dict[str, Any]]:
    """Return the kinds of ground; index = code, and the higher one wins."""
    return [
        {
            "name": kind.name, "title": kind.title, "fill": kind.drawing.fill, "edge": kind.drawing.edge,
            "hatch": kind.drawing.hatch, "dashed": kind.drawing.dashed, "penalty": kind.penalty, "out": kind.out,
            "canopy": kind.canopy, "putting": kind.putting, "stands": kind.stands, "inPlay": kind.in_play,
            "around": kind.around, "level": kind.level, "fairway": kind.fairway,
        }
        for kind in SURFACES
    ]  # fmt: skip


def trace_data(opened: Opened | None = None, picture: Picture | None = None) -> dict[str, Any]:
    """Return a tracing page as plain data, schema "trace/1"; the hole is text, so that its names keep their order."""
    hole = opened and json.dumps(opened.drawing.model_dump(mode="json", exclude_unset=True), ensure_ascii=False)
    mark = hashlib.sha256(f"{opened and opened.file}\n{hole}".encode())
    mark.update(picture.content if picture else b"")
    return {
        "schema": "trace/1",
        "program": f"simcaddie {__version__}",
        "id": mark.hexdigest()[:12],  # under which a device keeps the work on this page
        "caution": BEFORE,
        "kinds": _kinds(),
        "ground": GROUND,
        "rules": RULES,
        "places": {"here": HERE, "there": THERE},
        "owners": OWNERS,
        "limits": {"area": MIN_AREA, "size": LARGEST, "span": MOST_GROUND},
        "format": json.loads(schema_text("hole")),
        "curve": {"tolerance": TOLERANCE, "same": SAME, "mostParts": MOST_PARTS},
        "width": WIDTH,
        "trees": {"height": TREE_HEIGHT, "density": TREE_DENSITY},
        "perUnit": YARDS_PER,
        "short": SHORT,
        "colours": {
            "ink": INK,
            "paper": PAPER,
            "trouble": TROUBLE,
            "chosen": OPTION_COLOURS[0],
            "markings": MARKINGS,
        },
        "opened": opened and {"file": opened.file, "text": hole, "comments": opened.comments},
        "picture": picture and {"file": picture.file, "kind": picture.kind, "content": packed_text(picture.content)},
    }


def trace_html(data: dict[str, Any]) -> str:
    """Return a tracing page as one HTML file. The same data give the same bytes."""
    title = f"Trace {json.loads(data['opened']['text'])['name']}" if data["opened"] else "Trace a hole"
    return webpage("simcaddie.features.trace", "trace", data, title=title, scripts=("curve", "rules", "files"))
