"""Where a hole ends: out of bounds from a course's outline, a drawn boundary, or a line of stakes."""

from __future__ import annotations

from typing import Final

from shapely import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import split

from simcaddie.ground.hole import Area
from simcaddie.mapdata.areas import CORRIDOR, Wishes
from simcaddie.mapdata.draft import Drawn, HoleDraft
from simcaddie.mapdata.match import Matched
from simcaddie.mapdata.outlines import polygons_in, readable
from simcaddie.mapdata.survey import Placed, Survey

__all__ = ["boundary_of"]

LIMIT: Final = 200.0  # yd aside of the line up to which a course's limit is looked at: no ball gets further off


def _limits(made: Survey, matched: Matched) -> tuple[Placed | None, bool]:
    """Return the outline within which a hole is played, and whether it was drawn to be one."""
    line = matched.hole.line
    mine = [b for b in made.boundaries if not b.holes or matched.hole.ref in b.holes]
    stakes = [area for area in made.areas if area.meaning.kind == "out_of_bounds"]
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


def _unstaked(
    made: Survey, matched: Matched, draft: HoleDraft, inside: Polygon, needed: list[BaseGeometry]
) -> Polygon:
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
    return Drawn(Area("out_of_bounds", polygon), "assumed: not of the course, whose outline leaves it out")
