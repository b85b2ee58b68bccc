"""The report on a map, hole by hole: what was found, what was assumed, what is missing."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from typing import Any, Final

from simcaddie.base.records import picked
from simcaddie.base.units import SHORT, YARDS_PER
from simcaddie.console.document import Document, Text
from simcaddie.features.open_map.draft import HoleDraft
from simcaddie.features.open_map.whole import MapDraft

__all__ = ["present", "report_data"]

WIDTH: Final = 80
_MANY: Final = {"light_rough": "light rough", "trees": "woods"} | {kind: kind for kind in ("water", "heather", "gorse")}


def _counted(kind: str, count: int) -> str:
    """Return a count in words.

    >>> _counted("bunker", 3), _counted("green", 1), _counted("water", 2)
    ('3 bunkers', '1 green', 'water (2)')
    """
    if kind in _MANY:
        return f"{_MANY[kind]} ({count})" if count > 1 else _MANY[kind]
    title = kind.replace("_", " ")
    return f"{count} {title}" + ("s" if count > 1 and title != "out of bounds" else "")


def _everywhere(lists: Iterable[list[str]]) -> list[str]:
    """Return what stands in all of several lists, in order; nothing for a single list."""
    rows = [*lists]
    return [text for text in rows[0] if all(text in row for row in rows)] if len(rows) > 1 else []


def _paragraph(title: str, texts: list[str]) -> list[str]:
    """Return lines for the texts under a title, indented."""
    if not texts:
        return []
    lead = f"  {title:9}"
    return textwrap.wrap("; ".join(texts), WIDTH, initial_indent=lead, subsequent_indent=" " * len(lead))


def _length(draft: HoleDraft) -> str:
    units = draft.hole.units if draft.hole else "yards"
    return f"{draft.length / YARDS_PER[units]:.0f} {SHORT[units]}"


def _hole_lines(draft: HoleDraft, common: list[str]) -> list[str]:
    if draft.hole is None:
        return [f"hole {draft.ref}, {_length(draft)}: not made", *_paragraph("missing", draft.missing)]
    found = [_counted(kind, count) for kind, count in draft.found.items()]
    index = f", stroke index {draft.hole.stroke_index}" if draft.hole.stroke_index else ""
    return [
        f"hole {draft.ref}, par {draft.hole.par}{index}, {_length(draft)}: {draft.stem}.yaml",
        *_paragraph("found", [", ".join(found)]),
        *_paragraph("assumed", [text for text in draft.assumed if text not in common]),
        *_paragraph("missing", [text for text in draft.missing if text not in common]),
        *_paragraph("note", draft.said),
    ]


def present(draft: MapDraft, file: str) -> Document:
    """Return the report on the map in ``file``."""
    made = [hole for hole in draft.holes if hole.hole is not None]
    title = f"{draft.name}: " if draft.name else ""
    count = f"{len(made)} of {len(draft.holes)} holes made" if draft.holes else "no holes made"
    guess = " (assumed: the file doesn't say)" if draft.source_assumed else ""
    head = (f"{title}{count} from {file}", f"{draft.source}{guess}")
    lines = [*(line for text in head for line in textwrap.wrap(text, WIDTH, break_long_words=False)), ""]
    assumed, missing = (_everywhere(part) for part in ([h.assumed for h in made], [h.missing for h in made]))
    for hole in draft.holes:
        lines += _hole_lines(hole, [*assumed, *missing])
    if assumed or missing:
        lines += ["every hole", *_paragraph("assumed", assumed), *_paragraph("missing", missing)]
    if draft.said:
        lines.append("the map")
        for text in draft.said:
            lines += textwrap.wrap(text, WIDTH, initial_indent="  – ", subsequent_indent="    ")
    return [Text(line, whole=True) for line in lines]


def report_data(draft: MapDraft, file: str) -> dict[str, Any]:
    """Return the report as data, schema "import-map/1"; lengths in yards."""
    return {
        "schema": "import-map/1",
        "map": file,
        **picked(draft, course="name", source="source", source_assumed="source_assumed"),
        "holes": [_hole_data(hole) for hole in draft.holes],
        "notes": draft.said,
    }


def _hole_data(draft: HoleDraft) -> dict[str, Any]:
    made = {"file": f"{draft.stem}.yaml", **picked(draft.hole, "name par")} if draft.hole else {}
    return {
        "hole": draft.ref,
        **(dict.fromkeys(("file", "name", "par")) | made),
        **picked(draft, length_yd="length", found="found", assumed="assumed", missing="missing", notes="said"),
    }
