"""The player as a record: a bag of swings, and how the player copes away from the range.

Everything a player file leaves out is filled in by ``player/defaults.py`` when the file is read, so a record is whole.
Lengths in yards, angles in degrees as a golfer says them; ``play`` turns them into the kernel's numbers.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from simcaddie.base.surfaces import Lie, TouchLie, default_lies, default_touch

__all__ = [
    "TRUST_ORDER",
    "Club",
    "Player",
    "Posterior",
    "Putting",
    "RangeToCourse",
    "Source",
    "Swing",
    "Trust",
    "title_of",
]  # fmt: skip

Source = Literal["range", "course"]
Trust = Literal["low", "ok", "high"]
TRUST_ORDER: Final[dict[str, int]] = {"high": 0, "ok": 1, "low": 2}  # most trusted first


def title_of(club: str, swing: str) -> str:
    """Say a club's swing: "driver" for its full swing, "half gap wedge" for another."""
    return club if swing == "full" else f"{swing} {club}"


@dataclass(frozen=True, slots=True)
class Posterior:
    """How surely a swing's numbers are known: what each is worth in balls, the prior's included.

    ``carry`` and ``side`` for the two averages, ``spread`` and ``side_spread`` for the spreads of carry and side (one
    number may do for both), ``mishits`` for the chances of fat and thin. Together with the swing's numbers it is a
    distribution to draw players from: see ``player/posterior.py``.
    """

    carry: float
    side: float
    spread: float
    mishits: float
    side_spread: float | None = None  # None: as ``spread``


@dataclass(frozen=True, slots=True)
class Swing:
    """One swing of one club: how far, how wide, and how it fails.

    The solid strike is bivariate normal in (``carry``, ``side``), side positive to the right of the aim line; ``run``
    is what follows on an ordinary fairway, no wind. ``fat`` and ``thin`` are chances. ``start_line`` (degrees from
    the aim line) says where the ball starts, so that a curve may pass or hit a tree; None starts it towards its
    finish. ``estimated`` tells that all of it is a guess, ``filled`` which of spreads and mishits nobody gave.
    """

    club: str
    name: str  # "full", "half", …
    loft: float
    carry: float
    carry_sd: float
    side: float
    side_sd: float
    correlation: float
    run: float
    run_sd: float
    fat: float
    thin: float
    launch: float
    landing: float
    spin: float
    start_line: float | None = None
    shots: int = 0
    source: Source = "range"
    trust: Trust = "ok"
    estimated: bool = False
    posterior: Posterior | None = None
    filled: tuple[str, ...] = field(default=(), compare=False, repr=False)

    @property
    def guessed(self) -> bool:
        """Whether any of carry, spreads and mishits stands in for a measurement."""
        return self.estimated or bool(self.filled)

    @property
    def title(self) -> str:
        """What a coach calls it: "driver", "half gap wedge"."""
        return title_of(self.club, self.name)

    @property
    def total(self) -> float:
        """Average carry and run of a solid strike on an ordinary fairway, in yards."""
        return self.carry + self.run


@dataclass(frozen=True, slots=True)
class Club:
    """A club and its swings, the full one first."""

    name: str
    loft: float
    swings: tuple[Swing, ...]


@dataclass(frozen=True, slots=True)
class RangeToCourse:
    """Declared transfer: what range numbers are multiplied by for play on the course."""

    spread: float = 1.25
    mishits: float = 1.5

    def of(self, source: Source) -> RangeToCourse:
        """Return what numbers from ``source`` are multiplied by: nothing flatters numbers from the course."""
        return self if source == "range" else RangeToCourse(1.0, 1.0)


@dataclass(frozen=True, slots=True)
class Putting:
    """Putting: direction sd in degrees, distance sd as a fraction; by default of index 18.

    ``past`` is how far past the hole a putt of 10 ft is meant to finish, in feet; it falls by the share ``falls`` per
    foot of the putt's length.
    """

    direction_sd: float = 1.77
    distance_sd: float = 0.0995
    past: float = 1.02
    falls: float = 0.01


@dataclass(frozen=True, slots=True)
class Player:
    """A player. ``lies`` and ``touch`` hold every lie by surface kind, defaults filled in.

    ``routine`` is what the player does before every stroke, in the player's own words; none where nothing was said.
    """

    name: str
    bag: tuple[Club, ...]
    handicap_index: float | None = None
    range_to_course: RangeToCourse = field(default_factory=RangeToCourse)
    touch: Mapping[str, TouchLie] = field(default_factory=default_touch)
    putting: Putting = field(default_factory=Putting)
    lies: Mapping[str, Lie] = field(default_factory=default_lies)
    units: str = "yards"
    routine: str | None = None

    @property
    def swings(self) -> tuple[Swing, ...]:
        """All swings in bag order; a swing's place here is its number in the kernel."""
        return tuple(swing for club in self.bag for swing in club.swings)

    def with_swings(self, change: Callable[[Swing], Swing]) -> Player:
        """Return the player with every swing as ``change`` makes it."""
        bag = tuple(replace(club, swings=tuple(change(swing) for swing in club.swings)) for club in self.bag)
        return replace(self, bag=bag)
