"""Doubt about the player in words: how often each option is best, what that costs, whose balls would settle it."""

from __future__ import annotations

from typing import Final

from simcaddie.strategy.best_ball import BestBallCost
from simcaddie.strategy.doubt import Doubt
from simcaddie.strategy.request import Comparison
from simcaddie.strategy.switch_words import worth_words

__all__ = ["best_ball_words", "doubt_words"]

_RARE: Final = 0.01  # shares below this are not told
_HARDLY: Final = 0.1  # of the difference called level: knowing a swing for less is not worth a bucket of balls


def _in_hundred(share: float) -> str:
    return f"{100 * share:.0f}"


def _shares(doubt: Doubt) -> str:
    shares = list(zip(doubt.options, doubt.best, strict=True))
    first, most = shares[0][0].title, shares[0][1]
    others = sorted(((share, m.title) for m, share in shares[1:] if share >= _RARE), key=lambda item: -item[0])
    told = [f"the {title} for {_in_hundred(share)}" for share, title in others]
    text = f"The {first} is best for {_in_hundred(most)} in 100 of them"
    return text + (f", {', '.join(told)}." if told else ".")


def _settled(comparison: Comparison, doubt: Doubt) -> str:
    hardly = _HARDLY * comparison.objective.level
    if not doubt.swings or doubt.swings[0].value < hardly:
        return "More balls with any one club would hardly change the choice."
    most = doubt.swings[0]
    return (
        f"The {most.title} would settle it most: hit {most.balls} more balls with it. They tell "
        f"{100 * most.told / most.value:.0f} % of what there is to know of it, worth "
        f"{worth_words(comparison, most.value, 3)}."
    )


def doubt_words(comparison: Comparison, doubt: Doubt) -> tuple[str, ...]:
    """Say how often each option is best, what following the table costs, and which swing's balls would settle it."""
    loss = worth_words(comparison, doubt.loss)
    return (
        _shares(doubt),
        f"Following the table costs {loss} on average against knowing which of them you are.",
        _settled(comparison, doubt),
    )


def best_ball_words(cost: BestBallCost) -> str:
    """Say what choosing every club by its best ball costs from here."""
    verb = "costs" if cost.strokes >= 0.0 else "saves"
    first = f"the {cost.usual} first, not the {cost.sound}"
    if cost.usual == cost.sound:
        first = f"the {cost.usual} first either way"
    return (
        "Choosing every club by its best ball (usual play) instead of its average (sound play) "
        f"{verb} {abs(cost.strokes):.2f} strokes from here ({first})."
    )
