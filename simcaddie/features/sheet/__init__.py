"""Draw a course's strategy sheet.

Learnt by trying:

- One solve a hole, to its middle pin. Decisions look one stroke ahead from there with the same balls for every
  swing, averaged over the pins: putts to each pin, off the green what a ball is worth to the middle one. No score is
  printed: played out to front and back pins, the middle pin's policy costs 0.04 to 0.07 strokes more than one that is
  solved for them, and shifting it along with the pin costs still more.
- A head wind needs values of its own, but only for looks ahead: `solution.ROUGH` loses 0.02 strokes as a policy,
  in half the time.
- Fonts are written when a PDF of several pages is closed: the style must still be in force then.
"""
