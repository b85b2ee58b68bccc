"""A club's members presented: holes by group, where strokes should fall, what set-ups change; as data and CSV."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Sequence
from typing import Any, Final

from simcaddie.base.records import picked, plain
from simcaddie.console.document import (
    GAP,
    SUM,
    Document,
    Heading,
    Items,
    Row,
    Table,
    Text,
    figures,
    signed,
    table,
    words,
)
from simcaddie.decision.phrases import day_data
from simcaddie.features.field.analysis import Difference, Estimate, Field, Tees
from simcaddie.io.sent import day_from
from simcaddie.scoring.allocation import Asked

__all__ = ["allocation_words", "field_csv", "field_data", "present", "tee_words"]

_MOST: Final = 3  # holes told of


def present(answer: Field) -> Document:
    """Return the tables and what they say."""
    many, golfers = len(answer.members), len(answer.plan.golfers.golfers)
    shared = "" if golfers >= many else f", between {golfers} golfers of a lattice"
    return [
        Heading(answer.course.name, f", {many} member{'' if many == 1 else 's'} as neutral golfers{shared}"),
        GAP,
        _scores(answer),
        *(_allocation(answer) if len(answer.course.holes) > 1 else ()),
        *(block for one in answer.differences for block in _difference(answer, one)),
        *_tees(answer),
    ]


def _told(value: float, places: int = 2) -> str:
    return signed(value, places) if math.isfinite(value) else "–"


def _scores(answer: Field) -> Table:
    def cells(estimates: Sequence[Estimate], par: int, blow_ups: float) -> list[str]:
        return [*(_told(one.value - par) for one in estimates), f"{estimates[-1].value:.2f}", f"{blow_ups:.2f}"]

    rows = []
    for number, (hole, found) in enumerate(zip(answer.course.holes, answer.holes, strict=True), start=1):
        rows.append(Row((f"{number}", f"{hole.par}", *cells(found.scores, hole.par, found.blow_ups[-1].value))))
    sums = [sum(hole.scores[g].value for hole in answer.holes) - answer.course.par for g in range(len(answer.groups))]
    last = sums[-1] + answer.course.par
    blow_ups = sum(hole.blow_ups[-1].value for hole in answer.holes)
    if len(rows) > 1:
        words = (*(_told(s) for s in sums), f"{last:.2f}", f"{blow_ups:.2f}")
        rows.append(Row(("in all", f"{answer.course.par}", *words), SUM))
    titles = [f"{group.title.replace(' and over', '+')}\n({len(group.members)})" for group in answer.groups]
    return table(
        figures("hole", "par", *titles, "strokes", "blow-ups\na round"),
        rows,
        "strokes over par by handicap index (members in brackets), from\n"
        "everybody's own tee; blow-ups: net double bogey or worse, of a member",
        "close",
    )


def _allocation(answer: Field) -> Document:
    return [
        GAP,
        Heading("Where strokes should fall"),
        GAP,
        _strokes(answer),
        *map(Text, allocation_words(answer)),
        *_asked(answer),
    ]


def _strokes(answer: Field) -> Table:
    found = answer.allocation
    rows = []
    for number, one in enumerate(found.difficulty):
        low, high = found.may[number]
        today = "" if found.today is None else str(found.today[number])
        may = f"{low}" if low == high else f"{low}–{high}"
        rows.append([str(number + 1), f"{one.value:.2f}", f"{one.se:.3f}", str(found.rank[number]), may, today,
                     str(found.proposed[number])])  # fmt: skip
    return table(
        figures("hole", "difficulty", "±", "rank", "may be", "index\ntoday", "index\nproposed"),
        rows,
        "difficulty: better half's mean + worse half's mean\n"
        "− 2 × par; may be: ranks that the simulation's\n"
        "error leaves open, all at once (95 %)",
        "close",
    )


def allocation_words(answer: Field) -> list[str]:
    """Say how far today's indexes are from the proposed ones, and which holes are farthest."""
    found = answer.allocation
    if found.today is None or found.off is None:
        return ["The card has no stroke index for every hole, so there is nothing to compare."]
    if found.off == 0.0:
        return ["Today's indexes fall as proposed."]
    off = [abs(a - b) for a, b in zip(found.today, found.proposed, strict=True)]
    most = sorted(sorted(range(len(off)), key=lambda hole: -off[hole])[:_MOST])
    told = ", ".join(f"hole {h + 1} ({found.today[h]}, proposed {found.proposed[h]})" for h in most if off[h])
    return [f"Today's indexes are {found.off:.1f} places off on average; farthest {told}."]


def _asked(answer: Field) -> Document:
    found = answer.allocation
    if not found.asked:
        return [Text("With another number of holes than 18 the proposal is the plain order of difficulty.")]
    today: Sequence[Asked | None] = found.asked_today or [None] * len(found.asked)
    rows = [
        (one.words + (" ~" if one.memory else ""), _met(was), _met(one))
        for one, was in zip(found.asked, today, strict=True)
    ]
    return [
        GAP,
        table(
            words("The Rules of Handicapping, Appendix E, ask for", "today", "proposed", wraps=True),
            rows,
            "~ from memory: hold it against the text in force; the Committee decides",
            "close",
        ),
    ]


def _met(one: Asked | None) -> str:
    if one is None:
        return ""
    return "yes" if one.met else f"no ({', '.join(map(str, one.holes))})" if one.holes else "no"


def _shown(one: Estimate, places: int = 2) -> str:
    return f"{signed(one.value, places)} ± {one.within:.{places}f}" if math.isfinite(one.value) else "–"


def _difference(answer: Field, one: Difference) -> Document:
    rows = [
        (group.title, _shown(strokes), _shown(blow_ups))
        for group, (strokes, blow_ups) in zip(answer.groups, one.by_group, strict=True)
    ]
    sure = [hole for hole, (strokes, _) in enumerate(one.by_hole) if strokes.sure]
    most = sorted(sure, key=lambda hole: -abs(one.by_hole[hole][0].value))[:_MOST]
    told = "; ".join(
        f"hole {hole + 1} {_shown(one.by_hole[hole][0])} strokes, "
        f"{signed(one.by_hole[hole][1].value, 2)} blow-ups"
        for hole in most
    )
    return [
        GAP,
        Heading(one.title[:1].upper() + one.title[1:]),
        GAP,
        table((*words("index"), *figures("strokes a round", "blow-ups a round")), rows, gap="close"),
        Text(f"Most: {told}." if told else "On no single hole does it surely change the strokes."),
    ]


def tee_words(answer: Field, one: Tees) -> str:
    """Say whether two tees are fair to each other."""
    every = one.by_group[-1]
    fair = f"From {one.tee} net scores are {_shown(every, 1)} strokes a round against {one.base}"
    if not one.rated:
        return (
            f"{fair}, where a course rating that the card doesn't give is taken as par: whether they are fair can't be "
            "told without the ratings."
        )
    if not any(estimate.sure for estimate in one.by_group):
        return f"{fair}: fair to each other, as far as the simulation can tell."
    harder = "harder" if every.value > 0.0 else "easier"
    groups = ", ".join(
        f"{group.title} {_shown(estimate, 1)}"
        for group, estimate in zip(answer.groups[:-1], one.by_group, strict=False)
    )
    by = f" By index: {groups}." if groups else ""
    return f"{fair}: {harder} than the ratings say, for members such as these.{by}"


def _tees(answer: Field) -> Document:
    told = [tee_words(answer, one) for one in answer.tees]
    said = [
        Text("± is simultaneous over a table (95 %): the simulation's error alone, not that of the neutral golfers.")
    ]
    differ: Document = [GAP, *said] if answer.differences else []
    if not told:
        return differ
    return [GAP, Heading("Are the tees fair to each other?"), Items(tuple(("–", text) for text in told)), *differ]


# ─── As data ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _pair(pair: tuple[Estimate, Estimate]) -> dict[str, Any]:
    return {"strokes": plain(pair[0]), "blow_ups": plain(pair[1])}


def field_data(answer: Field) -> dict[str, Any]:
    """Return the answer as plain data, schema "field/1"; ``within`` is half of a simultaneous interval."""
    found, groups = answer.allocation, [group.title for group in answer.groups]
    return {
        "schema": "field/1",
        "course": answer.course.name,
        "members": len(answer.members),
        "golfers": len(answer.plan.golfers.golfers),
        "day": day_data(day_from(answer.request.day)),
        **picked(answer.request, "tees pins men women sequences seed each"),
        "groups": [{"title": group.title, "members": len(group.members)} for group in answer.groups],
        "holes": [
            {
                "hole": number + 1,
                **picked(hole, "name par stroke_index"),
                "by_group": {
                    title: _pair(pair)
                    for title, pair in zip(groups, zip(one.scores, one.blow_ups, strict=True), strict=True)
                },
                "difficulty": plain(found.difficulty[number]),
                "rank": found.rank[number],
                "rank_may_be": list(found.may[number]),
                "proposed_index": found.proposed[number],
            }
            for number, (hole, one) in enumerate(zip(answer.course.holes, answer.holes, strict=True))
        ],
        "allocation": {
            "places_off": found.off,
            "proposed": [plain(one) for one in found.asked],
            "today": [plain(one) for one in found.asked_today],
        },
        "differences": [
            {
                "title": one.title,
                "by_group": {title: _pair(pair) for title, pair in zip(groups, one.by_group, strict=True)},
                "by_hole": [_pair(pair) for pair in one.by_hole],
            }
            for one in answer.differences
        ],
        "tees": [
            {
                **picked(one, "base tee rated"),
                "net_strokes": {title: plain(e) for title, e in zip(groups, one.by_group, strict=True)},
            }
            for one in answer.tees
        ],
        "words": [*allocation_words(answer), *(tee_words(answer, one) for one in answer.tees)],
    }


def field_csv(answer: Field) -> str:
    """Return one row a hole: strokes and blow-ups by group, difficulty and indexes, and what set-ups change."""
    text, found = io.StringIO(), answer.allocation
    writer = csv.writer(text, lineterminator="\n")

    def cell(value: float) -> str:
        return f"{value:.4f}" if math.isfinite(value) else ""

    titles = [group.title for group in answer.groups]
    writer.writerow(
        ["hole", "name", "par", "index", "proposed", "difficulty", "se", "rank"]
        + [f"{what}, {title}" for title in titles for what in ("strokes", "blow-ups")]
        + [f"{what}, {one.title}" for one in answer.differences for what in ("strokes", "± strokes", "blow-ups")]
    )
    for number, (hole, one) in enumerate(zip(answer.course.holes, answer.holes, strict=True)):
        hard = found.difficulty[number]
        by_group = [cell(e.value) for pair in zip(one.scores, one.blow_ups, strict=True) for e in pair]
        changed = [each.by_hole[number] for each in answer.differences]
        writer.writerow(
            [number + 1, hole.name, hole.par, hole.stroke_index or "", found.proposed[number]]
            + [f"{hard.value:.4f}", f"{hard.se:.4f}", found.rank[number], *by_group]
            + [cell(x) for strokes, blow in changed for x in (strokes.value, strokes.within, blow.value)]
        )
    return text.getvalue()
