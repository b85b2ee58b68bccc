"""Thousands of whole sequences of strokes, and first strokes alone."""

from simcaddie.simulate.sequences import Outcome, first_strokes, play_sequences

__all__ = ["Outcome", "first_strokes", "play_sequences"]
