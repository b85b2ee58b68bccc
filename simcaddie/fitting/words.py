"""What a session says, in sentences for a coach: the misread balls aside, which the caller lists."""

from __future__ import annotations

from typing import Final

from simcaddie.fitting.alignment import SharedAngle
from simcaddie.fitting.fit import SessionFit
from simcaddie.fitting.transfer import ENOUGH, Transfer

__all__ = ["angle_words", "fit_words", "transfer_words"]

WILD: Final = 2.0  # balls, to speak of them


def angle_words(angle: SharedAngle) -> str:
    """Return what an angle that all swings share may mean."""
    way = "right" if angle.degrees > 0 else "left"
    return (
        f"All {angle.swings} swings miss by the same angle, {abs(angle.degrees):.1f}° to the {way} "
        f"(± {angle.se:.1f}): are the device, the mat or the feet misaligned? Check that before you trust the sides."
    )


def _factor(transfer: Transfer) -> str:
    spread, mishits = transfer.spread, transfer.mishits
    return (
        f"spread × {spread.mean:.2f} ({spread.low:.2f} to {spread.high:.2f}), "
        f"mishits × {mishits.mean:.1f} ({mishits.low:.1f} to {mishits.high:.1f}: "
        f"{10 * transfer.mishit_rate:.1f} in ten, the rest {10 * transfer.rest_rate:.1f})"
    )


def _shifts(transfer: Transfer) -> str:
    """Say where the balls' middle lies off the rest's, where that is more than chance."""
    words = []
    if transfer.carry.low > 0 or transfer.carry.high < 0:
        longer = "longer" if transfer.carry.mean > 0 else "shorter"
        words.append(f"{abs(transfer.carry.mean):.0%} {longer}")
    if transfer.direction.low > 0 or transfer.direction.high < 0:
        way = "right" if transfer.direction.mean > 0 else "left"
        words.append(f"{abs(transfer.direction.mean):.1f}° further {way}")
    return f" Solid ones fly {' and '.join(words)}." if words else ""


def transfer_words(transfer: Transfer, which: str, *, used: bool, asked: bool) -> str:
    """Return how ``which`` balls ("first balls after a change of club") compare with the rest.

    ``used`` says that this is what goes to the course; ``asked`` that it might, with more of them.
    """
    text = f"{which} ({transfer.balls}) against the rest ({transfer.rest}): {_factor(transfer)}.{_shifts(transfer)}"
    if used:
        return text + " This goes to the course: `range_to_course` is measured, and the swings are those of the rest."
    if asked:
        return text + f" From {ENOUGH} such balls on it replaces `range_to_course`; hit {ENOUGH - transfer.balls} more."
    return text


def fit_words(fit: SessionFit) -> list[str]:
    """Return the sentences below a table of fitted swings."""
    lines = []
    if fit.angle is not None:
        lines.append(angle_words(fit.angle))
    if fit.first is not None:
        lines.append(
            transfer_words(
                fit.first, "First balls after a change of club", used=fit.without_first, asked=not fit.without_first
            )
        )
    if fit.routine is not None:
        lines.append(transfer_words(fit.routine, "Balls with a routine", used=False, asked=False))
    wild = sum(each.wild for each in fit.fits.values())
    if wild >= WILD:
        lines.append(f"About {wild:.0f} balls flew wild, far off the line; they count as thin.")
    return lines
