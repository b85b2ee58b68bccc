"""``simcaddie page``: one file to try strokes on, for a phone or a projector."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from simcaddie.base.errors import BadRequest
from simcaddie.console.command import Answer, command, working
from simcaddie.console.options import PAGE, Common, DayOf, Start, Told, option, read_days

if TYPE_CHECKING:
    from collections.abc import Sequence

    from simcaddie.course.course import Course
    from simcaddie.course.hole import Hole
    from simcaddie.features.page.analysis import NamedDay, Page, PageRequest
    from simcaddie.player.swing import Player

__all__ = ["page"]


@dataclass(frozen=True, kw_only=True)
class Whose(Told):
    """The hole or course, and who plays it."""

    hole: Annotated[
        str, typer.Argument(metavar="HOLE", help="A hole or course file, or the name of a demo hole or course.")
    ]
    players: Annotated[
        list[str], typer.Argument(metavar="PLAYER", help="Player files, or names of demo players; one for a course.")
    ]


@dataclass(frozen=True, kw_only=True)
class Options(Common, DayOf, Start, Whose):
    """What may be asked of a page."""

    pin: Annotated[
        str | None, option("NAME", "This pin alone; every pin of a hole, one of a course's, by default.")
    ] = None
    strokes: Annotated[
        int | None,
        option("N", "Handicap strokes on this hole; from index and stroke index by default.", min=-9, max=9),
    ] = None
    played: Annotated[int | None, option("N", "Strokes already played when asking from a spot.", min=0)] = None
    objective: Annotated[str, option("strokes|points|blow-up", "What to play for; fewest strokes by default.")] = (
        "strokes"
    )
    days: Annotated[str | None, option("FILES", "Several day files to turn between, as calm.yaml,winter.yaml.")] = None
    output: Annotated[Path, option("FILE", "Where to write it: .html.", "--output", "-o"), PAGE] = Path("page.html")

    def request(self) -> PageRequest:
        """Return the question."""
        from simcaddie.features.page.analysis import PageRequest

        return PageRequest(
            tee=self.tee,
            spot=self.from_spot,
            pin=self.pin,
            strokes=self.strokes,
            played=self.played,
            objective=self.objective,
            seed=self.seed,
            days=self.named_days(),
        )

    def named_days(self) -> tuple[NamedDay, ...]:
        """Return the days asked about, by name: one of its own, or several."""
        day = self.day
        if self.days is None:
            return () if day is None else (("the day", day),)
        if day is not None:
            raise BadRequest("--days names all the days: no other day besides")
        return tuple(read_days(self.days))

    def read_ground(self) -> Hole | Course:
        """Return the hole or the course, by its file or name."""
        from simcaddie.course.course import Course
        from simcaddie.course.hole import Hole
        from simcaddie.io.check import check_file
        from simcaddie.io.course import read_course
        from simcaddie.io.find import demo_courses, find_hole
        from simcaddie.io.hole import read_hole
        from simcaddie.io.write import slug

        if not Path(self.hole).is_file():
            course = demo_courses().get(slug(self.hole))
            record: Any = read_course(course) if course is not None else read_hole(find_hole(self.hole))
        else:
            record = check_file(self.hole)
        if not isinstance(record, Hole | Course):
            raise BadRequest(f"{self.hole}: expected a hole or a course, found a {type(record).__name__.lower()} file")
        found: Hole | Course = self.in_units(record)
        return found

    def read_players(self) -> list[Player]:
        """Return the players, each once."""
        from simcaddie.io.find import find_player
        from simcaddie.io.player import read_player

        return [self.in_units(read_player(find_player(name))) for name in dict.fromkeys(self.players)]


def _made(ground: Hole | Course, players: Sequence[Player], request: PageRequest) -> Page:
    """Work out the page of a hole or a course."""
    from simcaddie.course.hole import Hole
    from simcaddie.features.page.analysis import course_page, hole_page

    if isinstance(ground, Hole):
        with working("Working out every club and line", len(players)):
            return hole_page(ground, players, request)
    if len(players) > 1:
        raise BadRequest(f"a course's page is for one player, not for {len(players)}")
    with working("Working out every hole", len(ground.holes)) as done:
        return course_page(ground, players[0], request, done)


@command(Options)
def page(options: Options) -> Answer:
    """Write one page to try strokes on: choose a club, turn the line, watch twenty balls fall.

    A single file for any phone or computer; it needs no net. Everything on it is worked out beforehand, for every
    club along every line that makes sense, every pin of the hole and every day asked for: the same figures as those
    of compare. For use before a round or in a lesson; Rule 4.3 forbids it during one.
    """
    from simcaddie.features.page.present import page_data, page_html
    from simcaddie.io.write import write_text

    answer = _made(options.read_ground(), options.read_players(), options.request())
    data = page_data(answer)
    return Answer(
        data=lambda: data,
        figures=[(options.output, lambda: write_text(options.output, page_html(answer, data)))],
        caution=True,
    )
