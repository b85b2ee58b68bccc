"""Club golfers: single facts, and the model golfers of the Course Rating System.

Facts: "seen" in the source, "second-hand" (someone quoting it) or "from memory", as each says.
"""

from __future__ import annotations

# Broadie, golf.com, 3 January and 1 May 2018: weekend golfers. Seen.
FAIRWAYS = 0.49
RECOVERIES = 0.16
GREENS_FROM_150 = 0.35
MEDIAN_FEET_FROM_150 = 56.0
# A reprinted table, author not shown, seen: 90-shooters from 150 yd on the fairway
LENGTH_OVER_WIDTH = 1.5
SHORT_FROM_150 = 13.0  # yd
THREE_PUTTS_A_ROUND = {80: 1.0, 90: 2.0, 100: 3.0}  # second-hand, quoting Broadie
TWENTY_YARDS_MORE = 3.0  # "almost", high handicaps; S. Ko, PhD thesis, Columbia, 2012, abstract seen
# Rounds of club golfers before 2020, USGA, seen: mean above the course handicap, share at or better than it
MEAN_ABOVE_HANDICAP = 3.0
AT_OR_BETTER = 0.25
SCORES_NINETY = 15.5  # index: a mean of 90 on a course of rating 71, 3 above the better half. Arithmetic.

# Course Rating System, length rating: better half of scores = yards / a + b. Men's scratch formula seen on one
# unofficial page, the others from memory. (yards per stroke, constant, shortest and longest course to check)
LENGTH_RATING = {
    "scratch man": (220.0, 40.9, 5500.0, 7000.0),
    "bogey man": (160.0, 50.7, 5500.0, 7000.0),
    "scratch woman": (180.0, 40.1, 4800.0, 6200.0),
    "bogey woman": (120.0, 51.3, 4800.0, 6200.0),
}

# Slope for men: bogey rating − course rating, times this. Golf Association of Michigan, page on ratings, seen.
SLOPE_PER_STROKE = 5.381
