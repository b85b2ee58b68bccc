"""``compare --days``: one question on several days."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from simcaddie.cli.shared import CAUTION, compiling, console, plain_table
from simcaddie.errors import BadRequest

if TYPE_CHECKING:
    from simcaddie.air.day import Day
    from simcaddie.strategy.days import OnDay
    from simcaddie.strategy.request import Request

__all__ = ["several_days"]


def several_days(
    hole: str, player: str, request: Request, days: str, json: str | None, *, others: Sequence[object]
) -> int:
    """Answer ``compare --days``; ``others`` are the options that don't go with it, None where they weren't given.

    Raises
    ------
    BadRequest
        Where one of ``others`` was given, or ``days`` isn't two files or more.
    """
    from simcaddie.cli.progress import progress
    from simcaddie.files import find_hole, find_player, read_hole, read_player, write_json
    from simcaddie.strategy.days import compare_days

    if any(other is not None for other in others):
        raise BadRequest("--days goes with the question alone: no other day, --why, --when, --doubt or --figure")
    read = _read_days(days)
    with compiling(), progress("Playing the choices"):
        found = compare_days(read_hole(find_hole(hole)), read_player(find_player(player)), request, read)
    if json is not None:
        write_json(_days_data(found), json)
    if json != "-":
        _print_days(found)
    return 0


def _read_days(text: str) -> list[tuple[str, Day]]:
    """Return (name, day) of each file of "calm.yaml,winter.yaml"; a day without a name is called by its file.

    Raises
    ------
    BadRequest
        Fewer than two files.
    BadFile
        A file with a fault.
    """
    from simcaddie.files.day_file import read_day

    paths = [Path(part.strip()) for part in text.split(",") if part.strip()]
    if len(paths) < 2:
        raise BadRequest(f"--days: expected two or more day files, as calm.yaml,winter.yaml, found '{text}'")
    read = [(path, *read_day(path)) for path in paths]
    return [(name or path.stem, day) for path, name, day in read]


def _days_data(found: Sequence[OnDay]) -> dict[str, Any]:
    """Return the answers as data, schema "compare-days/1"."""
    from simcaddie.files.answers import comparison_data
    from simcaddie.strategy.days import days_words

    return {
        "schema": "compare-days/1",
        "sentence": days_words(found),
        "days": [
            {"name": one.name, "flips": one.flips, "first_choice_costs": one.costs, **comparison_data(one.answer)}
            for one in found
        ],
    }


def _print_days(found: Sequence[OnDay]) -> None:
    """Print one row a day, and where the choice flips."""
    from simcaddie.ground.targets import aim_in_degrees
    from simcaddie.strategy.day_words import day_words
    from simcaddie.strategy.days import days_words
    from simcaddie.strategy.words import aim_words, place_words

    out, first = console(), found[0].answer
    out.print(f"[bold]{first.scene.hole.name}[/bold], par {first.scene.hole.par}, from the {place_words(first)}")
    out.print(f"{first.scene.player.name}, on {len(found)} days\n", markup=False)
    title = first.best.title
    table = plain_table((0, 1, 0, 0), f"the {title}: what the choice of {found[0].name} costs on that day")
    for head in ("day", "club", "aim", "target"):
        table.add_column(head, no_wrap=head != "target")
    for head in ("score", "blow-up", "leaves", title):
        table.add_column(head, justify="right", no_wrap=True)
    for one in found:
        best = one.answer.best
        costs = "" if one is found[0] else "–" if one.costs is None else f"{max(0.0, one.costs):+.2f}"
        table.add_row(
            one.name,
            best.title,
            aim_in_degrees(best.option.aim),
            aim_words(one.answer.scene, best),
            f"{best.mean:.2f}",
            f"{10 * best.blow_up:.1f}",
            f"{best.leave:.0f} yd",
            costs + (" flips" if one.flips else ""),
        )
    out.print(table)
    out.print()
    for one in found:
        if one.answer.request.day is not None:
            out.print(f"{one.name}: {day_words(one.answer.request.day)}", markup=False)
    out.print(f"\n{days_words(found)}", markup=False)
    out.print(f"\n[dim]{CAUTION}[/dim]")
