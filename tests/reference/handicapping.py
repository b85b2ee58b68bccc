"""Worked examples of handicap sums, each with its source and how it is known.

Seen: read in the source. Second-hand: a club or national body quoting it. Arithmetic: worked from the
formula by us. "Rules of Handicapping" are those of the World Handicap System, 2024.
"""

from __future__ import annotations

# index, slope, course rating, par, unrounded to 4 places, rounded, source, known
COURSE_HANDICAPS = (
    (26.2, 126, 72.1, 72, 29.3142, 29, "W11: two club pages (ewga.ca, fpmonday.com)", "second-hand"),
    (16.1, 132, 71.2, 72, 18.0071, 18, "W12: emgagolf.com", "second-hand"),
    (16.1, 125, 68.8, 72, 14.6097, 15, "W12: emgagolf.com", "second-hand"),
    # The page prints 20.2 for the unrounded value; its own numbers give 20.145.
    (20.1, 120, 69.8, 71, 20.1451, 20, "W13: trenthamparkgolfclub.com", "second-hand, misprint noted"),
    (11.4, 132, 75.1, 71, 17.4168, 17, "formula of Rule 6.1a", "arithmetic"),
)

# unrounded course handicap from: index, slope, rating, par; allowance; playing handicap; source, known
PLAYING_HANDICAPS = (
    (16.1, 132, 71.2, 72, "0.95", 17, "W12 with Appendix C", "arithmetic"),
    (16.1, 125, 68.8, 72, "0.95", 14, "W12 with Appendix C", "arithmetic"),
    (11.4, 132, 71.0, 71, "0.95", 13, "Rule 6.2a: rounding first would give 12", "arithmetic"),
    (11.4, 132, 75.1, 71, "0.95", 17, "Rule 6.2a", "arithmetic"),
)

# Nine holes, Rule 6.1b: half the index with the nine's own slope, rating and par; the rule and that rounding comes
# last were seen (usga.org), the halving is from memory. W8's ratings of two nines (36.1 + 37.0 = 73.1; slopes 132 and
# 131 give 132) were seen (randa.org, interpretations of Rule 6). Index, slope, rating, par, unrounded, rounded.
NINE_HOLES = (
    (18.2, 118, 27.0, 28, 8.5027, 9, "formula of Rule 6.1b", "arithmetic"),
    (26.2, 132, 36.1, 36, 15.4027, 15, "W8, the first nine", "arithmetic"),
    (26.2, 131, 37.0, 36, 16.1867, 16, "W8, the second nine", "arithmetic"),
    (-2.4, 121, 35.2, 36, -2.0850, -2, "formula of Rule 6.1b, a plus player", "arithmetic"),
)
NINES_TOGETHER = ((36.1, 132), (37.0, 131), (73.1, 132))

# Plus players: an allowance moves them up towards nought, rounding included (Appendix C, seen); a half goes up.
# unrounded course handicap, allowance, playing handicap
PLUS_PLAYERS = (
    ("-4", "0.85", -3, "Appendix C with a four-ball's allowance: −3.4", "arithmetic"),
    ("-4", "0.95", -4, "−3.8", "arithmetic"),
    ("-2.5", "1.00", -2, "a half goes towards +∞", "arithmetic"),
    ("-1", "0.95", -1, "−0.95", "arithmetic"),
    ("-0.5", "1.00", 0, "a half goes towards +∞", "arithmetic"),
)

# playing handicap, {strokes: stroke indexes that get them}, source, known
STROKES = (
    (14, {1: range(1, 15), 0: range(15, 19)}, "W2: usga.org, FAQ on stroke index allocation", "seen"),
    (29, {2: range(1, 12), 1: range(12, 19)}, "W11: two club pages", "second-hand"),
    (40, {3: range(1, 5), 2: range(5, 19)}, "Appendix E: the order repeats above 18", "arithmetic"),
    (-2, {-1: range(17, 19), 0: range(1, 17)}, "W3: Appendix C, plus handicaps give strokes back", "seen"),
)

# strokes of the round, par, stroke index, most that counts, source, known
MAX_HOLE_SCORES = (
    (15, 4, 10, 7, "W1: usga.org, FAQ on the maximum hole score", "seen"),
    # W16: with 18 the most is a triple bogey everywhere; with 15 a triple on indexes 1-15, a double on 16-18.
    *((18, 4, index, 7, "W16: awasports.net", "second-hand") for index in range(1, 19)),
    *((15, 4, index, 7 if index <= 15 else 6, "W16: awasports.net", "second-hand") for index in range(1, 19)),
)

# W15: a match of four at 100 %, popeofslope.com, 2011; second-hand
MATCH = ((4, 5, 10, 15), (0, 1, 6, 11))

# Rule 21.1b, Rules of Golf 2023: net score against par → points; seen (usga.org, rule 21)
STABLEFORD = {-4: 6, -3: 5, -2: 4, -1: 3, 0: 2, 1: 1, 2: 0, 3: 0}

# Appendix C, recommended allowances; seen (usga.org)
ALLOWANCES = {
    "stroke play": 95, "stableford": 95, "par/bogey": 95, "maximum score": 95, "match play": 100,
    "four-ball stroke play": 85, "four-ball stableford": 85, "four-ball par/bogey": 90,
    "four-ball match play": 90,
}
