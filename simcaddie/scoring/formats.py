"""What a score is worth in the forms of play of Rule 21 (Rules of Golf, 2023), against a hole's net par.

    Stableford points = max(0, 2 + net par − score)        Rule 21.1b

Net par is par and the strokes received there, so gross scores go in. Arrays broadcast; ``holed`` (bool, True
by default) marks scores of players who did hole out: without that a hole is no points, a loss, the maximum.

A total is compared after the playing handicap was taken off where gross scores are counted (stroke play, maximum
score); points and holes won against net par have it in them already.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simcaddie.base.errors import BadRequest
from simcaddie.scoring.handicap import ALLOWANCES

__all__ = ["FORMS", "LIMITS", "Form", "limit_of", "maximum_score", "net_double_bogey", "par_bogey", "stableford"]

Whole = NDArray[np.int64]


def stableford(score: ArrayLike, net_par: ArrayLike, *, holed: ArrayLike = True) -> Whole:
    """Return Stableford points, 2 for net par (Rule 21.1b).

    >>> stableford([3, 5, 9], 5)
    array([4, 2, 0])
    """
    points = np.maximum(0, 2 + np.asarray(net_par, np.int64) - np.asarray(score, np.int64))
    return np.where(holed, points, 0)


def net_double_bogey(net_par: ArrayLike) -> Whole:
    """Return the first score that is worth no points: two over net par (Rules of Handicapping 3.1b)."""
    return np.asarray(np.asarray(net_par, np.int64) + 2)


def par_bogey(score: ArrayLike, net_par: ArrayLike, *, holed: ArrayLike = True) -> Whole:
    """Return 1 for a hole won, 0 tied, −1 lost against net par (Rule 21.3b)."""
    result: NDArray[Any] = np.sign(np.asarray(net_par, np.int64) - np.asarray(score, np.int64))
    return np.where(holed, result, -1)


def maximum_score(score: ArrayLike, limit: ArrayLike, *, holed: ArrayLike = True) -> Whole:
    """Return the score, at most the Committee's limit (Rule 21.2a), say twice par or net double bogey."""
    most = np.asarray(limit, np.int64)
    return np.where(holed, np.minimum(np.asarray(score, np.int64), most), most)


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
        "par/bogey", "par/bogey", lambda score, net, _: par_bogey(score, net), gross=False, more=True, unit="holes up"
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
