"""What the kernel takes: NamedTuples of plain C-contiguous arrays, built by ``pack`` and nowhere else.

numba passes these fast and caches them on disk. Lengths in yards, angles in radians clockwise from +y. The integer
names below are column numbers; a table's second line says what a column holds.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import IntEnum
from typing import Any, Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

__all__ = [
    "Asked",
    "DayTable",
    "Event",
    "Ground",
    "Policy",
    "Problem",
    "Putting",
    "Rest",
    "Room",
    "States",
    "Swings",
    "Touch",
    "Value",
]

Floats = NDArray[np.float64]

# Ground.kinds: one row per surface kind
KIND_SLOW: Final = 0  # ordinary-fairway yards of run that a yard takes; 0 takes the ball
KIND_LOST: Final = 1
KIND_UNPLAYABLE: Final = 2
KIND_PENALTY: Final = 3
KIND_OUT: Final = 4
KIND_PUTTING: Final = 5
KIND_FAIRWAY: Final = 6
KIND_LEVEL: Final = 7  # made level: the stance is flat whatever the slope
KIND_RUN: Final = 8  # yards that an ordinary-fairway yard of run is there; 0 takes the ball
KIND_COLUMNS: Final = 9

# Ground.word: what a cell holds
WORD_KIND: Final = 15  # mask of the kind's code
WORD_RULES: Final = 16  # a ball that rests there may be lost, out, unplayable or in a penalty area
WORD_SAME: Final = 5  # bits below the whole yards
WOOD: Final = 128  # Ground.wood from here on: under a canopy

# Ground.areas: one row per area of the hole
AREA_LATERAL: Final = 0  # 1 for a red penalty area
AREA_HEIGHT: Final = 1  # trees, yd
AREA_LOG_OPEN: Final = 2  # log(1 − density) per 10 m, ≤ 0
AREA_TILT: Final = 3  # greens: per cent
AREA_TILT_X: Final = 4  # unit vector pointing uphill
AREA_TILT_Y: Final = 5
AREA_COLUMNS: Final = 6

# Swings.table[lie, swing]
SW_USABLE: Final = 0
SW_FAIL: Final = 1
SW_FAIL_CARRY: Final = 2
SW_FAT: Final = 3  # cumulative with FAIL
SW_THIN: Final = 4  # cumulative with FAIL and FAT
SW_LAUNCH: Final = 5  # tangents: fat, thin, solid
SW_LANDING: Final = 8  # tangents: fat, thin, solid; 0 means the day's own
SW_BOW: Final = 11  # start of a curved flight against its chord, tangent
SW_GAP: Final = 12
SW_TURN: Final = 13  # how far the face turns per slope across the stance: tangent of the loft
SW_STRIKE: Final = 14  # three blocks: fat, thin, solid
STRIKE_CARRY: Final = 0
STRIKE_CARRY_SD: Final = 1
STRIKE_SIDE: Final = 2
STRIKE_SIDE_ON_CARRY: Final = 3  # lower Cholesky factor: side = mean + this·n1 + SIDE_SD·n2
STRIKE_SIDE_SD: Final = 4
STRIKE_RUN: Final = 5
STRIKE_RUN_SD: Final = 6
STRIKE_COLUMNS: Final = 7
SW_SOLID: Final = SW_STRIKE + 2 * STRIKE_COLUMNS
SW_COLUMNS: Final = SW_STRIKE + 3 * STRIKE_COLUMNS

# Touch.table[lie]
TOUCH_NEAR: Final = 0
TOUCH_FAR: Final = 1
TOUCH_DIRECTION: Final = 2  # tangent of the sd
TOUCH_FAIL: Final = 3
TOUCH_FAIL_CARRY: Final = 4
TOUCH_FAT: Final = 5  # cumulative
TOUCH_THIN: Final = 6  # cumulative
TOUCH_AIR: Final = 7
TOUCH_LONGEST: Final = 8
TOUCH_PACE: Final = 9  # the player's own allowance for the green's speed: what its run is multiplied by
TOUCH_COLUMNS: Final = 10

# The draws of one stroke: three normals, then three uniforms, then the gust, a normal
DRAW_CARRY: Final = 0
DRAW_SIDE: Final = 1
DRAW_RUN: Final = 2
DRAW_STRIKE: Final = 3
DRAW_TREES: Final = 4
DRAW_FIND: Final = 5
DRAWS: Final = 6
DRAW_GUST: Final = 6  # beside the others: drawn on gusty days alone


class Event(IntEnum):
    """What happened to a ball, besides coming to rest."""

    PLAYED = 0
    PENALTY_AREA = 1
    OUT_OF_BOUNDS = 2
    LOST = 3
    UNPLAYABLE = 4
    HOLED = 5
    HIT_TREE = 6
    FAILED = 7


class Ground(NamedTuple):
    """Arrays are [H, W], ``word`` row after row; ``area`` and ``canopy`` are area numbers or −1.

    ``word`` is a kind, WORD_RULES where the Rules may have a say, and from WORD_SAME on the whole yards (at least 1)
    that a ball may go with the kind sure to stay the same. ``wood`` is the whole yards sure to be free of canopy, below
    WOOD; from WOOD on those sure to stay under the same canopy, plus WOOD. [1, 1] where the hole has no trees.
    ``height`` stands on the corners of cells of its own, ``height_cell`` yards wide; [1, 1] where the hole is flat.
    """

    word: NDArray[np.uint16]
    wood: NDArray[np.uint8]
    area: NDArray[np.int16]
    canopy: NDArray[np.int16]
    height: Floats
    kinds: Floats
    areas: Floats
    x0: float
    y0: float
    cell: float
    rows: int
    columns: int
    pin_x: float
    pin_y: float
    tallest: float  # the highest canopy, yd
    height_cell: float
    highest: float  # of ``height``, yd
    steepest: float  # slope of ``height``
    local_rule_e5: bool


class Swings(NamedTuple):
    """float64[lie, swing, SW_COLUMNS]."""

    rows: Floats


class Touch(NamedTuple):
    """float64[lie, TOUCH_COLUMNS]; ``reach``: which share of the way to the pin each touch action aims for."""

    rows: Floats
    reach: Floats


class Putting(NamedTuple):
    """Cumulative putt laws and means by distance, [tilt, distance, 5] and [tilt, distance]; ``step`` in yd."""

    cumulative: Floats
    expected: Floats
    step: float


class DayTable(NamedTuple):
    """float64[swing, angle, strength, DAY_COLUMNS]; see ``weather/table.py``.

    Angles go round from the direction ``towards`` (radians clockwise from +y) that the wind blows to; one angle means
    no wind. Strengths are those of the wind at two sds below its mean, at it and two above; one means no gusts.
    """

    rows: Floats
    towards: float


class States(NamedTuple):
    """The (cell, lie) pairs that occur. of_cell int32[kind, Hc, Wc] (−1: none), xy float64[n, 2], lie int8[n].

    ``xy`` is the middle of the cell, but for the state ``start``: there it is the very place asked from.
    """

    of_cell: NDArray[np.int32]
    xy: Floats
    lie: NDArray[np.int8]
    x0: float
    y0: float
    cell: float
    start: int


class Policy(NamedTuple):
    """What to play from each state: swing number (touch actions follow the swings), bearing off the pin line.

    [states], or [used · states]: a row of states per number of strokes used, where that matters.
    """

    swing: NDArray[np.int16]
    bearing: Floats

    @property
    def turn(self) -> Floats:
        """Cosine and sine of the lines off the pin line, float64[row, 2]."""
        return np.column_stack([np.cos(self.bearing), np.sin(self.bearing)])


class Value(NamedTuple):
    """Strokes to go from each state."""

    to_go: Floats


class Problem(NamedTuple):
    """All that stays the same while one player plays one hole to one pin on one day."""

    ground: Ground
    swings: Swings
    touch: Touch
    putting: Putting
    day: DayTable
    states: States


ROOM_NUMBERS: Final = 34
ROOM_WHOLES: Final = 6
BLOCK: Final = 64  # balls that go through a stroke together: their numbers fit the processor's first cache


class Asked(NamedTuple):
    """Strokes to play, one row each: from (x, y) in yd off ``lie``, ``swing`` along the unit vector (dx, dy).

    ``draw`` is the first column of its draws.
    """

    x: Floats
    y: Floats
    dx: Floats
    dy: Floats
    lie: NDArray[np.int8]
    swing: NDArray[np.int16]
    draw: NDArray[np.int64]

    @classmethod
    def empty(cls, n: int) -> Asked:
        """Return room for ``n`` rows."""
        return cls(*(np.zeros(n, kind) for kind in (float, float, float, float, np.int8, np.int16, np.int64)))


class Room(NamedTuple):
    """Working room of one thread: a block's numbers, float64[ROOM_NUMBERS, BLOCK] and int64[ROOM_WHOLES, BLOCK]."""

    numbers: Floats
    wholes: NDArray[np.int64]


class Rest(NamedTuple):
    """Where balls came to rest, one row a ball, and what happened. ``finish`` is the kind before any relief."""

    x: Floats
    y: Floats
    surface: NDArray[np.int8]
    added: NDArray[np.int8]
    event: NDArray[np.int8]
    finish: NDArray[np.int8]
    landing_x: Floats
    landing_y: Floats

    @classmethod
    def empty(cls, n: int) -> Rest:
        """Return room for ``n`` balls."""

        def room(kind: Any) -> NDArray[Any]:
            return np.zeros(n, kind)

        return cls(*(room(kind) for kind in (float, float, np.int8, np.int8, np.int8, np.int8, float, float)))

    @classmethod
    def joined(cls, parts: Iterable[Rest]) -> Rest:
        """Return the balls of all parts, one part after the other."""
        return cls._make(np.concatenate(column) for column in zip(*parts, strict=True))
