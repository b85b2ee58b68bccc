"""Where a hole ends: out of bounds from a course's outline, a drawn boundary, or a line of stakes."""

from __future__ import annotations

from typing import Final

import shapely
from shapely import Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import split

from simcaddie.ground.hole import Area
from simcaddie.mapdata.areas import CORRIDOR, Wishes
from simcaddie.mapdata.draft import Drawn, HoleDraft
from simcaddie.mapdata.match import Matched
from simcaddie.mapdata.outlines import polygons_in, readable
from simcaddie.mapdata.survey import Placed, Survey

__all__ = ["boundary_of", "staked_off"]

LIMIT: Final = 200.0  # yd aside of the line up to which a course's limit is looked at; common practice, no source


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
    limit, drawn = _limits(made, matched)
    if limit is None:
        return None, []
    shape = draft.frame.shape_from(made.frame, limit.shape)
    around = draft.line.buffer(LIMIT, quad_segs=6)
    if shape.covers(around):
        return None, []
    needed = [draft.line, *(draft.frame.shape_from(made.frame, p.shape) for p in (matched.green, *matched.tees) if p)]
    whole = Polygon(shape.exterior)
    inside = [piece for piece in polygons_in(whole.intersection(around)) if all(piece.covers(n) for n in needed)]
    pieces = [p for piece in inside for p in readable(piece, wishes.step) if all(p.covers(n) for n in needed)]
    if not pieces:
        draft.say(f"no boundary: the hole reaches over the outline {limit.label} of the course")
        return None, []
    if not drawn:
        draft.assume("boundary", "out of bounds is beyond the course's outline")
    cut = "" if whole.covers(around) else f"cut off {LIMIT:.0f} yd from the line"
    if cut and drawn:
        draft.remarks["boundary"] = cut
    elif cut:
        draft.remarks["boundary"] += f"; {cut}"
    within = [Polygon(ring).intersection(draft.line.buffer(CORRIDOR)) for ring in shape.interiors]
    return pieces[0], [_out(p) for ring in within for piece in polygons_in(ring) for p in readable(piece, wishes.step)]


def _out(polygon: Polygon, remark: str = "") -> Drawn:
    return Drawn(Area("out_of_bounds", polygon), remark)


def staked_off(made: Survey, matched: Matched, draft: HoleDraft, wishes: Wishes) -> list[Drawn]:
    """Return what lies beyond lines of stakes: the side of each that the hole's line isn't on."""
    corridor: BaseGeometry = draft.line.buffer(CORRIDOR)
    found = []
    for stakes in made.stakes:
        line = draft.frame.shape_from(made.frame, stakes.shape)
        if not line.intersects(corridor) or (stakes.holes and matched.hole.ref not in stakes.holes):
            continue
        sides = polygons_in(split(corridor, line))
        beyond = [side for side in sides if not side.intersects(draft.line)]
        if not beyond or shapely.union_all(beyond).intersects(Point(0, 0)):
            draft.say(f"left out: the line {stakes.label} of out of bounds, which doesn't part the hole from anything")
            continue
        found += [
            _out(p, "assumed: out of bounds is the far side of the line")
            for s in beyond
            for p in readable(s, wishes.step)
        ]
    return found
