"""What pays presented: strokes a round saved, ranked, and a session with boxes to tick; and all of it as data."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any, Final

from simcaddie.base.records import picked
from simcaddie.console.document import GAP, SUM, Document, Heading, Row, Table, Text, figures, signed, table, words
from simcaddie.decision.phrases import day_data, day_words
from simcaddie.decision.practice import MOST_THAT_PAY, Gain, Practice, PracticeRow, that_pay
from simcaddie.features.practice.session import Ball

__all__ = ["practice_data", "present"]

_TITLES: Final = {"gap": "gap closed", "tighter": "10 % tighter", "mishits": "half mishits", "bias": "no bias"}
_CHANGES: Final = {"tighter": "a tenth less spread", "mishits": "half the mishits", "bias": "no side bias"}
_FINISHES: Final = "left on right short"  # boxes to tick
_BOXES: Final = "  □  □   □     □"
_LITTLE: Final = 0.05  # strokes a round


def present(practice: Practice, balls: Sequence[Ball], *, details: bool = False) -> Document:
    """Return the table of what pays, what it means, and the session."""
    tee = f"{practice.tee} tees" if practice.tee else "first tees"
    routine = f"Before every ball your routine: {practice.player.routine}. " if practice.player.routine else ""
    return [
        Heading(practice.course.name, f", {len(practice.course.holes)} holes, {tee}"),
        *([] if practice.day is None else [Text(f"The day: {day_words(practice.day)}")]),
        Text(f"{practice.player.name}: what would save strokes, a round"),
        GAP,
        _pays(practice, details=details),
        GAP,
        *map(Text, _words(practice)),
        GAP,
        Heading(f"A session of {len(balls)} balls", ", in proportion to what closing the gap saves"),
        Text(f"{routine}Take the next club only when the ball has stopped, and note how it finished."),
        *_list("On the range", [(n, ball) for n, ball in enumerate(balls, start=1) if ball.where == "range"]),
        *_list("About the green", [(n, ball) for n, ball in enumerate(balls, start=1) if ball.where == "green"]),
    ]


def _list(place: str, balls: Sequence[tuple[int, Ball]]) -> Document:
    """Return what is played at one place: how many of each, and ball by ball with boxes to tick."""
    if not balls:
        return []
    counts = ", ".join(f"{title} {count}" for title, count in Counter(ball.title for _, ball in balls).most_common())
    rows = ((str(number), ball.title, ball.target, _BOXES) for number, ball in balls)
    columns = (*figures("ball"), *words("play", "target", _FINISHES))
    return [GAP, Heading(f"{place}: {len(balls)}"), Text(f"{counts}."), GAP, table(columns, rows, gap="close")]


def _pays(practice: Practice, *, details: bool) -> Table:
    """Return what pays most: the first swings, what is practised about the green; with ``details`` all of it."""
    swings, green = that_pay(practice, many=len(practice.rows) if details else MOST_THAT_PAY)
    biased = details or practice.swings.gains["bias"].saved >= _LITTLE
    changes = {change: title for change, title in _TITLES.items() if biased or change != "bias"}

    def saved(gain: Gain | None) -> str:
        return "" if gain is None else signed(gain.saved) + (f"±{gain.se:.3f}" if details else "")

    def cells(row: PracticeRow) -> tuple[str, ...]:
        return (row.thing.title, f"{row.played:.1f}", *(saved(row.gains.get(change)) for change in changes))

    titles = (title.replace(" ", "\n") if details else title for title in changes.values())
    return table(
        (*words(""), *figures("played", *titles)),
        (*map(cells, swings), Row(cells(practice.swings), SUM), *map(cells, green)),
        "strokes a round saved; played: strokes a round with it"
        + ("; ± standard error\n" if details else "\n")
        + "gap closed: as good as a golfer five strokes better, where it is worse",
        "close" if details else "wide",
    )


def _words(practice: Practice) -> list[str]:
    """Return what is said under the table."""
    every = practice.everything
    lines = [
        _gaps(practice),
        f"All gaps closed at once save {every.saved:.2f} ± {every.se:.2f} of {practice.mean:.1f} strokes a round.",
        _single(practice),
        _bias(practice),
        "Clubs and lines stay those of today, so this is on the low side. ± is the simulation's standard error.",
    ]
    if practice.seldom:
        lines.append(f"Hardly played on this course, so left out: {', '.join(practice.seldom)}.")
    return lines


def _title(row: PracticeRow) -> str:
    return f"the {row.thing.title}" if row.thing.swings else row.thing.title


def _gaps(practice: Practice) -> str:
    """Say which gaps it pays most to close."""
    told = [row for row in practice.rows if row.gap.saved >= _LITTLE][:3]
    if not told:
        return "Nothing is far behind a golfer five strokes better: no gap costs more than 0.05 strokes a round."
    *most, last = (f"{_title(row)} ({row.gap.saved:.2f} strokes a round)" for row in told)
    listed = f"{', '.join(most)} and {last}" if most else last
    return f"Closing the gap to a golfer five strokes better pays most with {listed}."


def _single(practice: Practice) -> str:
    """Say the best single change apart from closing a gap."""
    found = [
        (row.gains[change].saved, row, change) for row in practice.rows for change in _CHANGES if change in row.gains
    ]
    saved, row, change = max(found, key=lambda item: item[0])
    return f"Of single changes {_CHANGES[change]} with {_title(row)} saves most: {saved:.2f}."


def _bias(practice: Practice) -> str:
    gain = practice.swings.gains["bias"]
    if gain.saved < _LITTLE:
        return "Side bias costs next to nothing as long as you know it and aim off for it."
    return f"Without side bias in any swing the round takes {gain.saved:.2f} strokes fewer."


def practice_data(practice: Practice, balls: Sequence[Ball]) -> dict[str, Any]:
    """Return what pays and a session as plain data, schema "practice/1"; strokes a round saved."""
    return {
        "schema": "practice/1",
        **picked(practice, course="course.name", player="player.name", tee="tee"),
        "day": day_data(practice.day),
        **picked(practice, "seed sequences mean"),
        "policy": "as the player is now",
        "rows": [_row_data(row) for row in practice.rows],
        "all_swings": _row_data(practice.swings),
        "everything": picked(practice.everything, strokes="saved", se="se"),
        **picked(practice, seldom_played="seldom"),
        "words": _words(practice),
        "session": {
            "routine": practice.player.routine,
            "balls": [
                {"ball": n, **picked(ball, play="title", target="target", where="where")}
                for n, ball in enumerate(balls, start=1)
            ],
        },
    }


def _row_data(row: PracticeRow) -> dict[str, Any]:
    return {
        **picked(row, thing="thing.title", strokes_a_round="played"),
        "saves": {change: picked(gain, strokes="saved", se="se") for change, gain in row.gains.items()},
    }
