"""Scoring: handicap strokes, net scores and the forms of play."""
