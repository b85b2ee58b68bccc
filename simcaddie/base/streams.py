"""Random streams: one seed, one Generator, children per piece of work, and a number of its own for every purpose.

Inside the compiled kernel numbers come from a counter instead (see ``model/kernel.py``): they are keyed by
(seed, sequence, draw), so no result depends on the number of threads.
"""

from __future__ import annotations

from enum import IntEnum

import numpy as np

__all__ = ["Purpose", "child_key", "generator", "kernel_key"]


class Purpose(IntEnum):
    """What random numbers are for; those of two purposes are unrelated. A step adds to the number once an item."""

    PLAIN = 0
    AUDIT = 3  # whole sequences of a comparison
    RERUN = 5  # those that check a break-even
    # Sets of first balls: to choose with, to value the choice with, to answer from the exact place, to look for its
    # best aims, and to take luck out of whole sequences
    CHOOSE = 11
    VALUE = 12
    ANSWER = 13
    LOOK = 14
    LUCK = 15
    GROUND = 16  # what the ground does with one strike
    ROLLOUT = 17  # whole sequences that hold best play against everyday play
    LEGS = 21  # of a line of play, and 100 more a leg
    DANGERS = 22
    TWENTY = 31  # the balls of a lesson
    SHEETS = 41
    ON_THE_RANGE = 51  # what the course does with balls hit on the range
    FINISHES = 52  # where a player's balls may have finished, of a round looked back on
    MEMBERS = 61  # a hole by a golfer of a field, each pair with a key of its own
    HOLES = 2000  # of a round, and one more a hole and day
    PRACTICE = 6000  # and one more a hole


def generator(seed: int) -> np.random.Generator:
    """Return the root Generator of a run; spawn children from it per piece of work."""
    return np.random.default_rng(seed)


def kernel_key(seed: int, purpose: int = Purpose.PLAIN) -> np.uint64:
    """Return the 64-bit key of the kernel's counter for this seed and piece of work.

    >>> bool(kernel_key(1) == kernel_key(1)), bool(kernel_key(1) == kernel_key(1, Purpose.AUDIT))
    (True, False)
    """
    return np.uint64(np.random.SeedSequence([seed, purpose]).generate_state(1, np.uint64)[0])


def child_key(seed: int, purpose: int, *place: int) -> np.uint64:
    """Return the key of one of many pieces of work, told apart by whole numbers from 0, whatever else is worked on.

    >>> bool(child_key(1, Purpose.MEMBERS, 3, 180) == child_key(1, Purpose.MEMBERS, 3, 181))
    False
    """
    return np.uint64(np.random.SeedSequence([seed, purpose, *place]).generate_state(1, np.uint64)[0])
