"""The ground of one hole: what lies near its line, cut to what a ball can reach, in the hole's own frame.

Bunkers, water, woods and fairways count whosever hole they belong to. Of the greens only the hole's own counts: another
hole's is a wrong green, from which Rule 13.1f gives free relief, so that it is left as the ground around it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from simcaddie.ground.hole import TREE_DENSITY, TREE_HEIGHT, Area
from simcaddie.mapdata.draft import Drawn, HoleDraft
from simcaddie.mapdata.match import Matched
from simcaddie.mapdata.meaning import number_in, yards_in
from simcaddie.mapdata.outlines import polygons_in, readable
from simcaddie.mapdata.survey import Placed, Survey
from simcaddie.surfaces import code
from simcaddie.units import METRES_PER_YARD

__all__ = ["CORRIDOR", "REACH", "Wishes", "area_of", "clean_name", "drawn_areas"]

REACH: Final = 75.0  # yd aside of the line that a ball may come to; common practice, no source
CORRIDOR: Final = 90.0  # yd aside of the line, where large areas are cut off
WHOLE: Final = ("bunker", "green", "tee")  # small enough to be never cut


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the person who imports a map may choose: the colour of stakes where the map has none, and units."""

    water: str = ""
    units: str = "yards"
    step: float = 0.1  # yd between the numbers written


def clean_name(text: str, most: int = 80) -> str:
    """Return a tag as a name: printable, on one line, not too long."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())[:most].strip()


def drawn_areas(
    made: Survey, matched: Matched, draft: HoleDraft, wishes: Wishes, within: Polygon | None = None
) -> list[Drawn]:
    """Return the areas of a hole, those that win where they overlap last; notes go to the draft.

    What lies wholly outside ``within`` is left out: it is out of bounds.
    """
    corridor = draft.line.buffer(CORRIDOR)
    drawn: list[Drawn] = []
    skipped: Counter[str] = Counter()
    near = made.near(matched.hole.line, REACH)
    own = [placed for placed in (matched.green, *matched.tees) if placed and placed not in near]
    for placed in (*near, *(p for p in own if isinstance(p.shape, Polygon))):
        why_not = _why_not(placed, matched, made)
        if why_not is None:
            pieces = [
                piece
                for piece in _pieces(made, placed, draft, corridor, wishes)
                if within is None or within.intersects(piece.area.outline)
            ]
            drawn += pieces
            if pieces:
                _note(placed, draft, wishes)
        elif why_not:
            skipped[why_not] += 1
    if skipped:
        draft.say("left out: " + ", ".join(f"{what} ({count})" for what, count in skipped.items()))
    return sorted(drawn, key=lambda item: code(item.area.kind))


def _why_not(placed: Placed, matched: Matched, made: Survey) -> str | None:
    """Return None for what belongs to a hole, '' for what is no matter, else why it is left out."""
    kind = placed.meaning.kind
    elsewhere = placed.holes and matched.hole.ref not in placed.holes
    if elsewhere or (kind == "out_of_bounds" and placed.shape.covers(matched.hole.line)):  # the latter: see bounds
        return ""
    if kind == "rough":
        return "rough outlines, since outside every area is rough"
    if kind == "green" and placed is not matched.green:
        return "greens of other holes"
    if kind == "tee" and placed not in matched.tees:
        return "tees of other holes"
    if "grass" in placed.meaning.assumed and any(placed.shape.covers(green.shape) for green in made.greens()):
        return "grass around greens and all"
    return None


def _pieces(
    made: Survey, placed: Placed, draft: HoleDraft, corridor: BaseGeometry, wishes: Wishes
) -> Iterator[Drawn]:
    shape = draft.frame.shape_from(made.frame, placed.shape)
    parts = _assumptions(placed, wishes)
    remarks = [f"assumed: {'; '.join(parts)}"] if parts else []
    if placed.crossed:
        remarks.append("mended: the outline crossed itself")
    if placed.meaning.kind not in WHOLE and not corridor.covers(shape):
        shape = shape.intersection(corridor)
        remarks.append(f"cut off {CORRIDOR:.0f} yd from the line")
    for whole in polygons_in(shape):
        for polygon in readable(whole, wishes.step):
            yield Drawn(area_of(placed, polygon, wishes), "; ".join(remarks))


def area_of(placed: Placed, polygon: Polygon, wishes: Wishes) -> Area:
    """Return the area of a feature."""
    kind = placed.meaning.kind
    height = yards_in(placed.tags.get("height"))
    density = number_in(placed.tags.get("density"))
    trees = kind == "trees"
    return Area(
        kind=kind,
        outline=polygon,
        name=clean_name(placed.tags.get("name", "")) if kind != "tee" or placed.holes else "",
        marking=(placed.meaning.marking or wishes.water or "red") if kind == "water" else "",
        height=(height if height and 0.0 < height < 80.0 else TREE_HEIGHT) if trees else 0.0,
        density=(density if density is not None and 0.0 <= density <= 1.0 else TREE_DENSITY) if trees else 0.0,
    )


def _assumptions(placed: Placed, wishes: Wishes) -> list[str]:
    """Return what the map doesn't tell about an area."""
    meaning = placed.meaning
    parts = [meaning.assumed] if meaning.assumed else []
    if meaning.kind == "water" and not meaning.marking and not wishes.water:
        parts.append("red, the map has no marking")
    if placed.widened and not meaning.width_told:
        parts.append(f"{meaning.width * METRES_PER_YARD:g} m wide, the map has no width")
    if meaning.kind == "trees":
        high = "" if yards_in(placed.tags.get("height")) else f"{TREE_HEIGHT:g} yd high"
        dense = "" if number_in(placed.tags.get("density")) is not None else f"density {TREE_DENSITY:g}"
        parts += [" and ".join(part for part in (high, dense) if part)] if high or dense else []
    return parts


def _note(placed: Placed, draft: HoleDraft, wishes: Wishes) -> None:
    """Note for the report that an area was found, and what was assumed about it."""
    kind = placed.meaning.kind
    draft.found[kind] = draft.found.get(kind, 0) + 1
    for part in _assumptions(placed, wishes):
        if (text := f"{kind.replace('_', ' ')}: {part}") not in draft.assumed:
            draft.assumed.append(text)
    if placed.crossed:
        draft.say(f"mended: the outline of {placed.label}, {kind.replace('_', ' ')}, crossed itself")
