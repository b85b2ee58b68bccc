"""A plan as data: what ``simcaddie plan`` prints, as JSON with a schema name."""

from __future__ import annotations

import math
from typing import Any

from simcaddie.files.day_answer import day_data
from simcaddie.strategy.dangers import Danger
from simcaddie.strategy.places import COARSE, coarse_clubs, fairway_clubs
from simcaddie.strategy.plan import Leg, Plan
from simcaddie.strategy.plan_words import avoid_words, leg_aim, leg_words

__all__ = ["plan_data"]


def _leg(plan: Plan, number: int, leg: Leg) -> dict[str, Any]:
    return {
        "club": leg.title,
        "aim": leg_aim(plan, leg),
        "aim_deg": leg.aim,
        "bearing_deg": math.degrees(leg.bearing),
        "from": list(leg.start),
        "lie": leg.lie,
        "left_yd": leg.left,
        "to_go": leg.to_go,
        "finish": list(leg.finish),
        "finish_lie": leg.finish_lie,
        "leaves_yd": leg.leaves,
        "stays_out_of_trouble": leg.safe,
        "finds_green": leg.green,
        "level": list(leg.level),
        "words": leg_words(plan, number),
    }


def _danger(danger: Danger) -> dict[str, Any]:
    return {
        "area": danger.title,
        "cost": danger.cost,
        "share": danger.often,
        "loss": danger.loss,
        "near_yd": danger.near,
        "far_yd": danger.far,
        "counted_from": "pin" if danger.from_pin else "place",
        "against": f"{danger.beside.replace('_', ' ')} {danger.where}",
        "words": avoid_words(danger),
    }


def plan_data(plan: Plan) -> dict[str, Any]:
    """Return a plan as plain data, schema "plan/1"; places are (x, y) of the hole in yards.

    ``by_place`` holds one row per 10-yard cell: its middle, the commonest lie, the best club from it, strokes to go.
    """
    solution = plan.solution
    return {
        "schema": "plan/1",
        "hole": plan.hole.name,
        "player": plan.player.name,
        "from": plan.asked_from,
        "pin": plan.pin_name,
        "day": day_data(plan.day),
        "mean": plan.mean,
        "strokes_law": {str(strokes): float(share) for strokes, share in enumerate(plan.law) if share > 0.0},
        "legs": [_leg(plan, number, leg) for number, leg in enumerate(plan.legs)],
        "avoid": [_danger(danger) for danger in plan.avoid],
        "fairway": [{"far_yd": c.far, "near_yd": c.near, "club": c.title} for c in fairway_clubs(plan)],
        "by_place": {
            "cell_yd": COARSE,
            "columns": ["x", "y", "lie", "club", "to_go"],
            "rows": [[c.x, c.y, c.lie, c.title, c.to_go] for c in coarse_clubs(plan)],
        },
        "solved": {
            "states": int(solution.policy.swing.size),
            "residual": solution.residual,
        },
    }
