"""Thousands of whole sequences of strokes, and first strokes alone."""

from simcaddie.simulate.sequences import Luck, Outcome, first_strokes, next_strokes, play_sequences

__all__ = ["Luck", "Outcome", "first_strokes", "next_strokes", "play_sequences"]
