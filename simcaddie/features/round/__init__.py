"""Play a whole course.

Learnt by trying:

- Rounds use the same solver with less effort for what they don't need (`solution.QUICK`: the values); 0.003 strokes a
  hole are lost against the usual effort.
- The policy doesn't know the day: it is found for the player as the file says, and kept on all days. So a day is
  nothing but other numbers in the table of swings, packed once for all holes.
- 15 days stand for all (`player/day_form.py`), sequences shared out by weight. Totals are summed hole by hole within
  a day and then mixed; the other way round the days would cancel out.
- Scores by part are counted as the sequence is played, so that they add up to it exactly.
- Practice keeps the policy found for the player as the file says. Solving anew for the better player adds 0 to 0.014
  strokes a hole to gains of 0 to 0.055 (driver and 5 wood on two demo holes, 4 hybrid on a third, 100,000 pairs): a
  third more at most where a club gains much, nothing where it is the club already. Only a bias that goes turns the
  aim lines with it: kept as they were, the player would aim off for nothing, and a straight driver seemed to cost
  0.03 a round.
- A match can end two up more than holes are left ("3 and 1" from dormie): counting every case of five holes found it
  missing.
"""
