"""Best play from everywhere, by dynamic programming over the stroke kernel; and the score law of any policy."""

from simcaddie.solve.objective import Aim, Lookahead, aimed_policy
from simcaddie.solve.solution import Solution, best_policy, first_stroke_law, follow, policy_law, solve

__all__ = [
    "Aim",
    "Lookahead",
    "Solution",
    "aimed_policy",
    "best_policy",
    "first_stroke_law",
    "follow",
    "policy_law",
    "solve",
]
