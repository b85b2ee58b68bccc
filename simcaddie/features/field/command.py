"""``simcaddie field``: a club's members on a course."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from simcaddie.base.limits import MOST_SEQUENCES_OF_PRACTICE
from simcaddie.console.command import Answer, command
from simcaddie.console.options import DATA, FIGURE, Common, CourseOrHoleOf, DayOf, known_units, option
from simcaddie.console.working import PiecesOf, failures

if TYPE_CHECKING:
    from simcaddie.course.course import Course
    from simcaddie.features.field.analysis import FieldRequest

__all__ = ["field"]


@dataclass(frozen=True, kw_only=True)
class Options(Common, DayOf, PiecesOf, CourseOrHoleOf):
    """What may be asked of a field."""

    members: Annotated[Path, option("FILE", "Members as CSV: member, index, driver, and tee or sex.")]
    units: Annotated[str, option("UNITS", "Of the drivers' carries: yards or metres.")] = "yards"
    tees: Annotated[str | None, option("LIST", "Play everybody from these tees, and set them against the first.")] = (
        None
    )
    pins: Annotated[str | None, option("LIST", "Set these pins against the first; middle alone by default.")] = None
    men: Annotated[str | None, option("TEE", "Where members of sex m play from.")] = None
    women: Annotated[str | None, option("TEE", "Where members of sex w play from.")] = None
    sequences: Annotated[
        int, option("N", "How often a golfer plays each hole.", min=1000, max=MOST_SEQUENCES_OF_PRACTICE)
    ] = 6_000
    each: Annotated[bool, option("", "Play every member, none between neighbours: it takes longer.", "--each")] = False
    csv: Annotated[Path | None, option("FILE", "Write the table of holes as CSV."), DATA] = None
    figure: Annotated[Path | None, option("FILE", "Draw it (.png, .svg or .pdf)."), FIGURE] = None

    def request(self, course: Course) -> FieldRequest:
        """Return the question."""
        from simcaddie.features.field.analysis import FieldRequest
        from simcaddie.io.sent import day_sent

        return FieldRequest(
            day=day_sent(self.day or course.day),
            tees=_names("--tees", self.tees),
            pins=_names("--pins", self.pins),
            men=self.men,
            women=self.women,
            sequences=self.sequences,
            seed=self.seed,
            each=self.each,
        )


def _names(name: str, text: str | None) -> tuple[str, ...]:
    """Return the names of a list, each once."""
    from simcaddie.base.errors import BadRequest

    found = [part.strip() for part in text.split(",")] if text is not None else []
    if "" in found or len(set(found)) < len(found):
        raise BadRequest(f"{name}: expected names, each once, as white,red, found '{text}'")
    return tuple(found)


@command(Options)
def field(options: Options) -> Answer:
    """Predict a club's scores: by hole and group, where strokes should fall, what tees and pins do.

    Members become neutral golfers by handicap index and driver carry. Told are scores and blow-ups (net double bogey or
    worse) by hole and group; how the stroke indexes should fall by difficulty, and how far today's are from what the
    Rules of Handicapping ask; what another tee or pin changes; and whether two tees are fair to each other. --executor
    shares the work out; --resume goes on with a run that was stopped.
    """
    from simcaddie.base.pieces import JOURNAL
    from simcaddie.features.field.analysis import field_of, pieces_of, plan_of
    from simcaddie.features.field.present import field_csv, field_data, present
    from simcaddie.io.members import read_members
    from simcaddie.io.sent import holes_sent
    from simcaddie.io.write import write_text

    known_units(options.units)
    course = options.read_course()
    shared = tuple(tee for tee in course.holes[0].tees if all(tee in hole.tees for hole in course.holes))
    members, request = read_members(options.members, options.units, shared), options.request(course)
    plan = plan_of(course, members, request)
    pieces = pieces_of(course, holes_sent(course, options.course), plan, request)
    delivered = options.deliver("Playing the holes", pieces, options.resume)
    answer = field_of(course, members, request, plan, delivered)
    notes = failures(delivered, options.resume)
    if options.csv is not None:
        write_text(options.csv, field_csv(answer))
        notes.append(f"Written: {options.csv}")
    if options.resume is not None and not delivered.failed:
        (options.resume / JOURNAL).unlink(missing_ok=True)
    figures = []
    if (figure := options.figure) is not None:
        from simcaddie.features.field.figure import draw_field

        figures.append((figure, lambda: draw_field(answer, figure)))
    many = max(len(pieces) - delivered.kept, 1)
    return Answer(
        data=lambda: field_data(answer),
        document=lambda: present(answer),
        figures=figures,
        notes=notes,
        verbose=f"{many} pieces, {delivered.sent // many} bytes sent and {delivered.back // many} back each",
        caution=True,
        code=1 if delivered.failed else 0,
    )
