"""A plan presented: from the tee …, from the fairway at …, what to avoid; and all of it as data."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from simcaddie.base.records import picked
from simcaddie.base.units import SHORT, YARDS_PER, told
from simcaddie.console.document import GAP, Block, Document, Heading, Items, Text
from simcaddie.decision.dangers import Danger
from simcaddie.decision.line_of_play import Leg, Plan
from simcaddie.decision.phrases import day_data, day_words, stroke_target
from simcaddie.features.plan.analysis import COARSE, ClubAt, FairwayClub, coarse_clubs, fairway_clubs
from simcaddie.player.estimated import estimates_told, marked_title, swings_of

__all__ = ["avoid_words", "danger_place", "leg_aim", "leg_words", "plan_data", "present", "times"]


def times(share: float) -> str:
    """Say how often something happens, of all times.

    >>> times(0.78), times(0.12), times(0.023), times(0.001), times(0.999)
    ('8 times in ten', 'one time in eight', 'one time in 45', 'hardly ever', 'nearly always')
    """
    if share > 0.95 or share < 0.005:
        return "nearly always" if share > 0.5 else "hardly ever"
    if share > 0.225:
        return f"{round(10 * share)} times in ten"
    number = round(1 / share)
    small = ("four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
    return f"one time in {small[number - 4] if number <= 12 else 5 * round(number / 5)}"


def leg_aim(plan: Plan, leg: Leg) -> str:
    """Say a leg's aim: at the flag or a landmark, or yards beside them at the landing."""
    return stroke_target(plan.hole, plan.player, (leg.start, leg.lie, leg.swing, leg.bearing), plan.pin)


def leg_words(plan: Plan, number: int) -> str:
    """Say one leg in a sentence or two."""
    leg, units = plan.legs[number], plan.hole.units
    start = f"From the {leg.lie.replace('_', ' ')} at {told(leg.left, units)}"
    if number == 0:
        start = f"From the {plan.asked_from}, {told(leg.left, units)} from the pin"
    title = marked_title(plan.player, leg.swing, leg.title)
    text = f"{start}: {title}, {leg_aim(plan, leg)}, {leg.to_go:.2f} strokes to go."
    if leg.finish_lie == "green":
        end = f"It finds the green {times(leg.green)}, typically {told(leg.leaves, units)} from the pin"
    else:
        on = "on" if leg.finish_lie == "fairway" else "in"
        end = f"It finishes {on} the {leg.finish_lie.replace('_', ' ')} with about {told(leg.leaves, units)} left"
    end += f", and stays out of trouble {times(leg.safe)}."
    if leg.level:
        end += f" The {' and the '.join(leg.level[:2])} {'is' if len(leg.level) == 1 else 'are'} as good."
    return f"{text} {end}"


def danger_place(danger: Danger, units: str) -> str:
    """Say where an area lies: "at 199–225", or by its distance from the pin; empty for out of bounds.

    Counted from the place asked, in ``units``.
    """
    if danger.near is None or danger.far is None:
        return ""
    reach = f"{danger.near / YARDS_PER[units]:.0f}–{danger.far / YARDS_PER[units]:.0f}"
    return f"{reach} {SHORT[units]} from the pin" if danger.from_pin else f"at {reach}"


def avoid_words(danger: Danger, units: str) -> str:
    """Say one thing to avoid."""
    title = danger.title if danger.title.startswith(("the ", "out of")) else f"the {danger.title}"
    place = danger_place(danger, units)
    beside = f"the {danger.beside.replace('_', ' ')} {danger.where}"
    dear = f"{danger.cost:.1f} strokes" if danger.cost >= 0.15 else "a tenth of a stroke"
    joint = " " if place.startswith("at") else ", " if place else ""
    return f"{title}{joint}{place}: {dear} dearer than {beside}; a ball gets there {times(danger.often)}."


def _fairway_words(clubs: Sequence[FairwayClub], units: str) -> str:
    """Say which club the fairway calls for, by what is left to the pin; empty where it is the same everywhere."""
    told = [
        f"{club.far / YARDS_PER[units]:.0f}–{club.near / YARDS_PER[units]:.0f} {club.title}"
        + (f" (in places {' or '.join(club.others)})" if club.others else "")
        for club in clubs
    ]
    return f"From the fairway, by {units} left: {', '.join(told)}." if len(told) > 1 else ""


def present(plan: Plan) -> Document:
    """Return the line of play, the club for what is left on the fairway, and what to avoid."""
    blocks: list[Block] = [
        Heading(plan.hole.name, f", par {plan.hole.par}, from the {plan.asked_from}, {plan.pin_name} pin"),
        Text(f"{plan.player.name}: {plan.mean:.2f} strokes on average with best play"),
    ]
    if plan.day is not None:
        blocks.append(Text(f"The day: {day_words(plan.day)}"))
    blocks += [GAP, Items(tuple((f"{number + 1}.", leg_words(plan, number)) for number in range(len(plan.legs))))]
    if along := _fairway_words(fairway_clubs(plan), plan.hole.units):
        blocks += [GAP, Text(along)]
    if estimates := estimates_told(swings_of(plan.player, (leg.swing for leg in plan.legs))):
        blocks += [GAP, Text(estimates)]
    if plan.avoid:
        avoid = tuple(("–", avoid_words(danger, plan.hole.units)) for danger in plan.avoid)
        blocks += [GAP, Text("What to avoid:"), Items(avoid)]
    return blocks


# ─── As data ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _leg(plan: Plan, number: int) -> dict[str, Any]:
    leg = plan.legs[number]
    return {
        "club": leg.title,
        "aim": leg_aim(plan, leg),
        "aim_deg": leg.aim,
        "bearing_deg": math.degrees(leg.bearing),
        "from": leg.start,
        **picked(leg, lie="lie", left_yd="left", to_go="to_go", finish="finish", finish_lie="finish_lie"),
        **picked(leg, leaves_yd="leaves", stays_out_of_trouble="safe", finds_green="green", level="level"),
        "words": leg_words(plan, number),
    }


def _danger(danger: Danger, units: str) -> dict[str, Any]:
    return {
        **picked(danger, area="title", cost="cost", share="often", loss="loss", near_yd="near", far_yd="far"),
        "counted_from": "pin" if danger.from_pin else "place",
        "against": f"{danger.beside.replace('_', ' ')} {danger.where}",
        "words": avoid_words(danger, units),
    }


def plan_data(plan: Plan) -> dict[str, Any]:
    """Return a plan as plain data, schema "plan/1"; places are (x, y) of the hole in yards.

    ``by_place`` holds one row per 10-yard cell: its middle, the commonest lie, the best club from it, strokes to go.
    """
    return {
        "schema": "plan/1",
        **picked(plan, hole="hole.name", player="player.name"),
        "from": plan.asked_from,
        "pin": plan.pin_name,
        "day": day_data(plan.day),
        "mean": plan.mean,
        "strokes_law": {str(strokes): float(share) for strokes, share in enumerate(plan.pmf) if share > 0.0},
        "legs": [_leg(plan, number) for number in range(len(plan.legs))],
        "avoid": [_danger(danger, plan.hole.units) for danger in plan.avoid],
        "fairway": [picked(club, far_yd="far", near_yd="near", club="title") for club in fairway_clubs(plan)],
        "by_place": {"cell_yd": COARSE, "columns": ClubAt._fields, "rows": coarse_clubs(plan)},
        "solved": {"states": plan.solution.policy.swing.size, "residual": plan.solution.residual},
    }
