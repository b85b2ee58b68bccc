"""All holes of a map: which course, which lines, which numbers, and what of the map no hole could use."""

from __future__ import annotations

import math
import re
from collections.abc import Collection
from dataclasses import dataclass, field, replace
from typing import Any, Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from simcaddie.base.errors import BadRequest
from simcaddie.base.surfaces import GROUND, TEE
from simcaddie.base.units import METRES_PER_YARD, YARDS_PER
from simcaddie.course.hole import Area, Hole, Landmark, Point, Spot
from simcaddie.features.open_map.areas import Wishes, area_of, clean_name, drawn_areas
from simcaddie.features.open_map.build import build, start_draft
from simcaddie.features.open_map.draft import Drawn, HoleDraft, Matched, match_holes
from simcaddie.features.open_map.globe import Frame
from simcaddie.features.open_map.survey import HoleLine, Placed, Survey, survey
from simcaddie.features.open_map.tags import MapData, Tags, number_in

__all__ = ["MapDraft", "draft_map"]

NO_NUMBER = "the number, by the order of lines, the map has none"


@dataclass(slots=True)
class MapDraft:
    """What a map gives: its name and source, a draft for every hole line asked for, and notes on the rest."""

    name: str
    source: str
    source_assumed: bool
    holes: list[HoleDraft] = field(default_factory=list)
    said: list[str] = field(default_factory=list)


def draft_map(data: MapData, wishes: Wishes, numbers: Collection[int] | None = None, course: str = "") -> MapDraft:
    """Return the drafts of a map's holes.

    Parameters
    ----------
    data : the map
    wishes : units and the like
    numbers : only holes with these numbers; None for all
    course : the course's name, where the map has several

    Raises
    ------
    BadRequest
        Where the map has several courses and none is named, or has none of the holes asked for.

    """
    made = survey(data)
    lines = _of_course(made, course)
    made.lines = _numbered([line for line in made.lines if line in lines])
    found = _in_order(match_holes(made))
    wanted = [m for m in found if numbers is None or (m.hole.ref.isdigit() and int(m.hole.ref) in numbers)]
    if not wanted and made.lines:
        known = ", ".join(m.hole.ref for m in found)
        raise BadRequest(f"--holes: the map has no such hole line; it has {known}")
    name = next((line.course for line in made.lines if line.course), "") or data.name
    draft = MapDraft(name, data.source, data.source_assumed)
    for matched in wanted:
        make = build_exported if was_exported(matched.hole.tags) else build
        draft.holes.append(make(made, matched, matched.hole.ref, wishes))
        if "_numbered" in matched.hole.tags:
            draft.holes[-1].assume("name", NO_NUMBER)
    _look_over(made, found, numbers, draft)
    return draft


def _of_course(made: Survey, course: str) -> list[HoleLine]:
    """Return the hole lines of one course; lines outside all outlines count as its own where it is the only one."""
    names = sorted({line.course for line in made.lines if line.course})
    if course:
        if course not in names:
            raise BadRequest(f"--course: the map has no course '{course}' with hole lines; it has {_listed(names)}")
        return [line for line in made.lines if line.course == course]
    if len(names) > 1:
        raise BadRequest(f"the map has {len(names)} courses: choose one with --course, out of {_listed(names)}")
    return made.lines


def _listed(names: list[str]) -> str:
    return ", ".join(f"'{name}'" for name in names[:30]) + (", …" if len(names) > 30 else "") if names else "none"


def _plain_ref(ref: str) -> str:
    """Return a hole's number without zeros before it, or a short text where it is none.

    >>> _plain_ref("07"), _plain_ref(" 12 "), _plain_ref("A 3/x")
    ('7', '12', 'a-3-x')
    """
    ref = ref.strip()
    return str(int(ref)) if re.fullmatch(r"\d{1,3}", ref) else re.sub(r"[^a-z0-9]+", "-", ref.lower()).strip("-")[:20]


def _numbered(lines: list[HoleLine]) -> list[HoleLine]:
    """Return the hole lines, each with a number of its own: those without get the next free one."""
    taken = {_plain_ref(line.ref) for line in lines}
    seen: set[str] = set()
    numbered = []
    for line in lines:
        ref, tags = _plain_ref(line.ref), line.tags
        if not ref:
            ref = next(str(n) for n in range(1, 10_000) if str(n) not in taken | seen)
            tags = {**tags, "_numbered": "yes"}
        elif ref in seen:
            ref = next(f"{ref}-{n}" for n in range(2, 10_000) if f"{ref}-{n}" not in taken | seen)
        seen.add(ref)
        numbered.append(replace(line, ref=ref, tags=tags))
    return numbered


def _in_order(found: list[Matched]) -> list[Matched]:
    def rank(matched: Matched) -> tuple[int, str]:
        number = re.match(r"\d+", matched.hole.ref)
        return (int(number[0]) if number else 10_000, matched.hole.ref)

    return sorted(found, key=rank)


def _look_over(made: Survey, found: list[Matched], numbers: Collection[int] | None, draft: MapDraft) -> None:
    """Note what of the map no hole line leads to."""
    if not made.lines:
        draft.said.append("no hole lines: draw one per hole, tee to green, with golf=hole (or kind: hole) and ref=1 …")
    known = {matched.hole.ref for matched in found}
    if absent := [str(number) for number in sorted(numbers or ()) if str(number) not in known]:
        draft.said.append(f"no hole line for {', '.join(absent)}")
    if any(note.startswith("left out") and "of other holes" in note for hole in draft.holes for note in hole.said):
        draft.said.append("other holes' greens count as the ground around them (free relief there, Rule 13.1f)")
    used = {id(matched.green) for matched in found}
    if lonely := [green for green in made.greens() if id(green) not in used]:
        many = "a green" if len(lonely) == 1 else f"{len(lonely)} greens"
        draft.said.append(f"{many} at no hole line's end (practice greens, or hole lines that are still to be drawn)")
    for what, count in sorted(made.left_out.items()):
        draft.said.append(f"not used: {what}" + (f" ({count})" if count > 1 else ""))


# ─── What export-map wrote, taken back as it was: nothing simplified or guessed ───────────────────────────────────────
#
# Such a hole's line carries its frame (``origin_lon``, ``origin_lat``, ``bearing``), and every feature the number of
# its hole (``hole``). What was drawn on top of it in a map editor carries none, and comes in as from any other map.

DECIMALS: Final = 3  # places of lengths: what comes back differs by no more than half of one
_FRAME: Final = ("origin_lon", "origin_lat", "bearing")


def was_exported(tags: Tags) -> bool:
    """Tell whether a hole line comes from ``export-map``."""
    return all(number_in(tags.get(key)) is not None for key in _FRAME)


def build_exported(made: Survey, matched: Matched, ref: str, wishes: Wishes) -> HoleDraft:
    """Return the draft of a hole that was exported."""
    tags = matched.hole.tags
    lon, lat, bearing = (float(tags[key]) for key in _FRAME)
    draft = start_draft(made, matched.hole, ref, Frame(lon, lat, bearing))
    draft.decimals = DECIMALS
    mine = [placed for placed in made.areas if ref in placed.holes]
    extra = _extra_areas(made, matched, draft, wishes)
    drawn = [*(d for placed in mine for d in _areas(made, draft, placed)), *extra]
    draft.area_remarks = [item.remark for item in drawn]
    points = {role: _points(made, draft, ref, role) for role in ("pin", "landmark", "spot", "height", TEE)}
    for what in (TEE, "pin"):
        if not points[what]:
            draft.missing.append(f"a {what} with `hole: {ref}`")
    if not any(item.area.surface.putting for item in drawn):
        draft.missing.append(f"a green with `hole: {ref}`")
    for item in drawn:
        draft.found[item.area.kind] = draft.found.get(item.area.kind, 0) + 1
    if not draft.missing:
        draft.hole = _hole(made, matched, draft, tuple(item.area for item in drawn), points)
    return draft


def _extra_areas(made: Survey, matched: Matched, draft: HoleDraft, wishes: Wishes) -> list[Drawn]:
    """Return what lies near the hole without belonging to any exported one."""
    free = Survey(made.frame, areas=[placed for placed in made.areas if not placed.holes])
    others = Matched(matched.hole, None, (), ())
    return drawn_areas(free, others, draft, wishes) if free.areas else []


def _areas(made: Survey, draft: HoleDraft, placed: Placed) -> list[Drawn]:
    shape = draft.frame.shape_from(made.frame, placed.shape)
    if not isinstance(shape, Polygon):  # unreachable: the survey keeps polygons only
        return []
    percent, toward = number_in(placed.tags.get("tilt")), number_in(placed.tags.get("tilt_toward"))
    area = area_of(placed, shape, Wishes())
    if area.surface.putting and percent is not None and toward is not None:
        turn = math.remainder(toward - draft.frame.bearing, 360.0)
        area = Area(area.kind, area.outline, area.name, tilt=(percent, math.radians(turn)))
    return [Drawn(area, "mended: the outline crossed itself" if placed.crossed else "")]


def _points(made: Survey, draft: HoleDraft, ref: str, role: str) -> list[tuple[Placed, Point]]:
    """Return the points of a hole with a role, in its frame."""
    placed = [p for p in made.points if ref in p.holes and role in {p.meaning.role, p.meaning.kind}]
    at = [shapely.get_coordinates(draft.frame.shape_from(made.frame, p.shape))[0] for p in placed]
    return [(p, (float(x), float(y))) for p, (x, y) in zip(placed, at, strict=True)]


def _name(placed: Placed) -> str:
    return clean_name(placed.tags.get("name", "")) or "unnamed"


def _heights(points: list[tuple[Placed, Point]]) -> NDArray[np.float64] | None:
    rows = [(*at, number_in(placed.tags.get("height"))) for placed, at in points]
    known = [(x, y, high / METRES_PER_YARD) for x, y, high in rows if high is not None]
    return np.array(known) if known else None


def _hole(made: Survey, matched: Matched, draft: HoleDraft, areas: tuple[Area, ...], points: dict[str, Any]) -> Hole:
    tags = matched.hole.tags
    index, par = number_in(tags.get("stroke_index")), number_in(tags.get("par"))
    limit = next((b for b in made.boundaries if draft.ref in b.holes), None)
    boundary = draft.frame.shape_from(made.frame, limit.shape) if limit else None
    units = tags.get("units", "yards")
    return Hole(
        name=clean_name(tags.get("name", "")) or f"Hole {draft.ref}",
        par=int(par) if par in (3, 4, 5, 6) else 4,
        stroke_index=int(index) if index is not None else None,
        tees={_name(placed): at for placed, at in points[TEE]},
        pins={_name(placed): at for placed, at in points["pin"]},
        areas=areas,
        bearing=draft.frame.bearing,
        line=() if tags.get("line") == "found" else tuple((float(x), float(y)) for x, y in draft.line.coords),
        surround=tags.get("surround", GROUND),
        boundary=Polygon(boundary.exterior) if isinstance(boundary, Polygon) else None,
        heights=_heights(points["height"]),
        landmarks=tuple(Landmark(_name(placed), at) for placed, at in points["landmark"]),
        spots={_name(placed): Spot(at, placed.tags.get("lie", GROUND)) for placed, at in points["spot"]},
        local_rules=frozenset(rule for rule in re.split(r"[;\s]+", tags.get("local_rules", "")) if rule),
        origin=(draft.frame.lon, draft.frame.lat),
        source=clean_name(tags.get("attribution", ""), 500),
        units=units if units in YARDS_PER else "yards",
    )
