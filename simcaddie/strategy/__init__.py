"""Which stroke to play: options, what they come to, how clear the difference is, and the answer in words."""

from simcaddie.strategy.compare import LEVEL, Comparison, Request, compare, hole_strokes
from simcaddie.strategy.measure import Measure
from simcaddie.strategy.options import Option

__all__ = ["LEVEL", "Comparison", "Measure", "Option", "Request", "compare", "hole_strokes"]
