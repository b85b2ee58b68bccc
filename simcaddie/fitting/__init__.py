"""Range sessions into what is known of a player, with its doubt.

Learnt by trying:

- The prior is a swing like any other, with `posterior` worths; so is the result. One distribution serves prior,
  posterior, player file and redraw: `player/posterior.py`. The carry has its own worth (κ), so that an unknown carry
  can weigh next to nothing while the side still shrinks; with equal worths it is the normal–inverse-Wishart
  distribution, and a test holds it to that.
- Mishits have no numbers of their own but their shares: fat and thin are shares of the solid carry, as they are
  played. So they tell of mean and spread too: the conjugate draws are proposals, accepted by the mishits' likelihood.
  Leaving that out is not exact.
- One thin ball in five is *wild* in the fit (any shorter carry, four times as wide), or one ball 60 yd off the line
  would double a spread. It counts as thin; the kernel doesn't play it.
- 200 repetitions at 5, 10, 30 and 300 balls take 9 s: all swings, chains and repetitions are one flat array.
- Ratios of spreads don't forgive shrinking. First balls held against shrunken (or flat-prior) posteriors of ten
  to twenty balls came out 1.48 for a true 1.25, since few balls flatter. Now the rest is measured unshrunk in units
  of the prior's spreads, pooled over swings by degrees of freedom: 1.25 for 1.25, and 90 % intervals hold.
- Moments keep the posterior well: draws from the file have the sampler's means and deviations to a tenth. One worth
  for both spreads did not (a third off for ten balls with a doubtful mishit), so each spread has its own.
"""
