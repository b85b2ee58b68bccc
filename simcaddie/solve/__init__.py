"""Best play from everywhere, by dynamic programming over the stroke kernel."""

from simcaddie.solve.solution import Solution, best_policy, first_stroke_law, policy_law, solve

__all__ = ["Solution", "best_policy", "first_stroke_law", "policy_law", "solve"]
