"""Rounds into a player file: what finishes say of the patterns, and what choices say of trust."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from scipy.special import betaincc

from simcaddie.base.records import plain
from simcaddie.base.streams import Purpose, generator
from simcaddie.base.units import YARDS_PER
from simcaddie.console.document import GAP, Block, Document, Heading, Text, figures, table, words
from simcaddie.decision.finishes import Observer
from simcaddie.decision.walk import Card, Walk, walk_round
from simcaddie.fitting.rounds import Moved, RoundRow, RoundsFit, Strikes, fit_rounds
from simcaddie.player.pattern import TRUST_SPREAD
from simcaddie.player.swing import Player, Trust

__all__ = ["Learnt", "learn", "present_rounds", "rounds_data", "trust_by_choice"]

FEWEST: Final = 5  # times that the plan had a swing, to judge trust by what was chosen instead
SURE: Final = 0.9  # that a swing is taken more, or less, than every other time


@dataclass(frozen=True, slots=True)
class Learnt:
    """What rounds taught.

    ``left_out`` strokes finished where no strike of the player's comes near; ``trust`` has (planned, taken, trust) by
    the title of a swing whose trust the choices change.
    """

    before: Player
    fit: RoundsFit
    cards: tuple[Card, ...]
    left_out: int
    trust: dict[str, tuple[int, int, Trust]]

    @property
    def player(self) -> Player:
        """The player after the rounds."""
        titles = {title: trust for title, (_, _, trust) in self.trust.items()}
        return self.fit.player.with_swings(lambda s: replace(s, trust=titles.get(s.title, s.trust)))


def trust_by_choice(cards: Sequence[Card], player: Player) -> dict[str, tuple[int, int, Trust]]:
    """Return the swings whose trust the choices change: how often best play had each, how often it was taken, trust.

    The chance to take it has a flat prior. Nine in ten sure that it is above one half the trust is high, below it low.
    """
    swings, found = player.swings, {}
    entries = [entry for card in cards for ledger in card.ledgers for entry in ledger.entries]
    for number, swing in enumerate(swings):
        planned = [entry for entry in entries if entry.plan.swing == number]
        taken = sum(entry.option.swing == number for entry in planned)
        if len(planned) < FEWEST:
            continue
        above = float(betaincc(taken + 1, len(planned) - taken + 1, 0.5))
        trust: Trust = "high" if above >= SURE else "low" if above <= 1.0 - SURE else swing.trust
        if trust != swing.trust:
            found[swing.title] = len(planned), taken, trust
    return found


def learn(
    walk: Walk, rounds: Sequence[tuple[str, Sequence[RoundRow]]], *, trust: bool, done: Callable[[], None] | None = None
) -> Learnt:
    """Return what rounds teach of the player of ``walk``.

    Raises
    ------
    BadFile
        With the faults of a round, each with its line.
    BadRequest
        Where a hole has no such tee.
    """
    cards = tuple(walk_round(walk, name, rows, done) for name, rows in rounds)
    observer, seen, left_out = Observer(walk.player), dict[int, list[Strikes]](), 0
    for ledger in (ledger for card in cards for ledger in card.ledgers):
        for entry in ledger.entries:
            if entry.option.swing < len(walk.player.swings):
                strikes = observer.strikes(ledger.number, ledger.reckoner, entry)
                left_out += strikes is None
                if strikes is not None:
                    seen.setdefault(entry.option.swing, []).append(strikes)
    fit = fit_rounds(walk.player, seen, generator(walk.seed + Purpose.FINISHES))
    return Learnt(walk.player, fit, cards, left_out, trust_by_choice(cards, walk.player) if trust else {})


# ─── In words, and as data ──────────────────────────────────────────────────────────────────────────────────────────


def _row(player: Player, moved: Moved) -> tuple[str, ...]:
    """Return a swing's row: each number after the rounds, as it was, and where nine in ten of it lie."""
    unit, before = YARDS_PER[player.units], moved.before
    transfer = player.range_to_course.of(before.source)
    wide, mishits = moved.side_spread, moved.mishits
    return (
        before.title,
        str(moved.strokes),
        f"{moved.carry.mean / unit:.0f}",
        f"{before.carry / unit:.0f}",
        f"{wide.mean / unit:.0f}",
        f"{before.side_sd * transfer.spread * TRUST_SPREAD[before.trust] / unit:.0f}",
        f"{wide.low / unit:.0f} to {wide.high / unit:.0f}",
        f"{10 * mishits.mean:.1f}",
        f"{10 * (before.fat + before.thin) * transfer.mishits:.1f}",
        f"{10 * mishits.low:.1f} to {10 * mishits.high:.1f}",
    )


def present_rounds(learnt: Learnt) -> Document:
    """Return what the rounds moved, swing by swing, and what they say of range and course."""
    fit, before = learnt.fit, learnt.before
    count = len(learnt.cards)
    lead = f": {count} round{'s' if count > 1 else ''}, {fit.strokes} strokes; lengths in {before.units}"
    blocks: list[Block] = [GAP, Heading("What the rounds moved", lead), GAP]
    if fit.moved:
        rows = [_row(before, moved) for moved in sorted(fit.moved, key=lambda each: -each.before.carry)]
        titles = ("seen", "carry", "was", "± side", "was", "9 in 10", "mis", "was", "9 in 10")
        columns = (*words("swing", wraps=True), *figures(*titles))
        note = "on the course; ± side: spread of side (sd); mis: mishits, in ten; 9 in 10: where it truly lies"
        blocks.append(table(columns, rows, note, "close"))
    told, mishits, old = fit.spread, fit.mishits, before.range_to_course
    blocks.append(
        Text(
            f"Range to course: spread × {old.spread:.2f} → {told.mean:.2f} ({told.low:.2f} to {told.high:.2f}), "
            f"mishits × {old.mishits:.1f} → {mishits.mean:.1f} ({mishits.low:.1f} to {mishits.high:.1f})."
        )
    )
    if learnt.left_out:
        blocks.append(Text(f"{learnt.left_out} finishes tell nothing: no strike of the player's comes near them."))
    for title, (planned, taken, trust) in learnt.trust.items():
        blocks.append(Text(f"The {title} was best {planned} times and taken {taken} times: its trust is {trust} now."))
    return blocks


def rounds_data(learnt: Learnt) -> dict[str, Any]:
    """Return what rounds taught as plain data; lengths in yards."""
    return {
        "files": [card.name for card in learnt.cards],
        "strokes": learnt.fit.strokes,
        "left_out": learnt.left_out,
        "moved": [
            {
                "club": moved.before.club,
                "swing": moved.before.name,
                "strokes": moved.strokes,
                "before": {"carry": moved.before.carry, "side": moved.before.side},
                **{
                    name: plain(getattr(moved, name))
                    for name in ("carry", "side", "carry_spread", "side_spread", "mishits")
                },
            }
            for moved in learnt.fit.moved
        ],
        "range_to_course": {"spread": plain(learnt.fit.spread), "mishits": plain(learnt.fit.mishits)},
        "trust": {
            title: {"planned": planned, "taken": taken, "trust": trust}
            for title, (planned, taken, trust) in learnt.trust.items()
        },
    }
