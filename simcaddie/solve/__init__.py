"""Best play from everywhere, by dynamic programming over the stroke kernel.

Learnt by trying:

- A state is a (4-yd cell, lie) pair; an action a swing along a bearing off the pin line, or a touch shot. Three
  levels: 16-yd cells everywhere, all sensible actions with few nodes; 8-yd cells where balls from the place asked
  come, all actions anew, aims polished to a degree; 4-yd cells there, among what the nine coarse cells around chose;
  last the place itself, everything, 8,192 nodes. States seldom reached keep what the wide cells found:
  `Effort(often=0)` solves everywhere alike.
- Values to begin with must be those of something that can be played: sound play, not a guess. From a guess, which is
  too low, a sweep over a green of 1 to 3 yd chose to go elsewhere and lost up to 4 strokes; on demo holes nothing moved
  by more than 0.002. Under 120 square yards of green best play is held against everyday play as well (`everyday.py`):
  on 50 small holes it was never worse, and mostly 0.1 to 0.7 strokes better where the green is under 4 yd.
- A race must not be hasty. What is behind by 1.2 standard errors dropping out lost 0.006 strokes a hole against
  2.0, for a fifth of the time; aims to 2° instead of 1° lost 0.003.
- A value from the nodes that chose is too low (0.04 to 0.09 strokes a state), unevenly, and misleads the next
  choice: every choice is valued with nodes of its own (`search.Both`). That cost the 4-yd cells nothing and turned a
  first stroke that lost 0.1 right.
- Held against the policies of the exhaustive search before (2-yd cells, 5 to 10 times the time) on six demo holes,
  both from its own values with 1,024 nodes and played on the same luck: 0.0005 strokes a hole lost on average, 0.004
  at most. Twice the nodes everywhere gain 0.003. Neither 2-yd cells nor an 8-yd first level gain what they cost.
  Choosing actions beforehand by their average ball loses 0.02 to 0.2.
- States must not share their nodes. With one set for all, node errors add up along a sequence. States take turns
  with 64 sets by a mirror-safe rule (`block_of`).
- The law of what follows takes 64 nodes a state, 1,024 where balls often come, each starting somewhere in its cell.
  With half of them answers were off by 0.007 (root mean square), now by 0.002.
- Not there yet, in the slow forms: 6 of 60 pairs of hole and player fail the χ² of the law against 400,000
  sequences (their means hold), 3 of 6 lose 0.0064 to 0.0086 strokes against eight times the effort where the limit is
  0.006.
- The score law needs no iteration: k strokes to go follow from fewer than k.
- Places on a grid line have no mirror image: trees are looked at from mid-yard on. Mirrored values agree to 1e-14.
- Other aims of play: the short list of actions is compared through differences to the policy of fewest strokes on the
  same nodes, whose own worth the law knows from many.

- An option's figures are averages over 64 sets of 256 first balls, scrambled independently, of what each leaves by
  value and law: one stroke a sample. Means over sets are independent draws; all options share them. `--seed` picks
  them.
- The audit: whole sequences with luck taken out, `score − Σ (what a stroke came to − what it was expected to)`,
  the expectation from 16 balls from the same place. It cuts the spread from 0.8–0.96 to 0.11–0.13: 4,000 tell as much
  as 200,000. Every stroke of every sequence needs balls of its own: with 64 sets for all the audit was off by 0.015
  whatever its standard error said.
- An answer whose audit is off by more than 4 SE + 0.003 says so under the table.
"""
