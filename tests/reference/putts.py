"""Putts holed by distance, two data sets, and what was fitted to them.

``PUTTS_2018``: 1.25 million putts of tour players; M. Broadie, "Two simple putting models in golf", 2018,
as printed with the Stan case study below (golf_data_new.txt). Seen whole. ``PUTTS_1995``: D. Berry,
"Statistics: A Bayesian Perspective", 1995; used by A. Gelman and D. Nolan, "A probability model for golf
putting", Teaching Statistics 24(3), 2002. Seen whole. Fits: A. Gelman, "Model building and expansion for
golf putting", Stan case study, 2019. Seen. ``TOUR``: M. Broadie, "Every Shot Counts", 2014; known as each
row says: seen (quoted by others) or from memory.
"""

from __future__ import annotations

import numpy as np

# feet, tries, made
PUTTS_1995 = np.array([
    (2, 1443, 1346), (3, 694, 577), (4, 455, 337), (5, 353, 208), (6, 272, 149), (7, 256, 136),
    (8, 240, 111), (9, 217, 69), (10, 200, 67), (11, 237, 75), (12, 202, 52), (13, 192, 46),
    (14, 174, 54), (15, 167, 28), (16, 201, 27), (17, 195, 31), (18, 191, 33), (19, 147, 20),
    (20, 152, 24),
])
PUTTS_2018 = np.array([
    (0.28, 45198, 45183), (0.97, 183020, 182899), (1.93, 169503, 168594), (2.92, 113094, 108953),
    (3.93, 73855, 64740), (4.94, 53659, 41106), (5.94, 42991, 28205), (6.95, 37050, 21334),
    (7.95, 33275, 16615), (8.95, 30836, 13503), (9.95, 28637, 11060), (10.95, 26239, 9032),
    (11.95, 24636, 7687), (12.95, 22876, 6432), (14.43, 41267, 9813), (16.43, 35712, 7196),
    (18.44, 31573, 5290), (20.44, 28280, 4086), (21.95, 13238, 1642), (24.39, 46570, 4767),
    (28.4, 38422, 2980), (32.39, 31641, 1996), (36.39, 25604, 1327), (40.37, 20366, 834),
    (44.38, 15977, 559), (48.37, 11770, 311), (52.36, 8708, 231), (57.25, 8878, 204),
    (63.23, 5492, 103), (69.18, 3087, 35), (75.19, 1742, 24),
])

DIRECTION_2018 = 0.0178  # rad, two-parameter fit
DISTANCE_2018 = 0.080
DIRECTION_ONLY_1995 = 0.02665  # rad, one-parameter fit

# feet, share holed, three putts or worse, mean putts, how the mean is known
TOUR = (
    (2, 0.99, 0.00, 1.01, "from memory"),
    (3, 0.96, 0.00, 1.04, "seen"),
    (4, 0.88, 0.00, 1.13, "from memory"),
    (5, 0.77, 0.00, 1.23, "from memory"),
    (6, 0.66, 0.00, 1.34, "from memory"),
    (7, 0.58, 0.00, 1.42, "from memory"),
    (8, 0.50, 0.01, 1.50, "from memory"),
    (9, 0.45, 0.01, 1.56, "from memory"),
    (10, 0.40, 0.01, 1.61, "from memory"),
    (15, 0.23, 0.01, 1.78, "from memory"),
    (20, 0.15, 0.02, 1.87, "seen"),
    (30, 0.07, 0.05, 1.98, "from memory"),
    (40, 0.04, 0.10, 2.06, "from memory"),
    (50, 0.03, 0.17, 2.14, "from memory"),
    (60, 0.02, 0.23, 2.21, "from memory"),
)
