"""Why one option costs more than another: their difference split by where the first ball finishes.

With p_A(k), p_B(k) the shares of first balls that finish on ground of kind k, c_A(k), c_B(k) the mean strokes
that follow, and c(k) the mean over the balls of both,

    mean_A − mean_B = Σ (p_A − p_B) · (c − c_ref)  +  Σ [ p_A (c_A − c) + p_B (c − c_B) ]
                      how often it finishes there     how far off, and how well placed, it lies there

exactly, whatever c(k) and c_ref, since the shares add up to one. Turning A and B round turns every part's sign. The
second sum equals Σ w (c_A − c_B) with w the harmonic mean of p_A and p_B, so that kinds of ground which one option
hardly ever finds add no noise to it. E. M. Kitagawa, "Components of a difference between two rates", Journal of the
American Statistical Association 50 (1955), splits rates in the same manner, with c midway between c_A and c_B.

c_ref is the cost of the commonest ordinary ground: it moves nothing between the two sums.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.surfaces import BY_NAME, SURFACES
from simcaddie.base.units import told
from simcaddie.decision.compare import pick_two
from simcaddie.decision.measure import Measure, finish_names, standard_error
from simcaddie.decision.position import Position
from simcaddie.decision.request import Comparison
from simcaddie.solve.ahead import Balls

__all__ = [
    "Explanation",
    "Part",
    "counts",
    "counts_words",
    "explain",
    "explain_balls",
    "explain_words",
    "finds_words",
    "rows",
    "why_data",
]

_WORTH_A_WORD: Final = 0.02  # strokes
_MOST_WORDS: Final = 3
_SEEN: Final = 0.005  # of a share or in strokes: a row smaller than that shows as nothing
_FIND: Final = {"lost": "loses", "unplayable": "is unplayable with", "holed": "goes in with"} | {
    kind.name: f"goes {kind.title} with" if kind.out else f"finds {kind.article} {kind.title} with" for kind in SURFACES
}


@dataclass(frozen=True, slots=True)
class Part:
    """What one kind of finish adds to the difference.

    ``cost`` is the mean score from there over that from the reference; ``leave`` the mean yards to the pin, None
    where no ball of the option finished there; ``by_share`` and ``by_place`` the two terms of the module's head.
    """

    finish: str
    share_a: float
    share_b: float
    cost: float
    leave_a: float | None
    leave_b: float | None
    by_share: float
    by_place: float

    @property
    def total(self) -> float:
        """Strokes of the difference that stand to this finish."""
        return self.by_share + self.by_place


@dataclass(frozen=True, slots=True)
class Explanation:
    """Why option ``a`` costs ``difference`` strokes more than ``b`` (fewer where negative).

    The parts add up to the difference exactly, greatest first. ``nearer`` is how many yards less ``a`` leaves on like
    ground; ``units`` are those to tell it in.
    """

    a: str
    b: str
    difference: float
    se: float
    reference: str
    nearer: float
    parts: tuple[Part, ...]
    units: str = "yards"

    @property
    def by_place(self) -> float:
        """Strokes of the difference that stand to how far off and how well placed balls lie on like ground."""
        return sum(part.by_place for part in self.parts)


@dataclass(frozen=True, slots=True)
class _Balls:
    """One option's first balls: kind of finish, score that follows, yards left."""

    finish: NDArray[np.str_]
    score: NDArray[np.float64]
    leave: NDArray[np.float64]

    def at(self, kind: str) -> tuple[float, float, float | None]:
        """Return share, summed score over all balls, and yards left (None where there is no ball)."""
        here = self.finish == kind
        share = float(here.mean())
        return share, float(self.score[here].sum()) / here.size, float(self.leave[here].mean()) if share else None


def _reference(a: _Balls, b: _Balls) -> str:
    """Return the commonest finish outside trouble; the commonest of all where there is none."""
    kinds, counts = np.unique(np.concatenate([a.finish, b.finish]), return_counts=True)
    order = [str(kinds[i]) for i in np.argsort(-counts, kind="stable")]
    ordinary = [k for k in order if k in BY_NAME and not BY_NAME[k].trouble]
    return (ordinary or order)[0]


def _part(a: _Balls, b: _Balls, kind: str, at_reference: float) -> Part:
    share_a, sum_a, leave_a = a.at(kind)
    share_b, sum_b, leave_b = b.at(kind)
    cost = (sum_a + sum_b) / (share_a + share_b)
    return Part(
        finish=kind,
        share_a=share_a,
        share_b=share_b,
        cost=cost - at_reference,
        leave_a=leave_a,
        leave_b=leave_b,
        by_share=(share_a - share_b) * (cost - at_reference),
        by_place=(sum_a - share_a * cost) + (share_b * cost - sum_b),
    )


def _nearer(parts: tuple[Part, ...]) -> float:
    """Return how many yards less the first option leaves, averaged over like ground."""
    total = weight = 0.0
    for part in parts:
        if part.leave_a is not None and part.leave_b is not None:
            both = part.share_a * part.share_b / (part.share_a + part.share_b)
            total += both * (part.leave_b - part.leave_a)
            weight += both
    return total / weight if weight else 0.0


def explain(answer: Comparison, a: str, b: str) -> Explanation:
    """Split the difference in mean strokes between two options, each along its club's best aim.

    Parameters
    ----------
    answer : a comparison that holds both
    a, b : clubs or swings by name; the explanation tells why ``a`` costs more (or less) than ``b``

    Raises
    ------
    BadRequest
        A name that isn't among the options, or twice the same option.
    """
    one, other = pick_two(answer, a, b)
    balls = [answer.position.balls(m.option.swing, m.option.aim) for m in (one, other)]
    return explain_balls(answer.position, (one, other), (balls[0], balls[1]))


def explain_balls(position: Position, picked: tuple[Measure, Measure], balls: tuple[Balls, Balls]) -> Explanation:
    """Split the difference between two options by their first balls, ``Scene.balls``: those behind the table."""
    one, other = (_Balls(finish_names(o.rest), o.strokes, position.distance_left(o.rest)) for o in balls)
    apart = position.set_means(one.score - other.score)
    reference = _reference(one, other)
    at_reference = _part(one, other, reference, 0.0).cost
    kinds = np.unique(np.concatenate([one.finish, other.finish]))
    parts = tuple(sorted((_part(one, other, str(k), at_reference) for k in kinds), key=lambda part: -abs(part.total)))
    return Explanation(
        a=picked[0].title,
        b=picked[1].title,
        difference=float(apart.mean()),
        se=standard_error(apart),
        reference=reference,
        nearer=_nearer(parts),
        parts=parts,
        units=position.hole.units,
    )


def rows(explanation: Explanation) -> tuple[Part, ...]:
    """Return the parts to show: those too small to be seen are added up as one, "other", at the end."""
    seen = tuple(part for part in explanation.parts if _seen(part))
    rest = [part for part in explanation.parts if not _seen(part)]
    if not rest:
        return seen
    share_a, share_b = sum(part.share_a for part in rest), sum(part.share_b for part in rest)
    cost = sum((part.share_a + part.share_b) * part.cost for part in rest) / (share_a + share_b)
    by_share, by_place = sum(part.by_share for part in rest), sum(part.by_place for part in rest)
    return (*seen, Part("other", share_a, share_b, cost, None, None, by_share, by_place))


def _seen(part: Part) -> bool:
    return max(part.share_a, part.share_b, abs(part.by_share), abs(part.by_place)) >= _SEEN


def _balls(share: float, whole: int) -> str:
    count = round(whole * share)
    return {0: "none", 1: "one"}.get(count, str(count))


def counts(part: Part) -> tuple[str, str, str]:
    """Say both shares as numbers of balls, and of how many: tenths, or hundredths where tenths don't differ."""
    whole, words = (10, "ten") if round(10 * part.share_a) != round(10 * part.share_b) else (100, "a hundred")
    return _balls(part.share_a, whole), _balls(part.share_b, whole), words


def counts_words(part: Part) -> str:
    """Say both shares, "3 balls in ten instead of none"."""
    mine, theirs, words = counts(part)
    if mine == "none":
        return f"no ball in {words} instead of {theirs}"
    return f"{mine} ball{'' if mine == 'one' else 's'} in {words} instead of {theirs}"


def finds_words(part: Part) -> str:
    """Say how often the first option finishes there, "finds the heather with 3 balls in ten instead of none"."""
    return f"{_FIND[part.finish]} {counts_words(part)}"


def _told(part: Part) -> str:
    return f"{finds_words(part)}, which {'costs' if part.by_share > 0 else 'saves'} {abs(part.by_share):.2f}"


def _place_told(explanation: Explanation) -> str:
    worth, nearer = explanation.by_place, explanation.nearer
    yards = f"leaves {told(abs(nearer), explanation.units)} {'less' if nearer > 0 else 'more'} on like ground"
    if abs(worth) < _WORTH_A_WORD:
        return f"{yards} (worth next to nothing)" if abs(nearer) >= 1.0 else ""
    if (worth < 0) == (nearer > 0) and abs(nearer) >= 1.0:
        return f"{yards} ({'worth' if worth < 0 else 'which costs'} {abs(worth):.2f} strokes)"
    return f"lies {'worse' if worth > 0 else 'better'} on like ground ({abs(worth):.2f} strokes)"


def explain_words(explanation: Explanation) -> str:
    """Say in one or two sentences what makes the difference."""
    told = [p for p in explanation.parts if abs(p.by_share) >= _WORTH_A_WORD]
    told = sorted(told, key=lambda part: -abs(part.by_share))[:_MOST_WORDS]
    against = [part for part in told if part.by_share > 0]
    favour = [part for part in told if part.by_share <= 0]
    pieces = [(part.by_share > 0, _told(part)) for part in (*favour, *against)]
    place = _place_told(explanation)
    if place:
        pieces.insert(len(favour) if explanation.by_place > 0 else 0, (explanation.by_place > 0, place))
    text = ""
    for i, (costs, words) in enumerate(pieces):
        turn = i > 0 and costs != pieces[i - 1][0]
        text += (", but " if turn else "; it " if i else f"The {explanation.a} ") + words
    more = explanation.difference
    amount = f"costs {more:.2f} more than" if more >= 0 else f"saves {-more:.2f} against"
    if abs(more) < 0.005:
        amount = "comes to the same as"
    if not text:
        return f"The {explanation.a} {amount} the {explanation.b}; no one finish makes the difference."
    return f"{text}. In all it {amount} the {explanation.b}."


def why_data(explanation: Explanation) -> dict[str, Any]:
    """Return an explanation as plain data."""
    return {
        "a": explanation.a,
        "b": explanation.b,
        "difference": explanation.difference,
        "difference_se": explanation.se,
        "over": explanation.reference,
        "nearer_yd": explanation.nearer,
        "parts": [
            {
                "finish": part.finish,
                "share_a": part.share_a,
                "share_b": part.share_b,
                "cost": part.cost,
                "leave_a_yd": part.leave_a,
                "leave_b_yd": part.leave_b,
                "by_share": part.by_share,
                "by_place": part.by_place,
                "part": part.total,
            }
            for part in explanation.parts
        ],
        "sentence": explain_words(explanation),
    }
