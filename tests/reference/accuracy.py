"""How wide and deep is the area that takes two shots in three, by length of shot.

The Course Rating System manual of the World Handicap System, section 4, accuracy table; men, a scratch
player and a bogey player (handicap index about 20). Yards. Seen whole. The shape of the area isn't stated
there, and mishits aren't in it.
"""

from __future__ import annotations

# length of shot: (width, depth)
SCRATCH_MEN = {
    90: (11, 14), 110: (12, 15), 130: (13, 15), 150: (15, 16), 170: (18, 17), 190: (23, 18), 210: (29, 19),
    230: (35, 20), 250: (41, 21),
}
BOGEY_MEN = {90: (16, 19), 110: (17, 21), 130: (18, 23), 150: (20, 25), 170: (24, 28), 190: (29, 34)}
SHARE = 0.67
