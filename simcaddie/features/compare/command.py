"""``simcaddie compare``: the ranked table of first strokes, on one day or several."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, cast

from simcaddie.base.errors import BadRequest
from simcaddie.base.limits import MOST_SEQUENCES
from simcaddie.console.command import Answer, command, working
from simcaddie.console.options import FIGURE, Common, DayOf, HoleOf, Place, PlayerOf, option, read_days

if TYPE_CHECKING:
    from simcaddie.decision.position import Then
    from simcaddie.decision.request import Comparison, Request
    from simcaddie.features.compare.present import Asked

__all__ = ["compare"]


@dataclass(frozen=True, kw_only=True)
class Options(Common, DayOf, Place, PlayerOf, HoleOf):
    """What may be asked of a comparison."""

    club: Annotated[
        list[str] | None, option("NAME", 'Only this club or swing ("half gap wedge"); may be repeated.')
    ] = None
    aim: Annotated[str | None, option("LOW:HIGH:STEP", "Aim lines to try, degrees right of the pin, as -10:10:2.")] = (
        None
    )
    strokes: Annotated[
        int | None,
        option("N", "Handicap strokes on this hole; from index and stroke index by default.", min=-9, max=9),
    ] = None
    played: Annotated[int | None, option("N", "Strokes already played when asking from a spot.", min=0)] = None
    sequences: Annotated[
        int,
        option("N", "How often each club that may be best is played out, as an audit.", min=100, max=MOST_SEQUENCES),
    ] = 4_000
    then: Annotated[str, option("best|sound|usual", "How the strokes that follow are played.")] = "best"
    objective: Annotated[str, option("strokes|points|blow-up", "What to play for; fewest strokes by default.")] = (
        "strokes"
    )
    details: Annotated[bool, option("", "Show errors, points, finishes and carries as well.", "--details")] = False
    all_aims: Annotated[bool, option("", "One row per aim line, not only each club's best.", "--all-aims")] = False
    why: Annotated[
        tuple[str, str] | None, option("A B", "Say why A costs more or less than B: where the first ball finishes.")
    ] = None
    when: Annotated[
        tuple[str, str] | None,
        option("A B", "Say how far one thing would have to change for B to be as good as A."),
    ] = None
    redraws: Annotated[
        int | None,
        option("N", "Redraw the player N times: how sure is the choice?", "--doubt", min=2, max=10_000),
    ] = None
    days: Annotated[
        str | None, option("FILES", "Several day files, as calm.yaml,winter.yaml: where does the choice flip?")
    ] = None
    figure: Annotated[
        Path | None, option("FILE", "Draw the best options and their scores (.png, .svg or .pdf)."), FIGURE
    ] = None

    def request(self) -> Request:
        """Return the question."""
        from simcaddie.decision.request import Request

        return Request(
            tee=self.tee,
            spot=self.from_spot,
            pin=self.pin,
            clubs=tuple(self.club or ()),
            aims=_aims(self.aim),
            strokes=self.strokes,
            played=self.played,
            sequences=self.sequences,
            then=cast("Then", self.then),
            objective=self.objective,
            seed=self.seed,
            all_aims=self.all_aims,
            day=self.day,
        )


@command(Options)
def compare(options: Options) -> Answer:
    """Rank clubs and lines for one stroke by the average score.

    The table shows each club's best line: its average score, what it costs against the best, and, in ten: how often
    it makes net par or better, how often the ball finds trouble, and how often the hole blows up (net double bogey or
    worse).
    """
    from simcaddie.decision.compare import compare as rank
    from simcaddie.decision.options import TOUCH, named_swings, plain_name
    from simcaddie.features.compare.present import comparison_data, present

    request = options.request()
    if options.days is not None:
        return _several_days(options, request, options.days)
    with working("Playing the choices"):
        hole, player = options.read_hole(), options.read_player()
        named_swings(player, [n for n in (*(options.why or ()), *(options.when or ())) if plain_name(n) != TOUCH])
        answer = rank(hole, player, request)
        asked = _asked(options, answer)
    figures = []
    if (figure := options.figure) is not None:
        from simcaddie.features.compare.figure import draw_comparison

        figures.append((figure, lambda: draw_comparison(answer, figure)))
    return Answer(
        data=lambda: comparison_data(answer, asked),
        document=lambda: present(answer, asked, details=options.details),
        figures=figures,
        caution=True,
        verbose=f"{len(answer.options)} rows, {options.sequences} sequences each, in {{took}}",
    )


def _aims(text: str | None) -> tuple[float, float, float] | None:
    """Read LOW:HIGH:STEP."""
    if text is None:
        return None
    try:
        low, high, step = (float(part) for part in text.split(":"))
    except ValueError:
        raise BadRequest(f"--aim: expected LOW:HIGH:STEP in degrees, as -10:10:2, found '{text}'") from None
    return low, high, step


def _asked(options: Options, answer: Comparison) -> Asked:
    """Answer what is asked about two options, and about the player."""
    from simcaddie.decision.break_even import switch_points
    from simcaddie.decision.compare import pick_two
    from simcaddie.decision.why import explain
    from simcaddie.features.compare.analysis import best_ball_cost, doubt
    from simcaddie.features.compare.present import Asked

    for names in (options.why, options.when):
        if names:
            pick_two(answer, *names)  # names that don't fit are refused before the long search
    return Asked(
        why=explain(answer, *options.why) if options.why else None,
        when=switch_points(answer, *options.when) if options.when else (),
        doubt=(doubt(answer, options.redraws), best_ball_cost(answer.position)) if options.redraws else None,
    )


def _several_days(options: Options, request: Request, text: str) -> Answer:
    """Answer ``--days``."""
    from simcaddie.features.compare.analysis import compare_days
    from simcaddie.features.compare.present import days_data, present_days

    others = (options.day, options.why, options.when, options.redraws, options.figure)
    if any(other is not None for other in others):
        raise BadRequest("--days goes with the question alone: no other day, --why, --when, --doubt or --figure")
    days = read_days(text)
    with working("Playing the choices"):
        found = compare_days(options.read_hole(), options.read_player(), request, days)
    return Answer(data=lambda: days_data(found), document=lambda: present_days(found), caution=True)
