"""``simcaddie today``: what the day makes of every swing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from simcaddie.base.errors import BadRequest
from simcaddie.console.command import Answer, command, working
from simcaddie.console.options import DayOf, HoleOf, NoChance, Place, PlayerOf, option

__all__ = ["today"]

FARTHEST = 400.0  # yd


@dataclass(frozen=True, kw_only=True)
class Options(NoChance, DayOf, Place, PlayerOf, HoleOf):
    """What may be asked of a day."""

    pin: Annotated[str | None, option("NAME", "The pin to look at; middle by default.")] = None
    target: Annotated[
        list[float] | None, option("YARDS", "A distance to hit along the line to the pin; may be repeated.")
    ] = None


@command(Options)
def today(options: Options) -> Answer:
    """Show what the day makes of every swing at one place, and which swing a distance asks for.

    For each swing: its calm carry, the day's carry on this ground, how far the air drifts it, and carry and run
    together along the line. For each distance: the calm carry that it plays as, and the swing that lands nearest.
    """
    from simcaddie.features.day.analysis import today as look
    from simcaddie.features.day.present import present, today_data

    targets = tuple(options.target or ())
    for far in targets:
        if not 0.0 < far <= FARTHEST:
            raise BadRequest(f"--target: expected yards above 0, at most {FARTHEST:g}, found {far:g}")
    with working("Looking at the day"):
        answer = look(
            options.read_hole(),
            options.read_player(),
            day=options.day,
            tee=options.tee,
            spot=options.from_spot,
            pin=options.pin,
            targets=targets,
        )
    return Answer(data=lambda: today_data(answer), document=lambda: present(answer))
