"""``simcaddie round``: a whole course, hole by hole and in all."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, cast

from simcaddie.base.limits import MOST_SEQUENCES
from simcaddie.console.command import Answer, command, working
from simcaddie.console.options import Common, DayOf, RoundOf, option

if TYPE_CHECKING:
    from simcaddie.decision.position import Then
    from simcaddie.features.round.analysis import RoundRequest

__all__ = ["round_"]


@dataclass(frozen=True, kw_only=True)
class Options(Common, DayOf, RoundOf):
    """What may be asked of a round."""

    form: Annotated[str, option("FORM", "stroke, stableford, maximum, par-bogey or match.", "--format")] = "stroke"
    versus: Annotated[str | None, option("PLAYER", "Set it against this player's round, from the same tee.")] = None
    allowance: Annotated[
        float | None, option("N", "Handicap allowance in per cent; the usual one of the format.", min=0, max=100)
    ] = None
    limit: Annotated[str, option("LIMIT", "Of maximum score: net-double-bogey, double-par or a number.")] = (
        "net-double-bogey"
    )
    then: Annotated[str, option("best|sound|usual", "How the player chooses clubs and lines.")] = "best"
    sequences: Annotated[
        int, option("N", "How often each hole is played, over good and bad days.", min=1000, max=MOST_SEQUENCES)
    ] = 50_000
    details: Annotated[bool, option("", "Show errors, parts and the law of the total.", "--details")] = False

    def request(self) -> RoundRequest:
        """Return the question."""
        from simcaddie.features.round.analysis import RoundRequest

        return RoundRequest(
            tee=self.tee,
            pin=self.pin,
            form=self.form,
            allowance=None if self.allowance is None else self.allowance / 100.0,
            limit=self.limit,
            then=cast("Then", self.then),
            sequences=self.sequences,
            seed=self.seed,
            day=self.day,
        )


@command(Options)
def round_(options: Options) -> Answer:
    """Play a whole course: each hole against net par, and the round.

    Handicap strokes fall by course rating, slope, stroke index and the format's allowance. Rounds are played on good
    and bad days: a day's bias and mishits go through all its strokes. Shown are the average, how often the round is
    played to the handicap, the best and worst holes, and where the strokes go.
    """
    from simcaddie.features.round.analysis import play_round
    from simcaddie.features.round.present import present, round_data
    from simcaddie.io.find import find_player
    from simcaddie.io.player import read_player

    request, course, player = options.request(), options.read_course(), options.read_player()
    opponent = read_player(find_player(options.versus)) if options.versus is not None else None
    with working("Playing the holes", len(course.holes) * (1 if opponent is None else 2)) as done:
        answer = play_round(course, player, request, opponent=opponent, done=done)
    return Answer(
        data=lambda: round_data(answer),
        document=lambda: present(answer, details=options.details),
        caution=True,
    )
