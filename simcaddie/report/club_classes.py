"""Clubs in at most eight groups by length, and a scale of colours that tells the groups apart.

The colours lie on a straight line in CIELAB (CIE 15), from pale straw for the longest clubs to blue for the
shortest strokes: equal steps look equally far apart. The line runs along the yellow–blue axis, which colour-blind
readers see, and lightness falls evenly along it, so that grey print keeps the order.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.golfer.player import Player

__all__ = ["MOST_CLASSES", "ClubClass", "club_classes", "lab_to_srgb", "ramp", "short_name"]

MOST_CLASSES: Final = 8
NAMED: Final = 0.08  # a club with less of its group's ground than this isn't named in the group's title
_PALE: Final = (95.0, -3.0, 32.0)  # CIELAB L*, a*, b*
_DARK: Final = (50.0, -3.0, -32.0)
_WHITE: Final = (0.95047, 1.0, 1.08883)  # D65, 2° observer
_TO_LINEAR: Final = np.array(  # IEC 61966-2-1
    [[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]]
)


@dataclass(frozen=True, slots=True)
class ClubClass:
    """A group of clubs: swing numbers, a title ("6, 7 iron"), a short name for the map ("6i–7i"), a colour."""

    swings: frozenset[int]
    title: str
    short: str
    colour: str


def lab_to_srgb(lab: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return sRGB, 0 … 1, of CIELAB colours, float64[..., 3]; D65."""
    fy = (lab[..., 0] + 16.0) / 116.0
    f = np.stack([fy + lab[..., 1] / 500.0, fy, fy - lab[..., 2] / 200.0], axis=-1)
    xyz = np.where(f > 6 / 29, f**3, 3 * (6 / 29) ** 2 * (f - 4 / 29)) * _WHITE
    linear = np.clip(xyz @ _TO_LINEAR.T, 0.0, 1.0)
    return np.asarray(np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055))


def ramp(count: int) -> list[str]:
    """Return ``count`` colours in equal steps, pale first, as "#rrggbb"."""
    share = np.linspace(0.0, 1.0, count)[:, None] if count > 1 else np.zeros((1, 1))
    colours = lab_to_srgb(np.array(_PALE) + share * (np.array(_DARK) - np.array(_PALE)))
    return ["#" + "".join(f"{round(255 * channel):02x}" for channel in colour) for colour in colours]


def short_name(title: str) -> str:
    """Return a club's title as it stands on a map.

    >>> [short_name(title) for title in ("5 wood", "half gap wedge", "driver", "touch shot", "9 iron")]
    ['5w', '½ GW', 'driver', 'touch', '9i']
    """
    part, rest = ("½ ", title.removeprefix("half ")) if title.startswith("half ") else ("", title)
    if numbered := re.fullmatch(r"(\d+) (\w).*", rest):
        return part + numbered[1] + numbered[2]
    if rest.endswith(" wedge"):
        return part + "".join(word[0].upper() for word in rest.split())
    return part + rest.removesuffix(" shot")


def _joined(titles: Sequence[str]) -> str:
    """Join titles, a common last word told once."""
    last = {title.split()[-1] for title in titles}
    if len(titles) > 1 and len(last) == 1 and all(" " in title for title in titles):
        (word,) = last
        return ", ".join(title.removesuffix(f" {word}") for title in titles) + f" {word}"
    return ", ".join(titles)


def _cuts(weights: tuple[float, ...], most: int) -> tuple[int, ...]:
    """Return where to cut a row of weights into at most ``most`` runs, as equal in weight as can be."""

    @cache
    def best(start: int, left: int) -> tuple[float, tuple[int, ...]]:
        if left == 1 or start == len(weights) - 1:
            return sum(weights[start:]) ** 2, ()
        options: list[tuple[float, tuple[int, ...]]] = [(sum(weights[start:]) ** 2, ())]
        for cut in range(start + 1, len(weights)):
            rest, cuts = best(cut, left - 1)
            options.append((sum(weights[start:cut]) ** 2 + rest, (cut, *cuts)))
        return min(options)

    return best(0, most)[1]


def club_classes(player: Player, counts: NDArray[np.int64]) -> list[ClubClass]:
    """Return the groups of clubs that a map tells apart, longest first, touch shots last.

    Parameters
    ----------
    player : whose clubs they are
    counts : int64[actions], on how much ground each swing is best; touch actions follow the swings
    """
    swings = player.swings
    used = sorted((i for i in range(len(swings)) if counts[i] > 0), key=lambda i: -swings[i].carry)
    touch = [i for i in range(len(swings), counts.size) if counts[i] > 0]
    groups: list[list[int]] = []
    if used:
        edges = [0, *_cuts(tuple(float(counts[i]) for i in used), MOST_CLASSES - bool(touch)), len(used)]
        groups = [used[a:b] for a, b in pairwise(edges)]
    classes = []
    for group, colour in zip([*groups, *([touch] if touch else [])], ramp(len(groups) + bool(touch)), strict=True):
        total = sum(int(counts[i]) for i in group)
        titles = ["touch shot"]
        if group is not touch:
            titles = [swings[i].title for i in group if counts[i] >= NAMED * total]
        ends = dict.fromkeys((short_name(titles[0]), short_name(titles[-1])))
        classes.append(ClubClass(frozenset(group), _joined(titles), "–".join(ends), colour))
    return classes
