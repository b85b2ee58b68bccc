"""Which stroke to play: options, what they come to, how clear the difference is, and the answer in words."""

from simcaddie.strategy.compare import compare
from simcaddie.strategy.measure import Measure
from simcaddie.strategy.options import Option
from simcaddie.strategy.request import LEVEL, Comparison, Request, hole_strokes

__all__ = ["LEVEL", "Comparison", "Measure", "Option", "Request", "compare", "hole_strokes"]
