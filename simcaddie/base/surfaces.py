"""The one table of surface kinds: what lies on the ground, and all that depends on it.

A kind is what an area of a hole is made of and, for a ball that rests there, its lie. To add a kind, add one row
here: the file formats, the area grid, the kernel's tables, relief, plans, maps, legends and words all read this table.
No other code asks for a kind by its name where a column can tell.

Where areas overlap the kind lower in the table wins; its place in the table is its code.

Numbers: ``run`` scales the run that a ball would have on an ordinary fairway; ``lost`` and ``unplayable`` are the
chances for a ball that comes to rest there. Lie and touch numbers of rough, sand and trees, told for a golfer of
index 18, are fitted to a tour player's published strokes (``player/__init__.py``), heather and gorse are common
practice, no source. A player file overrides them (keys ``lies`` and ``touch``).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

__all__ = [
    "BY_NAME",
    "GREEN",
    "GROUND",
    "NAMES",
    "OUT",
    "SAND",
    "SURFACES",
    "SYNONYMS",
    "TEE",
    "TREES",
    "WATER",
    "Drawing",
    "Lie",
    "Surface",
    "TouchLie",
    "code",
    "default_lies",
    "default_touch",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Lie:
    """What a lie does to a full or part swing of a club golfer of about index 18.

    ``carry``, ``spread``, ``mishits`` and ``run`` multiply; ``fail`` is the chance that the ball hardly moves, then
    ``fail_carry`` yards on average; ``min_loft`` and ``max_loft`` (degrees) rule out other clubs; ``low`` (0..1) is how
    much of the usual launch is left (a punch from under trees); ``gap`` is the share of the trees in the way that still
    counts, since a player who is in them looks for a gap; ``woods`` multiplies spread and mishits once more for clubs
    of less than 20°, which want a tee, ``wedges`` for those of 44° and more; ``longest`` names the longest club that
    may be used.
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
    wedges: float = 1.0
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
    """How a map draws the kind: fill and edge colours, and its texture (``charts/ground_fill.py``) without colour.

    ``hides`` is how many points it costs a label to lie on it; ``clear`` keeps the labels of small maps off it too;
    ``roomy`` lets its own name stand on it.
    """

    fill: str
    edge: str
    hatch: str = ""
    hides: float = 0.0
    clear: bool = False
    roomy: bool = False
    dashed: bool = False  # its edge


@dataclass(frozen=True, slots=True)
class Surface:
    """One kind of ground; see the module's head for the numbers."""

    name: str
    drawing: Drawing
    run: float = 1.0
    lost: float = 0.0
    unplayable: float = 0.0
    penalty: bool = False  # a penalty area, Rule 17
    out: bool = False  # out of bounds, Rule 18.2
    hazard: bool = False  # listed in yardages and reports, to carry or to stay short of
    canopy: bool = False  # stands over other ground, with a height and a density
    putting: bool = False
    fairway: bool = False  # the line of play runs along it, Local Rule E-5 drops on it
    level: bool = False  # made level, for tees
    turf: bool = False  # trouble is told against the last of these in the table that lies beside it
    around: bool = False  # may lie outside every area of a hole
    stands: bool = True  # a tee may stand on it
    article: str = "the"
    also: tuple[str, ...] = ()  # other words of the trade for it, answered by the one that the file knows
    tags: tuple[str, ...] = ()  # of OpenStreetMap that mean it and no more
    width: float = 0.0  # m, of a line on a map that stands for it; common practice, no source
    whole: bool = False  # on maps small enough to be never cut
    lie: Lie = field(default_factory=Lie)
    touch: TouchLie = field(default_factory=TouchLie)

    @property
    def title(self) -> str:
        """The kind in plain words."""
        return self.name.replace("_", " ")

    @property
    def trouble(self) -> bool:
        """Whether a ball that finishes there is in trouble."""
        return self.hazard or self.canopy

    @property
    def in_play(self) -> bool:
        """Whether a ball is played as it lies there."""
        return not (self.penalty or self.out)

    @property
    def swung(self) -> bool:
        """Whether a ball there is played on with swings and touch shots."""
        return self.in_play and not self.putting

    @property
    def smooth(self) -> bool:
        """Whether it is mown for play: tee, fairway or green."""
        return self.fairway or self.level or self.putting


# fmt: off
SURFACES: Final[tuple[Surface, ...]] = (
    Surface("rough", Drawing("#c6cca8", "#9aa27c"), run=0.45, turf=True, around=True, tags=("golf=rough",),
            lie=Lie(carry=0.97, spread=1.278, mishits=1.493, run=1.1, min_loft=14.0, woods=1.1),
            touch=TouchLie(near=3.0, far=0.223, direction=3.4, fat=0.054, thin=0.054, air=0.75)),
    Surface("light_rough", Drawing("#d3d9b4", "#a3ab84", hides=4.0), run=0.7, turf=True, around=True,
            also=("semi_rough", "semi-rough", "semi rough", "first cut"),
            lie=Lie(carry=0.99, spread=1.086, mishits=1.173, run=1.05, min_loft=12.0, woods=1.1),
            touch=TouchLie(near=2.3, far=0.174, direction=2.6, fat=0.037, thin=0.037, air=0.7)),
    Surface("fairway", Drawing("#e6e9cb", "#8f9b6c", hides=30.0, clear=True), fairway=True, turf=True, around=True,
            tags=("golf=fairway",), lie=Lie(min_loft=12.0, woods=1.1)),
    Surface("trees", Drawing("#b4c4a2", "#4c6a4c", "o", hides=8.0, roomy=True), run=0.4, lost=0.03, unplayable=0.05,
            canopy=True, stands=False, width=8.0, also=("wood", "woods", "forest"),
            tags=("natural=wood", "landuse=forest"),
            lie=Lie(carry=0.86, spread=1.107, mishits=1.197, run=2.0, fail=0.03, low=0.45, gap=0.125, min_loft=14.0,
                    max_loft=44.0, woods=1.1),
            touch=TouchLie(near=2.2, far=0.16, direction=2.5, fat=0.035, thin=0.035, fail=0.04, air=0.45)),
    Surface("heather", Drawing("#dac6d2", "#79506f", "+", hides=40.0, roomy=True), run=0.1, lost=0.05, unplayable=0.05,
            hazard=True, around=True,
            lie=Lie(carry=0.6, spread=1.6, mishits=2.5, run=0.9, fail=0.12, fail_carry=10.0, min_loft=27.0),
            touch=TouchLie(near=3.6, far=0.3, direction=6.0, fat=0.12, thin=0.06, fail=0.1, air=0.8)),
    Surface("gorse", Drawing("#d6cb8a", "#6b6222", "x", hides=40.0, roomy=True), run=0.05, lost=0.35, unplayable=0.8,
            hazard=True, around=True, stands=False,
            lie=Lie(carry=0.4, spread=1.8, mishits=3.0, run=0.8, fail=0.3, fail_carry=6.0, min_loft=40.0),
            touch=TouchLie(near=5.0, far=0.4, direction=8.0, fat=0.2, thin=0.06, fail=0.2, air=0.8)),
    Surface("path", Drawing("#f1ece0", "#8f836c", hides=10.0, dashed=True), run=1.5, article="a", width=2.0,
            lie=Lie(spread=1.05, mishits=1.2, min_loft=12.0, woods=1.1)),
    Surface("tee", Drawing("#dce5bf", "#5f7a45", hides=6.0), level=True, whole=True, tags=("golf=tee",)),
    Surface("water", Drawing("#bcd4e2", "#4d7c99", "-", hides=40.0, clear=True, roomy=True), penalty=True, hazard=True,
            stands=False, width=2.0, tags=("landuse=reservoir",),
            also=("pond", "lake", "burn", "stream", "creek", "ditch", "penalty_area", "penalty area")),
    Surface("bunker", Drawing("#faf1d6", "#a5813c", ".", hides=60.0, clear=True), run=0.06, hazard=True, stands=False,
            article="a", whole=True, also=("sand", "trap"), tags=("golf=bunker",),
            lie=Lie(carry=0.9, spread=1.241, mishits=1.493, run=1.0, fail=0.05, fail_carry=4.0, min_loft=18.0,
                    wedges=1.5),
            touch=TouchLie(near=3.2, far=0.24, direction=3.6, fat=0.061, thin=0.061, fail=0.089, air=0.85)),
    Surface("green", Drawing("#a9cb9c", "#3f6a38", hides=60.0, clear=True), run=0.95, putting=True, stands=False,
            whole=True, also=("putting green",), tags=("golf=green",)),
    Surface("out_of_bounds", Drawing("#dcd8d3", "#98918a", "/", hides=10.0), run=0.6, out=True, hazard=True,
            around=True, stands=False, also=("ob", "o.b."), tags=("golf=out_of_bounds",)),
)
# fmt: on

NAMES: Final[tuple[str, ...]] = tuple(surface.name for surface in SURFACES)
BY_NAME: Final[dict[str, Surface]] = {surface.name: surface for surface in SURFACES}
SYNONYMS: Final[dict[str, str]] = {word: surface.name for surface in SURFACES for word in surface.also}
# The kinds that code must name when it draws or assumes one
GROUND: Final = SURFACES[0].name  # what lies where nothing is drawn, unless a hole says otherwise
TREES: Final = next(surface.name for surface in SURFACES if surface.canopy)
TEE: Final = next(surface.name for surface in SURFACES if surface.level)
WATER: Final = next(surface.name for surface in SURFACES if surface.penalty)
SAND: Final = next(surface.name for surface in SURFACES if "sand" in surface.also)
GREEN: Final = next(surface.name for surface in SURFACES if surface.putting)
OUT: Final = next(surface.name for surface in SURFACES if surface.out)
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
