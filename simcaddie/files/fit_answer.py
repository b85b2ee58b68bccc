"""A fitted session as data: what ``fit`` prints, as JSON with a schema name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from simcaddie.errors import Fault
from simcaddie.fitting.fit import SessionFit
from simcaddie.fitting.session import Key
from simcaddie.fitting.transfer import Transfer
from simcaddie.fitting.words import fit_words
from simcaddie.golfer.player import Player

__all__ = ["fit_data"]


def _transfer(transfer: Transfer | None) -> dict[str, Any] | None:
    return None if transfer is None else asdict(transfer) | {"enough": transfer.enough}


def fit_data(
    fit: SessionFit, player: Player, faults: Sequence[Fault], remarks: Sequence[str], short: Mapping[Key, float]
) -> dict[str, Any]:
    """Return a fitted session as plain data, schema "fit/1"; lengths in yards.

    ``short`` is how often, by (club, swing), the session's best ball would come up short on the course.
    """
    swings = [
        {
            "club": club,
            "swing": swing,
            "balls": each.swing.shots,
            "raw": dict(each.raw),
            "fitted": {name: asdict(told) for name, told in each.numbers.items()},
            "correlation": each.swing.correlation,
            "fat": each.swing.fat,
            "thin": each.swing.thin,
            "run": [each.swing.run, each.swing.run_sd],
            "posterior": each.swing.posterior and asdict(each.swing.posterior),
            "best": each.best,
            "short_of_best": short[club, swing],
        }
        for (club, swing), each in fit.fits.items()
    ]
    return {
        "schema": "fit/1",
        "player": player.name,
        "swings": swings,
        "refused": [asdict(fault) for fault in faults],
        "warm_up": fit.warm_up,
        "first": _transfer(fit.first),
        "routine": _transfer(fit.routine),
        "without_first": fit.without_first,
        "range_to_course": asdict(player.range_to_course),
        "angle": fit.angle and asdict(fit.angle),
        "remarks": [*remarks, *fit_words(fit)],
    }
