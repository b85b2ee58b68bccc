"""Random streams: one seed, one Generator, children per piece of work.

Inside the compiled kernel numbers come from a counter instead (see ``play/kernel.py``): they are keyed by
(seed, sequence, draw), so no result depends on the number of threads.
"""

from __future__ import annotations

import numpy as np

__all__ = ["generator", "kernel_key"]


def generator(seed: int) -> np.random.Generator:
    """Return the root Generator of a run; spawn children from it per piece of work."""
    return np.random.default_rng(seed)


def kernel_key(seed: int, purpose: int = 0) -> np.uint64:
    """Return the 64-bit key of the kernel's counter for this seed and piece of work.

    Different ``purpose`` numbers give unrelated draws from the same seed.

    >>> kernel_key(1) == kernel_key(1), kernel_key(1) == kernel_key(1, purpose=2)
    (True, False)
    """
    return np.uint64(np.random.SeedSequence([seed, purpose]).generate_state(1, np.uint64)[0])
