"""Rounds looked back on in words and tables: hole by hole, by club and kind, the dearest decisions; and as data."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from simcaddie.base.cautions import AFTER
from simcaddie.base.records import plain
from simcaddie.console.document import (
    GAP,
    SUM,
    Block,
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
from simcaddie.decision.ledger import HoleLedger, total
from simcaddie.decision.phrases import day_data, day_words
from simcaddie.decision.told import PART_NAMES, hole_data, lie_words, parts_data, stroke_words
from simcaddie.features.review.analysis import KINDS, Decision, Gained, Group, Review

__all__ = ["decision_words", "present", "review_data"]

_BY: tuple[str, ...] = ("strokes", "choice", "execution", "luck", "in all")


def present(answer: Review, *, details: bool = False) -> Document:
    """Return what rounds came to, where their strokes went, and what to learn from them."""
    walk, several = answer.walk, len(answer.cards) > 1
    return [
        Heading(walk.course.name, f", {walk.player.name}: {_scores(answer)}"),
        *([Text(f"The day: {day_words(walk.day)}")] if walk.day is not None else []),
        GAP,
        _rounds(answer) if several else _holes(answer.cards[0].ledgers),
        GAP,
        *_decisions(answer),
        GAP,
        Heading("By kind of stroke"),
        _groups(answer.kinds, "kind", several=False),
        GAP,
        Heading("By club"),
        _groups(answer.clubs, "club", several=True),
        *_repeats(answer),
        *([GAP, *_gained(answer.gained)] if answer.gained is not None else []),
        *_strokes(answer, details=details),
        GAP,
        Text(AFTER, quiet=True),
    ]


def _scores(answer: Review) -> str:
    score, expected = (sum(getattr(one, name) for one in answer.ledgers) for name in ("score", "expected"))
    holes = len(answer.ledgers)
    rounds = f"{len(answer.cards)} rounds, " if len(answer.cards) > 1 else ""
    gained = expected - score
    word = "gained" if gained >= 0.0 else "lost"
    return (
        f"{rounds}{holes} hole{'s' if holes > 1 else ''} in {score:.4g}, {expected:.1f} expected of the player's own "
        f"level: {abs(gained):.1f} strokes {word}"
    )


def _parts(parts: Sequence[float]) -> tuple[str, ...]:
    return tuple(signed(part) for part in parts)


def _score(ledger: HoleLedger) -> str:
    return f"{ledger.score:.1f}" if ledger.left else f"{ledger.score:.0f}"


def _sums(ledgers: Sequence[HoleLedger]) -> tuple[str, ...]:
    score, expected = (sum(getattr(one, name) for one in ledgers) for name in ("score", "expected"))
    return f"{score:.4g}", f"{expected:.2f}", *_parts(total(ledgers))


def _holes(ledgers: Sequence[HoleLedger]) -> Table:
    rows: list[Row | tuple[str, ...]] = []
    for one in ledgers:
        hole = one.reckoner.position.hole
        rows.append((str(one.number), hole.name, str(hole.par), _score(one), f"{one.expected:.2f}", *_parts(one.parts)))
    par = sum(one.reckoner.position.hole.par for one in ledgers)
    rows.append(Row(("", "in all", str(par), *_sums(ledgers)), SUM))
    columns = (*figures(""), *words("hole", wraps=True), *figures("par", "score", "expected", *PART_NAMES))
    return table(
        columns,
        rows,
        "strokes; expected: best play from the tee. The four parts add up to score less expected: + lost, - gained",
        "close",
    )


def _rounds(answer: Review) -> Table:
    rows: list[Row | tuple[str, ...]] = [(Path(card.name).name, *_sums(card.ledgers)) for card in answer.cards]
    rows.append(Row(("in all", *_sums(answer.ledgers)), SUM))
    columns = (*words("round", wraps=True), *figures("score", "expected", *PART_NAMES))
    return table(columns, rows, "strokes; the four parts add up to score less expected: + lost, - gained", "close")


def decision_words(answer: Review, decision: Decision) -> str:
    """Say a decision that cost something, and what the plan was."""
    reckoner, entry = decision.ledger.reckoner, decision.entry
    chosen, plan = (stroke_words(reckoner, entry.place, option) for option in (entry.option, entry.plan))
    which = f"{Path(decision.card.name).stem}, hole" if len(answer.cards) > 1 else "Hole"
    return (
        f"{which} {decision.ledger.number}, from {lie_words(reckoner, entry.place)}: {chosen}, cost "
        f"{entry.choice:.2f} strokes more than the plan: {plan}."
    )


def _decisions(answer: Review) -> Iterator[Block]:
    if not answer.dearest:
        yield Text("No decision cost more than the model can tell: the plan, or as good, was played throughout.")
        return
    yield Heading("The decisions that cost most")
    yield Items(tuple((f"{n}.", decision_words(answer, one)) for n, one in enumerate(answer.dearest, start=1)))


def _groups(groups: Sequence[Group], title: str, *, several: bool) -> Table:
    rows = [(one.name, str(one.strokes), *_parts((one.choice, one.execution, one.luck, one.cost))) for one in groups]
    if not several:
        sums = [sum(getattr(one, name) for one in groups) for name in ("choice", "execution", "luck", "cost")]
        return table(
            (*words(title), *figures(*_BY)),
            [*rows, Row(("in all", str(sum(one.strokes for one in groups)), *_parts(sums)), SUM)],
            "execution: how good the strikes were among the player's own, putts too",
        )
    return table((*words(title), *figures(*_BY)), rows)


def _repeats(answer: Review) -> Iterator[Block]:
    """Yield what of the execution is more than noise."""
    yield GAP
    yield Heading("What repeats, and what is noise")
    rows, kinds = [], {(one.strokes, one.steady) for one in answer.kinds}  # one that a single club makes is told once
    clubs = [one for one in answer.clubs if (one.strokes, one.steady) not in kinds and one.strokes > 1]
    for one in sorted([*answer.kinds, *clubs], key=lambda group: -abs(group.steady.mean)):
        told, word = one.steady, "noise"
        if told.repeats:
            word = "lost, repeats" if told.mean > 0.0 else "gained, repeats"
        interval = f"{signed(told.low, 1)} to {signed(told.high, 1)}"
        rows.append((one.name, str(one.strokes), signed(told.counted, 1), signed(told.mean, 1), interval, word))
    yield table(
        (*words("execution of"), *figures("strokes", "counted", "likely", "9 in 10"), *words("")),
        rows,
        "strokes a round against the player's file; likely: shrunk, the more so the fewer strokes",
    )
    if answer.unknown:
        many = f"{answer.unknown} finishes lie" if answer.unknown > 1 else "1 finish lies"
        yield Text(f"{many} where none of the player's balls finish: look whether the file knows such strikes.")


def _gained(gained: Gained) -> Iterator[Block]:
    yield Heading("Strokes gained", f" against {gained.golfer.name}")
    rows: list[Row | tuple[str, ...]] = [(KINDS[kind], signed(strokes, 1)) for kind, strokes in gained.kinds.items()]
    rows.append(Row(("in all", signed(gained.total, 1)), SUM))
    yield table((*words("kind"), *figures("gained")), rows)
    yield Text("What that golfer would have needed more: + better, - worse.", quiet=True)


def _strokes(answer: Review, *, details: bool) -> Iterator[Block]:
    """Yield every stroke, where details are asked for."""
    for card in answer.cards if details else ():
        for ledger in card.ledgers:
            reckoner, number, rows = ledger.reckoner, 1, []
            for entry in ledger.entries:
                stroke = f"{stroke_words(reckoner, entry.place, entry.option)} → {lie_words(reckoner, entry.after)}"
                values = f"{entry.best:.2f}", f"{entry.came - entry.added:.2f}"
                rows.append((str(number), stroke, *values, *_parts((entry.choice, entry.execution, entry.luck))))
                number += entry.added
            if ledger.putted is not None:
                putts = f"{ledger.putted.taken} putts"
                rows.append((str(number), putts, f"{ledger.putted.mean:.2f}", "0.00", "", signed(ledger.putting), ""))
            yield GAP
            yield Heading(f"Hole {ledger.number}", f", {Path(card.name).name}" if len(answer.cards) > 1 else "")
            columns = (*figures(""), *words("stroke", wraps=True), *figures("before", "after", *PART_NAMES[:3]))
            yield table(columns, rows, gap="close")


def review_data(answer: Review) -> dict[str, Any]:
    """Return rounds looked back on as plain data, schema "review/1"; lengths in yards."""
    walk = answer.walk
    return {
        "schema": "review/1",
        "course": walk.course.name,
        "player": walk.player.name,
        "day": day_data(walk.day),
        "rounds": [
            {"file": card.name, "parts": parts_data(card.ledgers), "holes": [hole_data(one) for one in card.ledgers]}
            for card in answer.cards
        ],
        "parts": parts_data(answer.ledgers),
        "clubs": [_group_data(group) for group in answer.clubs],
        "kinds": [_group_data(group) for group in answer.kinds],
        "decisions": [
            {
                "file": one.card.name,
                "hole": one.ledger.number,
                "costs": one.entry.choice,
                "words": decision_words(answer, one),
            }
            for one in answer.dearest
        ],
        "gained": None
        if answer.gained is None
        else {"golfer": answer.gained.golfer.name, "kinds": answer.gained.kinds, "total": answer.gained.total},
    }


def _group_data(group: Group) -> dict[str, Any]:
    return {**plain(group), "repeats": group.steady.repeats}
