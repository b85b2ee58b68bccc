"""The card: handicap strokes, formats of play, chances of scores and totals, matches."""
