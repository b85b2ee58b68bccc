"""The tables of ``simcaddie fit``: raw and fitted numbers side by side."""

from __future__ import annotations

from typing import TYPE_CHECKING

from simcaddie.cli.shared import plain_table
from simcaddie.units import YARDS_PER

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rich.table import Table

    from simcaddie.fitting.fit import SessionFit
    from simcaddie.fitting.session import Key
    from simcaddie.fitting.summary import SwingFit, Told
    from simcaddie.golfer.player import Player

__all__ = ["best_words", "fitted_table", "worth_table"]

_PADDING = (0, 1, 0, 0)  # twelve columns side by side


def _ordered(found: SessionFit) -> list[SwingFit]:
    """Return the fits, longest first."""
    return sorted(found.fits.values(), key=lambda fit: -fit.swing.carry)


def _whole(value: float, sign: bool = False) -> str:
    """Return a rounded number, never "-0"."""
    near = round(value) + 0
    return f"{near:+d}" if sign and near else f"{near:d}"


def _range(told: Told, unit: float, sign: bool = False) -> str:
    return f"{_whole(told.low / unit, sign)} to {_whole(told.high / unit, sign)}"


def fitted_table(found: SessionFit, units: str) -> Table:
    """Return what was shrunk: raw mean, fitted mean, interval and spread of carry and side."""
    unit = YARDS_PER[units]
    table = plain_table(
        _PADDING,
        "raw: average of all balls; carry, side: average of solid strikes, the nearer to what is usual the\n"
        "fewer the balls; 9 in 10: where that average truly lies; ±: spread (sd); mis: mishits, in ten",
    )
    table.add_column("swing")  # a long title goes on a second line before any number is cut
    for title in ("balls", "raw", "carry", "9 in 10", "±", "raw", "side", "9 in 10", "±", "mis", "9 in 10"):
        table.add_column(title, justify="right", no_wrap=True)
    for fit in _ordered(found):
        carry, side, mishits = (fit.numbers[key] for key in ("carry", "side", "mishits"))
        table.add_row(
            fit.swing.title,
            str(fit.swing.shots),
            _whole(fit.raw["carry"] / unit),
            _whole(carry.mean / unit),
            _range(carry, unit),
            _whole(fit.numbers["carry_sd"].mean / unit),
            _whole(fit.raw["side"] / unit, sign=True),
            _whole(side.mean / unit, sign=True),
            _range(side, unit, sign=True),
            _whole(fit.numbers["side_sd"].mean / unit),
            f"{10 * mishits.mean:.1f}",
            f"{10 * mishits.low:.1f} to {10 * mishits.high:.1f}",
        )
    return table


def worth_table(found: SessionFit, units: str, short: Mapping[Key, float]) -> Table:
    """Return best balls, spreads with their intervals, and what each number is worth in balls."""
    unit = YARDS_PER[units]
    table = plain_table(
        _PADDING,
        "short: balls in ten that don't reach the best one on the course; ±: spreads of carry, side;\n"
        "worth: what carry, side, both spreads and mishits rest on, in balls, prior included",
    )
    table.add_column("swing")  # a long title goes on a second line before any number is cut
    titles = ("best", "short", "±", "9 in 10", "±", "9 in 10", "worth", "side", "±", "±", "mis")
    for title in titles:
        table.add_column(title, justify="right", no_wrap=True)
    for fit in _ordered(found):
        worth, numbers = fit.swing.posterior, fit.numbers
        worths = (worth.carry, worth.side, worth.spread, worth.side_spread or 0.0, worth.mishits) if worth else ()
        table.add_row(
            fit.swing.title,
            f"{fit.best / unit:.0f}",
            f"{10 * short[fit.swing.club, fit.swing.name]:.1f}",
            *(
                text
                for key in ("carry_sd", "side_sd")
                for text in (f"{numbers[key].mean / unit:.1f}", _range(numbers[key], unit))
            ),
            *(f"{value:.0f}" for value in worths),
        )
    return table


def best_words(found: SessionFit, player: Player, short: Mapping[Key, float]) -> str:
    """Say how often the session's best ball would come up short, and show it on the longest club."""
    fits = [fit for fit in _ordered(found) if fit.swing.shots >= 5]
    if not fits:
        return ""
    unit = YARDS_PER[player.units]
    share = sum(short[fit.swing.club, fit.swing.name] for fit in fits) / len(fits)
    longest = fits[0]
    return (
        f"Choose by the best ball of the session, and {100 * share:.0f} in 100 come up short on the course. The "
        f"{longest.swing.title}'s best carried {longest.best / unit:.0f}; its solid strikes average "
        f"{longest.swing.carry / unit:.0f}."
    )
