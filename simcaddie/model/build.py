"""The only place that packs records into the kernel's arrays."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.errors import BadRequest
from simcaddie.base.surfaces import SURFACES, code
from simcaddie.base.units import FEET_PER_YARD, angle_between
from simcaddie.course.grid import AreaGrid, area_grid
from simcaddie.course.heights import HEIGHT_CELL, height_grid
from simcaddie.course.hole import Hole, Spot
from simcaddie.model import arrays as r
from simcaddie.model.states import build_states
from simcaddie.player.pattern import Strike, course_pattern, usable
from simcaddie.player.putting import MAX_PUTTS, PUTT_STEP_FEET, longest_touch, putt_law
from simcaddie.player.swing import Player
from simcaddie.weather.day import STANDARD, Day
from simcaddie.weather.table import Struck, day_table

__all__ = ["TOUCH_REACH", "pack", "pack_day", "pack_putting", "pack_swings", "pack_touch", "steepest_green"]

TOUCH_REACH = (1.0, 0.85, 0.7)  # touch actions: at the pin, or short of it
TILT_SPREAD = 0.08  # putts from above the hole: this much wider per per cent of tilt; common practice, no source
GREEN_ROLL = 0.6  # share of a full shot's run on the green that its speed scales; the rest is bounce
PUTTS_PACE = 0.03  # distance errors of putts grow by this per foot of stimp; common practice, no source


def _pace(day: Day) -> float:
    """Return how much farther a ball runs on the day's greens than on the usual ones."""
    return 1.0 + GREEN_ROLL * (day.greens / STANDARD.greens - 1.0)


def _kinds(day: Day) -> r.Floats:
    problem = np.zeros((len(SURFACES), r.KIND_COLUMNS))
    for row, kind in zip(problem, SURFACES, strict=True):
        row[r.KIND_SLOW] = 0.0 if kind.penalty else 1.0 / kind.run
        if kind.putting:
            row[r.KIND_SLOW] /= _pace(day)
        row[r.KIND_RUN] = 1.0 / row[r.KIND_SLOW] if row[r.KIND_SLOW] > 0.0 else 0.0
        row[r.KIND_LEVEL] = kind.level
        row[r.KIND_LOST], row[r.KIND_UNPLAYABLE] = kind.lost, kind.unplayable
        row[r.KIND_PENALTY], row[r.KIND_OUT], row[r.KIND_PUTTING] = kind.penalty, kind.out, kind.putting
        row[r.KIND_FAIRWAY] = kind.fairway
    return problem


def _areas(hole: Hole) -> r.Floats:
    problem = np.zeros((max(1, len(hole.areas)), r.AREA_COLUMNS))
    for row, area in zip(problem, hole.areas, strict=False):
        row[r.AREA_LATERAL] = area.marking == "red"
        row[r.AREA_HEIGHT] = area.height
        row[r.AREA_LOG_OPEN] = math.log1p(-min(area.density, 0.999))
        if area.tilt:
            uphill = area.tilt[1] + math.pi
            row[r.AREA_TILT] = area.tilt[0]
            row[r.AREA_TILT_X], row[r.AREA_TILT_Y] = math.sin(uphill), math.cos(uphill)
    return problem


def _steepest_slope(heights: r.Floats) -> float:
    if heights.size == 1:
        return 0.0
    return float(np.hypot(*np.gradient(heights, HEIGHT_CELL)).max())


def _words(grid: AreaGrid, kinds: r.Floats) -> NDArray[np.uint16]:
    rules = (kinds[:, [r.KIND_LOST, r.KIND_UNPLAYABLE, r.KIND_PENALTY, r.KIND_OUT]] > 0.0).any(axis=1)
    by_kind = (np.arange(rules.size) | rules * r.WORD_RULES).astype(np.uint16)
    same = grid.same.astype(np.uint16) << r.WORD_SAME
    return np.asarray(by_kind[grid.surface] | same, np.uint16).ravel()


def _wood(grid: AreaGrid) -> NDArray[np.uint8]:
    if grid.clear.size == 1:
        return grid.clear
    under = np.minimum(grid.deep, 255 - r.WOOD) + np.uint8(r.WOOD)
    return np.where(grid.canopy >= 0, under, np.minimum(grid.clear, r.WOOD - 1)).astype(np.uint8)


def pack_ground(hole: Hole, grid: AreaGrid, pin: tuple[float, float], day: Day = STANDARD) -> r.Ground:
    """Return the ground of a hole with the pin at a place."""
    heights, kinds = height_grid(hole, grid), _kinds(day)
    rows, columns = grid.surface.shape
    return r.Ground(
        _words(grid, kinds),
        _wood(grid),
        grid.area,
        grid.canopy,
        heights,
        kinds,
        _areas(hole),
        grid.x0,
        grid.y0,
        grid.cell,
        rows,
        columns,
        float(pin[0]),
        float(pin[1]),
        max((area.height for area in hole.areas), default=0.0),
        HEIGHT_CELL,
        float(heights.max()),
        _steepest_slope(heights),
        "E-5" in hole.local_rules,
    )


def _strike_row(strike: Strike) -> tuple[float, ...]:
    on_carry = strike.correlation * strike.side_sd
    rest = math.sqrt(max(0.0, 1.0 - strike.correlation**2)) * strike.side_sd
    return (strike.carry, strike.carry_sd, strike.side, on_carry, rest, strike.run, strike.run_sd)


def pack_swings(player: Player) -> r.Swings:
    """Return every swing from every lie."""
    problem = np.zeros((len(SURFACES), len(player.swings), r.SW_COLUMNS))
    for lie_code, kind in enumerate(SURFACES):
        lie = player.lies[kind.name]
        for number, swing in enumerate(player.swings):
            row, pattern = problem[lie_code, number], course_pattern(player, swing, lie)
            row[r.SW_USABLE] = usable(player, swing, lie)
            row[r.SW_FAIL], row[r.SW_FAIL_CARRY] = pattern.fail, pattern.fail_carry
            row[r.SW_FAT] = pattern.fail + (1.0 - pattern.fail) * pattern.fat.share
            row[r.SW_THIN] = pattern.fail + (1.0 - pattern.fail) * (pattern.fat.share + pattern.thin.share)
            strikes = (pattern.fat, pattern.thin, pattern.solid)
            row[r.SW_LAUNCH : r.SW_LAUNCH + 3] = [math.tan(math.radians(strike.launch)) for strike in strikes]
            row[r.SW_LANDING + 1] = math.tan(math.radians(pattern.thin.landing))
            if swing.start_line is not None:
                row[r.SW_BOW] = math.tan(math.radians(swing.start_line)) - swing.side / swing.carry
            row[r.SW_GAP] = lie.gap
            row[r.SW_TURN] = math.tan(math.radians(swing.loft))
            row[r.SW_STRIKE :] = np.concatenate([_strike_row(strike) for strike in strikes])
    return r.Swings(problem)


def pack_touch(player: Player, day: Day = STANDARD) -> r.Touch:
    """Return the touch numbers of every lie, feel shots reaching up to the shortest measured swing.

    Feel allows for the greens' speed: what the day lengthens a run by, the player takes off it.
    """
    problem = np.zeros((len(SURFACES), r.TOUCH_COLUMNS))
    for row, kind in zip(problem, SURFACES, strict=True):
        touch, lie = player.touch[kind.name], player.lies[kind.name]
        row[r.TOUCH_NEAR], row[r.TOUCH_FAR] = touch.near, touch.far
        row[r.TOUCH_DIRECTION] = math.tan(math.radians(touch.direction))
        row[r.TOUCH_FAIL], row[r.TOUCH_FAIL_CARRY] = touch.fail, min(3.0, lie.fail_carry)
        row[r.TOUCH_FAT] = touch.fail + touch.fat
        row[r.TOUCH_THIN] = touch.fail + touch.fat + touch.thin
        row[r.TOUCH_AIR], row[r.TOUCH_LONGEST] = touch.air, longest_touch(player, lie)
        row[r.TOUCH_PACE] = 1.0 / _pace(day)
    return r.Touch(problem, np.array(TOUCH_REACH))


def pack_putting(player: Player, tilt: float, day: Day = STANDARD) -> r.Putting:
    """Return the putt tables; with a tilt (per cent) one row level, one half and one wholly above the hole.

    Faster greens (``day.greens``, feet) make distances harder to judge, and a tilt count for more in proportion.
    """
    rows, faster = [], day.greens - STANDARD.greens
    pace = max(0.7, 1.0 + PUTTS_PACE * faster)
    for above in (0.0, 0.5, 1.0) if tilt else (0.0,):
        wider = 1.0 + TILT_SPREAD * tilt * above * (day.greens / STANDARD.greens)
        mine = player.putting
        rows.append(
            putt_law(replace(mine, direction_sd=mine.direction_sd * wider, distance_sd=mine.distance_sd * wider * pace))
        )
    pmf = np.array(rows)
    return r.Putting(np.cumsum(pmf, axis=2), pmf @ np.arange(1.0, MAX_PUTTS + 1.0), PUTT_STEP_FEET / FEET_PER_YARD)


def pack_day(hole: Hole, player: Player, day: Day) -> r.DayTable:
    """Return what the day does to each swing on a hole; a relative wind counts from the line of its first tee.

    Raises
    ------
    BadRequest
        Where the wind is told by the compass, and the hole doesn't say how it lies.
    """
    if hole.bearing is None and day.wind > 0.0 and not day.relative:
        raise BadRequest(
            f"{hole.name}: a wind from {day.wind_from:.0f}° needs the hole's `bearing`, the compass direction of "
            "straight up the hole: add it to the file, or say the wind as 'into' or 'from the left'"
        )
    struck = [Struck(swing.carry, swing.launch, swing.spin, swing.landing) for swing in player.swings]
    line = angle_between(next(iter(hole.tees.values())), hole.pin())
    return r.DayTable(day_table(struck, day), day.towards(line, hole.bearing or 0.0))


def steepest_green(hole: Hole) -> float:
    """Return the tilt of the hole's steepest green, per cent."""
    return max((area.tilt[0] for area in hole.areas if area.tilt), default=0.0)


def pack(
    hole: Hole,
    player: Player,
    place: Spot,
    pin: tuple[float, float],
    *,
    grid: AreaGrid | None = None,
    day: Day | None = None,
) -> r.Problem:
    """Return all that the kernel takes for one player on one hole to one pin (x, y in yd).

    ``grid`` saves building the area grid again where a hole is asked about more than once; no ``day`` is a standard
    one.
    """
    grid, day = grid or area_grid(hole), day or STANDARD
    return r.Problem(
        ground=pack_ground(hole, grid, pin, day),
        swings=pack_swings(player),
        touch=pack_touch(player, day),
        putting=pack_putting(player, steepest_green(hole), day),
        day=pack_day(hole, player, day),
        states=build_states(grid, (*place.at, code(place.lie))),
    )
