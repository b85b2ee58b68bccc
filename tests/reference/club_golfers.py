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
# Putts of 10 ft left short: "fewer than one in ten" on tour, one in six by who scores about 90. Quoted by others.
SHORT_AT_10_FEET = {"tour": 0.095, "scores 90": 1 / 6}
HALF_HOLED_FROM = {"scores 80": 6.0, "scores 90": 5.0}  # ft; indexes 0 to 9, and who scores about 90; second-hand
BEHIND_THE_TOUR = 5.0  # strokes a round of a scratch man on the same course, about; quoted by others
# Down in two from greenside sand: published of high indexes only as far below the tour's half. Our reading of that, for
# an index of 25; no source.
SAND_IN_TWO = 0.15
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

# United States Golf Association, table of exceptional tournament score odds, older handicap system (index = 0.96 × the
# mean of the best 10 of 20), seen: once in so many rounds a differential is at least 0, 1 … 6 below the handicap. Two
# bands of five: indexes 6 to 12.9, and 22 to 30.9.
EXCEPTIONAL = {"band 6-12.9": (5, 10, 22, 51, 121, 276, 536), "scores 100": (5, 8, 13, 23, 40, 72, 130)}
OF_BEST_TEN = 0.96
# Equitable stroke control of that system: most strokes that count on a hole, up to a course handicap. From memory.
MOST_ON_A_HOLE = ((19.0, 7), (29.0, 8), (39.0, 9), (54.0, 10))  # up to 9: a double bogey

# Slope for men: bogey rating − course rating, times this. Golf Association of Michigan, page on ratings, seen.
SLOPE_PER_STROKE = 5.381


def rating_and_slope(yards: float) -> tuple[float, float]:
    """Return men's rating and slope of a course of ``yards`` without net obstacles, by the length formulas."""
    (per, constant, *_), (bogey_per, bogey_constant, *_) = LENGTH_RATING["scratch man"], LENGTH_RATING["bogey man"]
    rating = yards / per + constant
    return rating, SLOPE_PER_STROKE * (yards / bogey_per + bogey_constant - rating)


def most_on_a_hole(handicap: float, par: int) -> int:
    """Return what counted at most on a hole."""
    return par + 2 if handicap < 9.5 else next(most for up_to, most in MOST_ON_A_HOLE if handicap < up_to + 0.5)


def better_half_of(index: float, yards: float) -> float:
    """Return the better half of the scores that a man of ``index`` has by handicap arithmetic."""
    rating, slope = rating_and_slope(yards)
    return rating + index / OF_BEST_TEN * slope / 113.0
