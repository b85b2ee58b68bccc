"""``simcaddie plan``: the hole seen through best play."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from simcaddie.console.command import Answer, command, working
from simcaddie.console.options import FIGURE, Common, DayOf, HoleOf, Place, PlayerOf, option

__all__ = ["plan"]


@dataclass(frozen=True, kw_only=True)
class Options(Common, DayOf, Place, PlayerOf, HoleOf):
    """What may be asked of a plan."""

    pin: Annotated[str | None, option("NAME", "The pin to play to; middle by default.")] = None
    figure: Annotated[
        Path | None, option("FILE", "Draw the best club by place and the line of play (.png, .svg or .pdf)."), FIGURE
    ] = None


@command(Options)
def plan(options: Options) -> Answer:
    """Plan a whole hole: each stroke in turn, and what to avoid.

    Finds the stroke that costs least from everywhere on the hole, then tells the most likely line of play from tee to
    green: club, target, what it leaves and how many strokes are still to go on average, putts included. Below stand
    the club for every distance left on the fairway, and the hazards that cost most.
    """
    from simcaddie.decision.line_of_play import plan as best_play
    from simcaddie.features.plan.present import plan_data, present

    with working("Planning the hole"):
        answer = best_play(
            options.read_hole(),
            options.read_player(),
            tee=options.tee,
            spot=options.from_spot,
            pin=options.pin,
            seed=options.seed,
            day=options.day,
        )
    figures = []
    if (figure := options.figure) is not None:
        from simcaddie.features.plan.figure import draw_plan

        figures.append((figure, lambda: draw_plan(answer, figure)))
    solved = answer.solution
    return Answer(
        data=lambda: plan_data(answer),
        document=lambda: present(answer),
        figures=figures,
        caution=True,
        verbose=f"{solved.policy.swing.size} places, last change {solved.residual:.3f}; "
        f"chosen in {solved.seconds[0]:.1f} s, valued in {solved.seconds[1]:.1f} s",
    )
