"""A plan in plain words: from the tee …, from the fairway at …, what to avoid."""

from __future__ import annotations

import math

from simcaddie.ground.targets import aim_in_degrees, nearest_landmark
from simcaddie.strategy.dangers import Danger
from simcaddie.strategy.places import FairwayClub, fairway_clubs
from simcaddie.strategy.plan import Leg, Plan

__all__ = ["avoid_words", "danger_place", "fairway_words", "leg_aim", "leg_words", "plan_words", "times"]

REACHES = 0.85  # a stroke that carries this share of the way is aimed at the pin, not at a landmark
AT = 1.5  # yd: nearer than this is "at" a thing


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
    number = number if number <= 12 else 5 * round(number / 5)
    small = ("four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
    return f"one time in {small[number - 4] if number <= 12 else number}"


def _beside(offset: float, thing: str) -> str:
    if abs(offset) < AT:
        return f"at the {thing}"
    return f"{abs(offset):.0f} yd {'right' if offset > 0 else 'left'} of the {thing}"


def _carry(plan: Plan, leg: Leg) -> float:
    """Return the average carry of a leg's stroke from its lie, yards; the way to the pin for a touch shot."""
    swings = plan.player.swings
    return swings[leg.swing].carry * plan.player.lies[leg.lie].carry if leg.swing < len(swings) else leg.left


def leg_aim(plan: Plan, leg: Leg) -> str:
    """Say a leg's aim: by the pin where the stroke gets there, else by a landmark, else in degrees."""
    carry = _carry(plan, leg)
    if carry >= REACHES * leg.left:
        return _beside(leg.left * math.sin(math.radians(leg.aim)), "pin")
    near = nearest_landmark(plan.hole, leg.start, leg.bearing, carry)
    return aim_in_degrees(leg.aim) if near is None else _beside(near[1], near[0].name)


def _from(plan: Plan, number: int) -> str:
    leg = plan.legs[number]
    if number == 0:
        return f"From the {plan.asked_from}, {leg.left:.0f} yd from the pin"
    return f"From the {leg.lie.replace('_', ' ')} at {leg.left:.0f} yd"


def leg_words(plan: Plan, number: int) -> str:
    """Say one leg in a sentence or two."""
    leg = plan.legs[number]
    text = f"{_from(plan, number)}: {leg.title}, {leg_aim(plan, leg)}, {leg.to_go:.2f} strokes to go."
    if leg.finish_lie == "green":
        end = f"It finds the green {times(leg.green)}, typically {leg.leaves:.0f} yd from the pin"
    else:
        on = "on" if leg.finish_lie == "fairway" else "in"
        end = f"It finishes {on} the {leg.finish_lie.replace('_', ' ')} with about {leg.leaves:.0f} yd left"
    end += f", and stays out of trouble {times(leg.safe)}."
    if leg.level:
        end += f" The {' and the '.join(leg.level[:2])} {'is' if len(leg.level) == 1 else 'are'} as good."
    return f"{text} {end}"


def danger_place(danger: Danger) -> str:
    """Say where an area lies: "at 199–225", or by its distance from the pin; empty for out of bounds.

    Yards from the place asked.
    """
    if danger.near is None or danger.far is None:
        return ""
    reach = f"{danger.near:.0f}–{danger.far:.0f}"
    return f"{reach} yd from the pin" if danger.from_pin else f"at {reach}"


def avoid_words(danger: Danger) -> str:
    """Say one thing to avoid."""
    title = danger.title if danger.title.startswith(("the ", "out of")) else f"the {danger.title}"
    place = danger_place(danger)
    beside = f"the {danger.beside.replace('_', ' ')} {danger.where}"
    dear = f"{danger.cost:.1f} strokes" if danger.cost >= 0.15 else "a tenth of a stroke"
    joint = " " if place.startswith("at") else ", " if place else ""
    return f"{title}{joint}{place}: {dear} dearer than {beside}; a ball gets there {times(danger.often)}."


def fairway_words(clubs: tuple[FairwayClub, ...]) -> str:
    """Say which club the fairway calls for, by yards left to the pin; empty where it is the same everywhere."""
    told = [f"{club.far:.0f}–{club.near:.0f} {club.title}" for club in clubs]
    return f"From the fairway, by yards left: {', '.join(told)}." if len(told) > 1 else ""


def plan_words(plan: Plan) -> list[str]:
    """Return the plan as sentences: each leg, the fairway, what to avoid."""
    words = [leg_words(plan, number) for number in range(len(plan.legs))]
    along = fairway_words(fairway_clubs(plan))
    avoid = [f"Avoid {avoid_words(danger)}" for danger in plan.avoid]
    return [*words, *([along] if along else []), *avoid]
