"""The one table of surface kinds: what lies on the ground, and all that depends on it.

A kind is what an area of a hole is made of and, for a ball that rests there, its lie. To add a kind, add one row
here: the file format, the area grid, the kernel's tables, relief, maps and legends all read this table.

Where areas overlap the kind lower in the table wins; its place in the table is its code.

Numbers: ``run`` scales the run that a ball would have on an ordinary fairway; ``lost`` and ``unplayable`` are the
chances for a ball that comes to rest there. Lie and touch numbers of rough, sand and trees are fitted to a tour
player's published strokes (DEVELOPERS.md, "Golfers"), heather and gorse are common practice, no source. A player file
overrides them (keys ``lies`` and ``touch``).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

__all__ = [
    "BY_NAME",
    "NAMES",
    "SURFACES",
    "SYNONYMS",
    "Drawing",
    "Lie",
    "Surface",
    "TouchLie",
    "code",
    "default_lies",
    "default_touch",
]


@dataclass(frozen=True, slots=True)
class Lie:
    """What a lie does to a full or part swing.

    ``carry``, ``spread``, ``mishits`` and ``run`` multiply; ``fail`` is the chance that the ball hardly moves, then
    ``fail_carry`` yards on average; ``min_loft`` and ``max_loft`` (degrees) rule out other clubs; ``low`` (0..1) is how
    much of the usual launch is left (a punch from under trees); ``gap`` is the share of the trees in the way that still
    counts, since a player who is in them looks for a gap; ``woods`` multiplies spread and mishits once more for clubs
    of less than 20°, which want a tee; ``longest`` names the longest club that may be used.
    """

    carry: float = 1.0
    spread: float = 1.0
    mishits: float = 1.0
    run: float = 1.0
    fail: float = 0.0
    fail_carry: float = 8.0
    min_loft: float = 0.0
    max_loft: float = 90.0
    low: float = 1.0
    gap: float = 1.0
    woods: float = 1.0
    longest: str | None = None


@dataclass(frozen=True, slots=True)
class TouchLie:
    """How well a feel shot comes off from a lie, for a club golfer of about index 18.

    Distance error (sd) = ``near`` yd + ``far`` × distance; ``direction`` is an sd in degrees; ``fat``, ``thin`` and
    ``fail`` are chances; ``air`` is the share of the way that a stock shot flies.
    """

    near: float = 1.9
    far: float = 0.141
    direction: float = 2.1
    fat: float = 0.027
    thin: float = 0.027
    fail: float = 0.0
    air: float = 0.65


@dataclass(frozen=True, slots=True)
class Drawing:
    """How a map draws the kind: fill and edge colours, and the texture (``report/terrain.py``) for black and white."""

    fill: str
    edge: str
    hatch: str = ""


@dataclass(frozen=True, slots=True)
class Surface:
    """One kind of ground; see the module's head for the numbers."""

    name: str
    title: str
    drawing: Drawing
    run: float = 1.0
    lost: float = 0.0
    unplayable: float = 0.0
    penalty: bool = False  # a penalty area, Rule 17
    out: bool = False  # out of bounds, Rule 18.2
    hazard: bool = False  # listed in yardages and reports
    putting: bool = False
    lie: Lie = field(default_factory=Lie)
    touch: TouchLie = field(default_factory=TouchLie)


# fmt: off
SURFACES: Final[tuple[Surface, ...]] = (
    Surface("rough", "rough", Drawing("#c6cca8", "#9aa27c"), run=0.45,
            lie=Lie(carry=0.97, spread=1.46, mishits=2.0, run=1.1, min_loft=14.0, woods=1.1),
            touch=TouchLie(near=3.0, far=0.223, direction=3.4, fat=0.054, thin=0.054, air=0.75)),
    Surface("light_rough", "light rough", Drawing("#d3d9b4", "#a3ab84"), run=0.7,
            lie=Lie(carry=0.99, spread=1.16, mishits=1.35, run=1.05, min_loft=12.0, woods=1.1),
            touch=TouchLie(near=2.3, far=0.174, direction=2.6, fat=0.037, thin=0.037, air=0.7)),
    Surface("fairway", "fairway", Drawing("#e6e9cb", "#8f9b6c"), lie=Lie(min_loft=12.0, woods=1.1)),
    Surface("trees", "trees", Drawing("#b4c4a2", "#4c6a4c", "o"), run=0.4, lost=0.03, unplayable=0.05,
            lie=Lie(carry=0.86, spread=1.2, mishits=1.4, run=2.0, fail=0.03, low=0.45, gap=0.125, min_loft=14.0,
                    max_loft=44.0, woods=1.1),
            touch=TouchLie(near=2.2, far=0.16, direction=2.5, fat=0.035, thin=0.035, fail=0.04, air=0.45)),
    Surface("heather", "heather", Drawing("#dac6d2", "#79506f", "+"), run=0.1, lost=0.05, unplayable=0.05, hazard=True,
            lie=Lie(carry=0.6, spread=1.6, mishits=2.5, run=0.9, fail=0.12, fail_carry=10.0, min_loft=27.0),
            touch=TouchLie(near=3.6, far=0.3, direction=6.0, fat=0.12, thin=0.06, fail=0.1, air=0.8)),
    Surface("gorse", "gorse", Drawing("#d6cb8a", "#6b6222", "x"), run=0.05, lost=0.35, unplayable=0.8, hazard=True,
            lie=Lie(carry=0.4, spread=1.8, mishits=3.0, run=0.8, fail=0.3, fail_carry=6.0, min_loft=40.0),
            touch=TouchLie(near=5.0, far=0.4, direction=8.0, fat=0.2, thin=0.06, fail=0.2, air=0.8)),
    Surface("path", "path", Drawing("#f1ece0", "#8f836c"), run=1.5,
            lie=Lie(spread=1.05, mishits=1.2, min_loft=12.0, woods=1.1)),
    Surface("tee", "tee", Drawing("#dce5bf", "#5f7a45")),
    Surface("water", "water", Drawing("#bcd4e2", "#4d7c99", "-"), penalty=True, hazard=True),
    Surface("bunker", "bunker", Drawing("#faf1d6", "#a5813c", "."), run=0.06, unplayable=0.0, hazard=True,
            lie=Lie(carry=0.9, spread=1.45, mishits=2.0, run=1.0, fail=0.05, fail_carry=4.0, min_loft=18.0),
            touch=TouchLie(near=3.0, far=0.226, direction=3.4, fat=0.055, thin=0.055, fail=0.08, air=0.85)),
    Surface("green", "green", Drawing("#a9cb9c", "#3f6a38"), run=0.95, putting=True),
    Surface("out_of_bounds", "out of bounds", Drawing("#dcd8d3", "#98918a", "/"), run=0.6, out=True, hazard=True),
)
# fmt: on

NAMES: Final[tuple[str, ...]] = tuple(surface.name for surface in SURFACES)
BY_NAME: Final[dict[str, Surface]] = {surface.name: surface for surface in SURFACES}
# Other words of the trade for the kinds of ground, answered by the one that the file knows.
SYNONYMS: Final[dict[str, str]] = {
    "sand": "bunker", "trap": "bunker", "pond": "water", "lake": "water", "burn": "water", "stream": "water",
    "creek": "water", "ditch": "water", "penalty_area": "water", "penalty area": "water", "wood": "trees",
    "woods": "trees", "forest": "trees", "ob": "out_of_bounds", "o.b.": "out_of_bounds",
    "semi_rough": "light_rough", "semi-rough": "light_rough", "semi rough": "light_rough",
    "first cut": "light_rough", "putting green": "green",
}
_CODES: Final[dict[str, int]] = {name: code for code, name in enumerate(NAMES)}


def code(name: str) -> int:
    """Return a kind's code, which is also its precedence where areas overlap.

    >>> code("rough"), code("green") > code("bunker")
    (0, True)
    """
    return _CODES[name]


def default_lies() -> dict[str, Lie]:
    """Return every kind's lie, as the surface table has it."""
    return {surface.name: surface.lie for surface in SURFACES}


def default_touch() -> dict[str, TouchLie]:
    """Return every kind's touch numbers, as the surface table has them."""
    return {surface.name: surface.touch for surface in SURFACES}
