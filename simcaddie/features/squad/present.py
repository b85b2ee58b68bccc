"""A group presented: one row a player, who differs, and all of it as data and as CSV."""

from __future__ import annotations

import csv
import io
import math
from collections import Counter
from collections.abc import Iterable
from typing import Any, Final

from simcaddie.base.records import picked
from simcaddie.console.document import GAP, Document, Heading, Items, Text, figures, signed, table, words
from simcaddie.decision.phrases import day_data
from simcaddie.decision.practice import PracticeRow
from simcaddie.features.squad.analysis import FEWEST, REACHED, Differs, Member, Squad, SquadHole
from simcaddie.io.sent import day_from
from simcaddie.io.write import slug

__all__ = ["differs_words", "file_names", "member_data", "overview_csv", "present", "short_club", "squad_data"]

_SHORT: Final = {"driver": "D", "wood": "w", "hybrid": "h", "iron": "i"}
_LOW, _HIGH = 0.1, 0.9
_SUITED: Final = (
    f"The tee is the longest from which {REACHED:.0%} of the par 4s and 5s are in reach, else the shortest; what to "
    "play is on the sheets."
)


def short_club(title: str) -> str:
    """Return a club in two or three letters.

    >>> short_club("driver"), short_club("5 wood"), short_club("half sand wedge"), short_club("pitching wedge")
    ('D', '5w', '½SW', 'PW')
    """
    half = "½" if title.startswith("half ") else "¾" if title.startswith("three quarter ") else ""
    *before, kind = title.removeprefix("half ").removeprefix("three quarter ").split()
    if kind == "wedge" and before:
        return f"{half}{before[0][0].upper()}W"
    return f"{half}{''.join(before)}{_SHORT.get(kind, kind[:1])}"


def file_names(answer: Squad) -> list[str]:
    """Return a name of its own for each player's files."""
    seen: Counter[str] = Counter({"overview": 1})
    names = []
    for member in answer.members:
        name = slug(member.player.name)
        seen[name] += 1
        names.append(name if seen[name] == 1 else f"{name}-{seen[name]}")
    return names


def present(answer: Squad) -> Document:
    """Return the overview and who differs."""
    course = answer.course
    return [
        Heading(course.name, f", {len(course.holes)} hole{'' if len(course.holes) == 1 else 's'}"),
        GAP,
        table(
            (
                *words("", wraps=True),
                *words("tee"),
                *figures("index", "score", "8 in 10", "net", "blow-\nups"),
                *words("pays most", wraps=True),
            ),
            map(_row, answer.members),
            "8 in 10: eight rounds in ten; net: over par and strokes received\n"
            "blow-ups: net double bogey or worse, a round\n"
            "pays most: strokes a round saved by closing the gap to a golfer\n"
            "five strokes better",
            "close",
        ),
        GAP,
        *([Text(_SUITED)] if answer.request.tee is None else []),
        *_differs(answer),
    ]


def _row(member: Member) -> list[str]:
    index = "" if member.player.handicap_index is None else f"{member.player.handicap_index:g}"
    first = [member.player.name, member.tee or "", index]
    if member.total is None:
        return [*first, "failed", "", "", "", ""]
    best = member.pays[:1]
    law = member.total
    return [
        *first,
        f"{law.mean:.1f}",
        f"{law.quantile(_LOW)}–{law.quantile(_HIGH)}",
        signed(law.mean - member.net_par, 1),
        f"{member.blow_ups:.1f}",
        f"{best[0].thing.title} {best[0].gap.saved:.2f}" if best else "",
    ]


def differs_words(answer: Squad, one: Differs) -> str:
    """Say who plays otherwise than most on a tee."""
    tee = f" from {one.tee}" if one.tee else ""
    others = ", ".join(f"{name} {club}" for name, club in one.players)
    return f"{answer.course.holes[one.number - 1].name}{tee}: most ({one.many}) {one.most}; {others}"


def _differs(answer: Squad) -> Document:
    if max(Counter(member.tee for member in answer.members).values()) < FEWEST:
        return [Text(f"Fewer than {FEWEST} play from the same tee, so that nobody differs from a group.")]
    if not answer.differs:
        return [
            Text("On no tee does anybody choose another kind of club than most of three or more from the same tee.")
        ]
    told = tuple((str(one.number), differs_words(answer, one)) for one in answer.differs)
    return [GAP, Heading("Who differs on the tee"), Items(told)]


# ─── As data ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _rows(rows: Iterable[PracticeRow]) -> list[dict[str, Any]]:
    return [picked(row, thing="thing.title", strokes_a_round="played", saves="gap.saved", se="gap.se") for row in rows]


def _hole(number: int, name: str, hole: SquadHole | None) -> dict[str, Any]:
    if hole is None:
        return {"hole": number, "name": name, "failed": True}
    return {
        "hole": number,
        "name": name,
        **picked(hole, club="club", net_par="net_par", mean="pmf.mean", se="se", blow_up="blow_up"),
        "bearing_deg": math.degrees(hole.bearing),
        "chances": hole.pmf.chance.tolist(),
    }


def member_data(answer: Squad, member: Member) -> dict[str, Any]:
    """Return one player's round and what pays, schema "squad-player/1"."""
    law = member.total
    return {
        "schema": "squad-player/1",
        "course": answer.course.name,
        **picked(
            member, player="player.name", index="player.handicap_index", tee="tee", reach="reach",
            playing_handicap="handicap", net_par="net_par", blow_ups="blow_ups", se="se",
        ),
        "mean": law and law.mean,
        "low": law and law.quantile(_LOW),
        "high": law and law.quantile(_HIGH),
        "total": law and {"low": law.low, "chances": law.chance.tolist()},
        "holes": [
            _hole(number + 1, hole.name, found)
            for number, (hole, found) in enumerate(zip(answer.course.holes, member.holes, strict=True))
        ],
        "pays": _rows(member.pays),
        "rows": _rows(member.rows or ()),
    }  # fmt: skip


def squad_data(answer: Squad) -> dict[str, Any]:
    """Return the group as plain data, schema "squad/1"."""
    request, keys = answer.request, ("schema", "course", "total", "holes", "rows")
    players = []
    for member in answer.members:
        data = {key: value for key, value in member_data(answer, member).items() if key not in keys}
        players.append({**data, "clubs": [hole and hole.club for hole in member.holes]})
    return {
        "schema": "squad/1",
        "course": answer.course.name,
        "day": day_data(day_from(request.day)) if request.day else None,
        **picked(request, "pin sequences practised seed"),
        "players": players,
        "differs": [
            {
                **picked(one, hole="number", tee="tee", most="most", many="many"),
                "players": [{"player": name, "club": club} for name, club in one.players],
            }
            for one in answer.differs
        ],
    }


def overview_csv(answer: Squad) -> str:
    """Return one row a player: the round, what pays, and the club on every tee."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    holes = [f"hole {number + 1}" for number in range(len(answer.course.holes))]
    writer.writerow(
        ["player", "index", "tee", "reach", "strokes", "se", "low", "high", "net", "blow-ups"]
        + [f"{key} {place}" for place in (1, 2, 3) for key in ("pays", "saves")]
        + holes
    )
    for member in answer.members:
        law = member.total
        pays = [cell for row in member.pays for cell in (row.thing.title, f"{row.gap.saved:.3f}")]
        index = "" if member.player.handicap_index is None else f"{member.player.handicap_index:g}"
        numbers = [""] * 6
        if law is not None:
            numbers = [f"{law.mean:.3f}", f"{member.se:.3f}", str(law.quantile(_LOW)), str(law.quantile(_HIGH))]
            numbers += [f"{law.mean - member.net_par:.3f}", f"{member.blow_ups:.3f}"]
        clubs = [hole.club if hole else "" for hole in member.holes]
        row = [member.player.name, index, member.tee or "", f"{member.reach:.3f}", *numbers]
        writer.writerow([*map(_safe, row), *pays, *[""] * (6 - len(pays)), *clubs])
    return text.getvalue()


def _safe(cell: str) -> str:
    """Return a cell that no spreadsheet takes for a formula."""
    number = cell[1:].replace(".", "", 1).isdecimal()
    return f"'{cell}" if cell[:1] in ("=", "+", "-", "@", "\t") and not number else cell
