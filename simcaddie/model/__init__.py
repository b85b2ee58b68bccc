"""The game: one stroke kernel, the arrays that it reads, and the everyday ways to play.

numba, learnt by trying:

- The kernel takes NamedTuples of plain C-contiguous arrays, nested once (`Problem`). Structured arrays are slow; a
  function passed as an argument never hits the disk cache: select by number.
- numba's disk cache follows changes within one file only. `base/compiled.py` puts the cache in a folder named after a
  hash of all compiled sources; add a file pattern to `_COMPILED` when a new package compiles something.
- Reference counting is switched off (`_nrt=False`): compiled functions may not allocate arrays; hand them room to
  work in. With it on, records handed from function to function cost 344 ns a stroke where the stroke itself takes 98
  ns.
- `math.hypot` and `atan2`/`sin`/`cos` per stroke cost as much as the rest of it: the kernel takes a unit vector, and
  has its own `distance`.
- Threads are Python threads over compiled code without the lock (`base/parallel.py`), not `prange`: parallel loops
  take no nested records, compile five times as long and abort in forked workers under some threading layers.
- The ground grid holds, per cell, how many yards the kind is sure to stay the same (`same`) and how far there is no
  canopy (`clear`): runs and flights go in strides of that.
- Read-only arrays are another type and compile again. Use `floor`, not `int()`: −0.5 must not land in cell 0. No
  `fastmath`.

One seed gives the same bytes on one machine, whatever the number of threads. Inside the kernel every number comes
from a counter, keyed (seed and purpose, sequence, stroke, draw). Sequences come in mirrored pairs; a standard error
is taken over pairs. Options compared with each other use the same key.
"""
