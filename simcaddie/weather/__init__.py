"""The day: its air, ball flight, bounce and run, and what they do to every swing.

Learnt by trying:

- `weather/flight.py` flies, `weather/bounce.py` runs, `weather/table.py` compares a day's flights with those in
  standard air, per swing, angle (36) and strength of wind (3 where it gusts), once per player and day; the kernel
  interpolates. On a standard day the table is exactly ones and zeros, so the bytes are those of no day at all.
- Height needs no table of its own. The kernel's flight shape has the launch and landing tangents, and an arch
  fitted to the model's apex: against sampled flights of the model it is within 2 yd up to the landing and within 2.5
  % of the carry where it meets ground 12 % up or down. One Newton step with the ground's slope is enough within 4 yd
  of height; low flights towards higher ground are walked.
- A thin plate spline's plane is not to be trusted across a narrow band of spot heights: five spots down a line of
  play gave demo holes cross slopes of 20 to 28 % and aims 16° off. Such bands get multiquadrics now, which invent no
  slope.
- Without bounds the arch took a wedge's shape below its start in a 60-mph wind: −(√a + √b)² is the least.
- A sole flat on a slope points a lofted face downhill of the line by tan(loft) × slope, for right- and left-handers
  alike: a mirror test showed that a player file needs no hand.
- Looking at heights inside the loop over trees slowed flat holes by a tenth; there the ground counts as even from
  start to landing.
- Constants of the flight were fitted to tour averages (driver, 7 iron, men and women), bounces to Penner's turf, soft
  and firm to common practice. Model against published carry, 25 °C: driver −2.1 % and +1.1 %, 7 iron −4.3 % and −0.1
  % (used to fit); the 6 iron in winds of −20, −10, 0, 10, 20 mph −2.1, −1.3, 0, +0.5, +1.3 yd, apex within 0.6 yd
  (kept aside, as far as is known).
- Penner's bounce lets slow drives run too far (205 yd of carry: 13 %, usual about 10), so where no run was measured
  the default by landing angle stays, and the bounce model gives only its ratio on another day. On a long drive: 4.4,
  9.5, 15.9 %.
- A slow ball with much spin (half a 9 iron) carries about as far into the wind as down it: lift and drag nearly
  cancel.
"""
