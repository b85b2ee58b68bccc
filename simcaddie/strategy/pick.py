"""Two rows of an answer by name, for questions about a pair of options."""

from __future__ import annotations

from simcaddie.errors import BadRequest
from simcaddie.strategy.measure import Measure
from simcaddie.strategy.options import named_swings, plain_name
from simcaddie.strategy.request import Comparison

__all__ = ["pick", "pick_two"]


def pick(answer: Comparison, name: str) -> Measure:
    """Return the row of a club or swing by its best aim.

    A title as the table shows it means that swing; the name of a club with several swings means the best of them.

    Raises
    ------
    BadRequest
        A name that the player's bag doesn't have, or that isn't among the options compared.
    """
    found = [m for m in answer.options if plain_name(m.title) == plain_name(name)]
    if not found:
        numbers = named_swings(answer.scene.player, [name])
        found = [m for m in answer.options if m.option.swing in numbers]
    if not found:
        titles = ", ".join(dict.fromkeys(m.title for m in answer.options))
        raise BadRequest(f"'{name}' is not among the choices compared here: {titles}")
    return min(found, key=lambda m: m.worth)


def pick_two(answer: Comparison, a: str, b: str) -> tuple[Measure, Measure]:
    """Return two different rows by name.

    Raises
    ------
    BadRequest
        As ``pick``, and where both names mean the same row.
    """
    one, other = pick(answer, a), pick(answer, b)
    if one is other:
        raise BadRequest(f"'{a}' and '{b}' are the same choice: name two different ones")
    return one, other
