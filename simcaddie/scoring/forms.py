"""Forms of play: what a hole's score counts, and which total is the better one. Rules 3 and 21, Rules of Golf 2023.

A total is compared after the playing handicap was taken off where gross scores are counted (stroke play, maximum
score); points and holes won against net par have it in them already.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.errors import BadRequest
from simcaddie.scoring.handicap import ALLOWANCES
from simcaddie.scoring.points import maximum_score, net_double_bogey, par_bogey, stableford

__all__ = ["FORMS", "LIMITS", "Form", "limit_of"]

Whole = NDArray[np.int64]
LIMITS: Final = ("net-double-bogey", "double-par")  # besides a number; Rule 21.2a names all three
LOWEST_LIMIT, HIGHEST_LIMIT = 3, 12


@dataclass(frozen=True, slots=True)
class Form:
    """A form of play.

    ``title`` says it, ``allowance`` is the key of its recommended share in ``ALLOWANCES``; ``counts`` takes scores,
    net par and the hole's limit to what they count; ``gross`` tells that the playing handicap still comes off the
    total, ``more`` that the higher total is better, ``unit`` what a total is counted in.
    """

    title: str
    allowance: str
    counts: Callable[[Whole, int, int], Whole]
    gross: bool
    more: bool
    unit: str

    @property
    def share(self) -> float:
        """The recommended allowance (Rules of Handicapping, Appendix C)."""
        return float(ALLOWANCES[self.allowance])


def _plain(score: Whole, _net_par: int, _limit: int) -> Whole:
    return score


FORMS: Final[Mapping[str, Form]] = {
    "stroke": Form("stroke play", "stroke play", _plain, gross=True, more=False, unit="strokes"),
    "stableford": Form(
        "Stableford", "stableford", lambda score, net, _: stableford(score, net), gross=False, more=True, unit="points"
    ),
    "maximum": Form(
        "maximum score",
        "maximum score",
        lambda score, _net, most: maximum_score(score, most),
        gross=True,
        more=False,
        unit="strokes",
    ),
    "par-bogey": Form(
        "par/bogey",
        "par/bogey",
        lambda score, net, _: par_bogey(score, net),
        gross=False,
        more=True,
        unit="holes up",
    ),
    "match": Form("match play", "match play", _plain, gross=True, more=False, unit="strokes"),
}


def limit_of(limit: str, par: int, net_par: int) -> int:
    """Return the most that a hole counts for at maximum score, by ``limit``: one of ``LIMITS``, or a number.

    >>> limit_of("net-double-bogey", 4, 5), limit_of("double-par", 4, 5), limit_of("9", 4, 5)
    (7, 8, 9)
    """
    if limit == "net-double-bogey":
        return int(net_double_bogey(net_par))
    if limit == "double-par":
        return 2 * par
    if limit.isdecimal() and LOWEST_LIMIT <= int(limit) <= HIGHEST_LIMIT:
        return int(limit)
    raise BadRequest(
        f"a limit is {', '.join(LIMITS)} or a number from {LOWEST_LIMIT} to {HIGHEST_LIMIT}, not '{limit}'"
    )
