"""The ground of one hole: what lies near its line, in the hole's own frame, and the boundary where it ends.

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
from shapely.ops import split

from simcaddie.base.surfaces import BY_NAME, GROUND, OUT, code
from simcaddie.base.units import METRES_PER_YARD
from simcaddie.course.hole import TREE_DENSITY, TREE_HEIGHT, Area
from simcaddie.features.open_map.draft import Drawn, HoleDraft, Matched
from simcaddie.features.open_map.survey import Placed, Survey, polygons_in, readable
from simcaddie.features.open_map.tags import number_in, yards_in

__all__ = ["CORRIDOR", "REACH", "Wishes", "area_of", "boundary_of", "clean_name", "drawn_areas"]

REACH: Final = 75.0  # yd aside of the line that a ball may come to; common practice, no source
CORRIDOR: Final = 90.0  # yd aside of the line, where large areas are cut off


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
    surface = BY_NAME[placed.meaning.kind]
    elsewhere = placed.holes and matched.hole.ref not in placed.holes
    if elsewhere or (surface.out and placed.shape.covers(matched.hole.line)):  # the latter: see bounds
        return ""
    if surface.name == GROUND:
        return "rough outlines, since outside every area is rough"
    if surface.putting and placed is not matched.green:
        return "greens of other holes"
    if surface.level and placed not in matched.tees:
        return "tees of other holes"
    if "grass" in placed.meaning.assumed and any(placed.shape.covers(green.shape) for green in made.greens()):
        return "grass around greens and all"
    return None


def _pieces(made: Survey, placed: Placed, draft: HoleDraft, corridor: BaseGeometry, wishes: Wishes) -> Iterator[Drawn]:
    shape = draft.frame.shape_from(made.frame, placed.shape)
    parts = _assumptions(placed, wishes)
    remarks = [f"assumed: {'; '.join(parts)}"] if parts else []
    if placed.crossed:
        remarks.append("mended: the outline crossed itself")
    if not BY_NAME[placed.meaning.kind].whole and not corridor.covers(shape):
        shape = shape.intersection(corridor)
        remarks.append(f"cut off {CORRIDOR:.0f} yd from the line")
    for whole in polygons_in(shape):
        for polygon in readable(whole, wishes.step):
            yield Drawn(area_of(placed, polygon, wishes), "; ".join(remarks))


def area_of(placed: Placed, polygon: Polygon, wishes: Wishes) -> Area:
    """Return the area of a feature."""
    surface = BY_NAME[placed.meaning.kind]
    height = yards_in(placed.tags.get("height"))
    density = number_in(placed.tags.get("density"))
    return Area(
        kind=surface.name,
        outline=polygon,
        name=clean_name(placed.tags.get("name", "")) if not surface.level or placed.holes else "",
        marking=(placed.meaning.marking or wishes.water or "red") if surface.penalty else "",
        height=(height if height and 0.0 < height < 80.0 else TREE_HEIGHT) if surface.canopy else 0.0,
        density=(density if density is not None and 0.0 <= density <= 1.0 else TREE_DENSITY) if surface.canopy else 0.0,
    )


def _assumptions(placed: Placed, wishes: Wishes) -> list[str]:
    """Return what the map doesn't tell about an area."""
    meaning, surface = placed.meaning, BY_NAME[placed.meaning.kind]
    parts = [meaning.assumed] if meaning.assumed else []
    if surface.penalty and not meaning.marking and not wishes.water:
        parts.append("red, the map has no marking")
    if placed.widened and not meaning.width_told:
        parts.append(f"{meaning.width * METRES_PER_YARD:g} m wide, the map has no width")
    if surface.canopy:
        high = "" if yards_in(placed.tags.get("height")) else f"{TREE_HEIGHT:g} yd high"
        dense = "" if number_in(placed.tags.get("density")) is not None else f"density {TREE_DENSITY:g}"
        parts += [" and ".join(part for part in (high, dense) if part)] if high or dense else []
    return parts


def _note(placed: Placed, draft: HoleDraft, wishes: Wishes) -> None:
    """Note for the report that an area was found, and what was assumed about it."""
    kind = placed.meaning.kind
    draft.found[kind] = draft.found.get(kind, 0) + 1
    for part in _assumptions(placed, wishes):
        if (text := f"{BY_NAME[kind].title}: {part}") not in draft.assumed:
            draft.assumed.append(text)
    if placed.crossed:
        draft.say(f"mended: the outline of {placed.label}, {BY_NAME[kind].title}, crossed itself")


# ─── Where it ends: a course's outline, a drawn boundary, or a line of stakes ─────────────────────────────────────────

LIMIT: Final = 200.0  # yd aside of the line up to which a course's limit is looked at: no ball gets further off


def _limits(made: Survey, matched: Matched) -> tuple[Placed | None, bool]:
    """Return the outline within which a hole is played, and whether it was drawn to be one."""
    line = matched.hole.line
    mine = [b for b in made.boundaries if not b.holes or matched.hole.ref in b.holes]
    stakes = [area for area in made.areas if area.meaning.kind == OUT]
    for limit in (*mine, *stakes):
        if limit.shape.covers(line):
            return limit, True
    around = [course for course in made.courses if course.shape.intersects(line)]
    return min(around, key=lambda course: float(course.shape.area), default=None), False


def boundary_of(made: Survey, matched: Matched, draft: HoleDraft, wishes: Wishes) -> tuple[Polygon | None, list[Drawn]]:
    """Return the boundary of a hole, None where it ends nowhere near, and what is out of bounds inside it."""
    around = draft.line.buffer(LIMIT, quad_segs=6)
    needed = [draft.line, *(draft.frame.shape_from(made.frame, p.shape) for p in (matched.green, *matched.tees) if p)]
    inside, within = _limited(made, matched, draft, around, needed)
    staked = _unstaked(made, matched, draft, inside, needed)
    pieces = [p for p in readable(staked, wishes.step) if all(p.covers(n) for n in needed)]
    if staked.equals(around) or not pieces:
        return None, []
    if staked.exterior.intersection(around.exterior).length > 1.0:
        said = [draft.remarks["boundary"]] if "boundary" in draft.remarks else []
        draft.remarks["boundary"] = "; ".join([*said, f"cut off {LIMIT:.0f} yd from the line"])
    ground = [Polygon(ring).intersection(draft.line.buffer(CORRIDOR)) for ring in within]
    return pieces[0], [_out(p) for ring in ground for piece in polygons_in(ring) for p in readable(piece, wishes.step)]


def _limited(
    made: Survey, matched: Matched, draft: HoleDraft, around: Polygon, needed: list[BaseGeometry]
) -> tuple[Polygon, list[BaseGeometry]]:
    """Return the surroundings of a hole cut to the outline that it is played within, and that outline's inner rings."""
    limit, drawn = _limits(made, matched)
    if limit is None:
        return around, []
    shape = draft.frame.shape_from(made.frame, limit.shape)
    whole = Polygon(shape.exterior)
    if whole.covers(around):
        return around, list(shape.interiors)
    inside = [piece for piece in polygons_in(whole.intersection(around)) if all(piece.covers(n) for n in needed)]
    if not inside:
        draft.say(f"no boundary: the hole reaches over the outline {limit.label} of the course")
        return around, []
    if not drawn:
        draft.assume("boundary", "out of bounds is beyond the course's outline")
    return inside[0], list(shape.interiors)


def _unstaked(made: Survey, matched: Matched, draft: HoleDraft, inside: Polygon, needed: list[BaseGeometry]) -> Polygon:
    """Return what is left of the ground on the hole's side of every line of stakes."""
    for stakes in made.stakes:
        line = draft.frame.shape_from(made.frame, stakes.shape)
        if not line.intersects(inside) or (stakes.holes and matched.hole.ref not in stakes.holes):
            continue
        sides = [side for side in polygons_in(split(inside, line)) if all(side.covers(n) for n in needed)]
        if not sides or sides[0].equals(inside):
            draft.say(f"left out: the line {stakes.label} of out of bounds, which doesn't part the hole from anything")
            continue
        inside = sides[0]
        draft.assume("boundary", "out of bounds is the far side of a line of stakes")
    return inside


def _out(polygon: Polygon) -> Drawn:
    return Drawn(Area(OUT, polygon), "assumed: not of the course, whose outline leaves it out")
