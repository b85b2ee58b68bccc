"""All holes of a map: which course, which lines, which numbers, and what of the map no hole could use."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass, field, replace

from simcaddie.errors import BadRequest
from simcaddie.mapdata.areas import Wishes
from simcaddie.mapdata.build import build
from simcaddie.mapdata.draft import HoleDraft
from simcaddie.mapdata.exported import build_exported, was_exported
from simcaddie.mapdata.features import MapData
from simcaddie.mapdata.match import Matched, match_holes
from simcaddie.mapdata.survey import HoleLine, Survey, survey

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
