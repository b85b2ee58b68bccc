"""The mark of numbers that stand in for a measurement: one everywhere, told in words beneath whatever shows it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from simcaddie.player.swing import Player, Swing

__all__ = ["ESTIMATED", "MARK", "estimates_told", "marked", "marked_title", "swings_of"]

MARK: Final = "~"
ESTIMATED: Final = f"{MARK} estimated, not measured: what golfers of such an index do"


def marked(text: str, estimated: bool) -> str:
    """Return a number or a name, with the mark before it where it is, or rests on, an estimate.

    >>> marked("152", True), marked("driver", False)
    ('~152', 'driver')
    """
    return f"{MARK}{text}" if estimated else text


def swings_of(player: Player, numbers: Iterable[int]) -> list[Swing]:
    """Return a player's swings by number; touch actions, which follow them, are none."""
    return [player.swings[number] for number in numbers if number < len(player.swings)]


def marked_title(player: Player, number: int, title: str) -> str:
    """Return what is played by the number of its swing, marked where that rests on an estimate."""
    return marked(title, any(swing.guessed for swing in swings_of(player, [number])))


def estimates_told(swings: Iterable[Swing]) -> str:
    """Return the words for the mark where any of ``swings`` bears it, else nothing."""
    return ESTIMATED if any(swing.guessed for swing in swings) else ""
