"""What sessions say: raw and fitted numbers side by side, sentences for a coach, rows left unused; and as data."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, Final, NamedTuple

from simcaddie.base.errors import Fault
from simcaddie.base.records import picked, plain
from simcaddie.base.units import YARDS_PER
from simcaddie.console.document import GAP, Block, Document, Heading, Items, Table, Text, figures, table, words
from simcaddie.features.fit.rounds import Learnt, present_rounds, rounds_data
from simcaddie.fitting.fit import SessionFit, SharedAngle
from simcaddie.fitting.session import Key
from simcaddie.fitting.summary import SwingFit, Told
from simcaddie.fitting.transfer import ENOUGH, Transfer
from simcaddie.player.swing import Player

__all__ = ["Fitted", "fit_data", "present"]

WILD: Final = 2.0  # balls, to speak of them
MOST_FAULTS: Final = 20  # shown one by one
FEWEST: Final = 5  # balls of a swing whose best one is spoken of


class Fitted(NamedTuple):
    """A fitted session, its player, and what there is to say of the files.

    ``rows`` of balls stand in the files, ``faults`` tell of those that weren't used; ``short`` is how often, by (club,
    swing), the session's best ball would come up short on the course.
    """

    found: SessionFit
    player: Player
    rows: int
    faults: Sequence[Fault]
    remarks: Sequence[str]
    short: Mapping[Key, float]

    @property
    def used(self) -> int:
        """How many balls the fit rests on."""
        return sum(fit.swing.shots for fit in self.found.fits.values())

    @property
    def longest_first(self) -> list[SwingFit]:
        """The swings' fits, longest first."""
        return sorted(self.found.fits.values(), key=lambda fit: -fit.swing.carry)

    @property
    def unit(self) -> float:
        """Yards of the player's unit."""
        return YARDS_PER[self.player.units]


def present(fitted: Fitted, learnt: Learnt | None = None, *, details: bool = False) -> Document:
    """Return the fitted numbers, what they mean, what rounds moved, and the first of the rows that weren't used."""
    after = [] if learnt is None else present_rounds(learnt)
    if not fitted.found.fits:
        return [Heading(fitted.player.name), *after]
    return [*_sessions(fitted, details=details), *after]


def _sessions(fitted: Fitted, *, details: bool) -> Document:
    found, player = fitted.found, fitted.player
    counts = f": {fitted.used} of {fitted.rows} balls{_left_out(fitted)}, {len(found.fits)} swings; in {player.units}"
    said = (*fitted.remarks, *_words(found), _best_words(fitted))
    return [
        Heading(player.name, counts),
        GAP,
        _fitted_table(fitted),
        GAP,
        *(Text(line) for line in said if line),
        *((GAP, _raw_table(fitted), GAP, _worth_table(fitted)) if details else ()),
        *(_unused(fitted.faults) if fitted.faults else ()),
    ]


def _left_out(fitted: Fitted) -> str:
    """Say how many balls were left out for which reason; empty where none was."""
    by_key = Counter(fault.where.partition(" (column")[0] for fault in fitted.faults)
    aside = fitted.rows - fitted.used - fitted.found.warm_up - len(fitted.faults)
    told = {"first balls": aside, "of the warm-up": fitted.found.warm_up}
    told |= {f"for the {key or 'row'}": count for key, count in by_key.most_common()}
    said = ", ".join(f"{count} {why}" for why, count in told.items() if count)
    return said and f" (left out: {said})"


def _unused(faults: Sequence[Fault]) -> Iterator[Block]:
    yield GAP
    yield Text(f"Not used, {len(faults)} of the rows:")
    yield Items(tuple(("–", str(replace(one, file=Path(one.file).name))) for one in faults[:MOST_FAULTS]))
    if len(faults) > MOST_FAULTS:
        yield Text(f"… and {len(faults) - MOST_FAULTS} more; --json lists all.")


def _whole(value: float, sign: bool = False) -> str:
    """Return a rounded number, never "-0"."""
    near = round(value) + 0
    return f"{near:+d}" if sign and near else f"{near:d}"


def _range(told: Told, unit: float, sign: bool = False) -> str:
    return f"{_whole(told.low / unit, sign)} to {_whole(told.high / unit, sign)}"


def _fitted_table(fitted: Fitted) -> Table:
    """Return what was shrunk: fitted mean, interval and spread of carry and side, and mishits."""
    unit, rows = fitted.unit, []
    for fit in fitted.longest_first:
        carry, side = fit.numbers["carry"], fit.numbers["side"]
        rows.append(
            (
                fit.swing.title,
                str(fit.swing.shots),
                _whole(carry.mean / unit),
                _range(carry, unit),
                _whole(fit.numbers["carry_sd"].mean / unit),
                _whole(side.mean / unit, sign=True),
                _range(side, unit, sign=True),
                _whole(fit.numbers["side_sd"].mean / unit),
                f"{10 * fit.numbers['mishits'].mean:.1f}",
            )
        )
    return _table(
        ("balls", "carry", "9 in 10", "±", "side", "9 in 10", "±", "mis"),
        rows,
        "carry, side: average of solid strikes, the nearer to what is usual the fewer "
        "the balls; 9 in 10: where that average truly lies; ±: spread (sd); mis: mishits, in ten",
    )


def _table(titles: Sequence[str], rows: Sequence[Sequence[str]], caption: str) -> Table:
    """Return a table of swings; a long title goes on a second line before any number is cut."""
    return table((*words("swing", wraps=True), *figures(*titles)), rows, caption, "close")


def _raw_table(fitted: Fitted) -> Table:
    """Return what is told of balls as they were: plain averages, the best one, and how sure the mishits are."""
    unit = fitted.unit
    rows = [
        (
            fit.swing.title,
            _whole(fit.raw["carry"] / unit),
            f"{fit.best / unit:.0f}",
            f"{10 * fitted.short[fit.swing.club, fit.swing.name]:.1f}",
            _whole(fit.raw["side"] / unit, sign=True),
            "{:.1f} to {:.1f}".format(
                *(10 * share for share in (fit.numbers["mishits"].low, fit.numbers["mishits"].high))
            ),
        )
        for fit in fitted.longest_first
    ]
    return _table(
        ("raw", "best", "short", "side", "mishits"),
        rows,
        "raw, side: average of all balls; short: balls in ten that don't reach the best "
        "one on the course; mishits: in ten, 9 in 10",
    )


def _worth_table(fitted: Fitted) -> Table:
    """Return spreads with their intervals, and what each number is worth in balls."""
    unit, rows = fitted.unit, []
    for fit in fitted.longest_first:
        worth, spreads = fit.swing.posterior, (fit.numbers["carry_sd"], fit.numbers["side_sd"])
        worths = (worth.carry, worth.side, worth.spread, worth.side_spread or 0.0, worth.mishits) if worth else ()
        rows.append(
            (
                fit.swing.title,
                *(text for told in spreads for text in (f"{told.mean / unit:.1f}", _range(told, unit))),
                *(f"{value:.0f}" for value in worths),
            )
        )
    return _table(
        ("±", "9 in 10", "±", "9 in 10", "worth", "side", "±", "±", "mis"),
        rows,
        "±: spreads of carry, side; worth: what carry, side, both spreads and mishits "
        "rest on, in balls, prior included",
    )


# ─── In sentences ───────────────────────────────────────────────────────────────────────────────────────────────────


def _words(found: SessionFit) -> list[str]:
    """Return what the session tells besides its swings."""
    lines = []
    if found.angle is not None:
        lines.append(_angle_words(found.angle))
    if found.first is not None:
        lines.append(_transfer_words(found.first, "First balls after a change of club") + _use(found, found.first))
    if found.routine is not None:
        lines.append(_transfer_words(found.routine, "Balls with a routine"))
    wild = sum(each.wild for each in found.fits.values())
    if wild >= WILD:
        lines.append(f"About {wild:.0f} balls flew wild, far off the line; they count as thin.")
    return lines


def _angle_words(angle: SharedAngle) -> str:
    """Say what an angle that all swings share may mean."""
    way = "right" if angle.degrees > 0 else "left"
    return (
        f"All {angle.swings} swings miss by the same angle, {abs(angle.degrees):.1f}° to the {way} "
        f"(± {angle.se:.1f}): are the device, the mat or the feet misaligned? Check that before you trust the sides."
    )


def _transfer_words(transfer: Transfer, which: str) -> str:
    """Say how ``which`` balls compare with the rest, shifts only where they are more than chance."""
    spread, mishits = transfer.spread, transfer.mishits
    shifts = []
    if transfer.carry.low > 0 or transfer.carry.high < 0:
        longer = "longer" if transfer.carry.mean > 0 else "shorter"
        shifts.append(f"{abs(transfer.carry.mean):.0%} {longer}")
    if transfer.direction.low > 0 or transfer.direction.high < 0:
        way = "right" if transfer.direction.mean > 0 else "left"
        shifts.append(f"{abs(transfer.direction.mean):.1f}° further {way}")
    return (
        f"{which} ({transfer.balls}) against the rest ({transfer.rest}): "
        f"spread × {spread.mean:.2f} ({spread.low:.2f} to {spread.high:.2f}), "
        f"mishits × {mishits.mean:.1f} ({mishits.low:.1f} to {mishits.high:.1f}: "
        f"{10 * transfer.mishit_rate:.1f} in ten, the rest {10 * transfer.rest_rate:.1f})."
        + (f" Solid ones fly {' and '.join(shifts)}." if shifts else "")
    )


def _use(found: SessionFit, first: Transfer) -> str:
    """Say whether first balls tell how the range comes to the course."""
    if found.without_first:
        return " This goes to the course: `range_to_course` is measured, and the swings are those of the rest."
    return f" From {ENOUGH} such balls on it replaces `range_to_course`; hit {ENOUGH - first.balls} more."


def _best_words(fitted: Fitted) -> str:
    """Say how often the session's best ball would come up short, and show it on the longest club."""
    fits = [fit for fit in fitted.longest_first if fit.swing.shots >= FEWEST]
    if not fits:
        return ""
    share = sum(fitted.short[fit.swing.club, fit.swing.name] for fit in fits) / len(fits)
    longest = fits[0]
    return (
        f"Choose by the best ball of the session, and {100 * share:.0f} in 100 come up short on the course. The "
        f"{longest.swing.title}'s best carried {longest.best / fitted.unit:.0f}; its solid strikes average "
        f"{longest.swing.carry / fitted.unit:.0f}."
    )


# ─── As data ────────────────────────────────────────────────────────────────────────────────────────────────────────


def fit_data(fitted: Fitted, learnt: Learnt | None = None) -> dict[str, Any]:
    """Return a fitted session as plain data, schema "fit/1"; lengths in yards."""
    found = fitted.found
    swings = [
        {
            **picked(each, club="swing.club", swing="swing.name", balls="swing.shots", raw="raw", fitted="numbers"),
            **picked(each.swing, "correlation fat thin"),
            "run": [each.swing.run, each.swing.run_sd],
            **picked(each, posterior="swing.posterior", best="best"),
            "short_of_best": fitted.short[key],
        }
        for key, each in found.fits.items()
    ]
    return {
        "schema": "fit/1",
        "player": fitted.player.name,
        "swings": swings,
        "refused": plain(fitted.faults),
        "warm_up": found.warm_up,
        "first": _transfer(found.first),
        "routine": _transfer(found.routine),
        **picked(found, "without_first"),
        "range_to_course": plain(fitted.player.range_to_course),
        **picked(found, "angle"),
        "remarks": [*fitted.remarks, *_words(found)],
        "rounds": None if learnt is None else rounds_data(learnt),
    }


def _transfer(transfer: Transfer | None) -> dict[str, Any] | None:
    return None if transfer is None else plain(transfer) | {"enough": transfer.enough}
