"""The command line: parses, calls, prints. Every command's heavy imports wait until it runs."""

from __future__ import annotations

import io
import logging
import sys
import warnings
from contextlib import suppress

import typer

from simcaddie.base.errors import SimcaddieError
from simcaddie.console.command import drop_output, note
from simcaddie.features.bag.command import card, gaps, new_player
from simcaddie.features.check.command import check
from simcaddie.features.compare.command import compare
from simcaddie.features.day.command import today
from simcaddie.features.draw.command import draw, yardages
from simcaddie.features.field.command import field
from simcaddie.features.fit.command import fit
from simcaddie.features.lesson.command import lesson
from simcaddie.features.open_map.command import export_map, import_map
from simcaddie.features.page.command import page
from simcaddie.features.plan.command import plan
from simcaddie.features.practice.command import practice
from simcaddie.features.range_round.command import range_round
from simcaddie.features.review.command import review
from simcaddie.features.round.command import round_
from simcaddie.features.sheet.command import sheet
from simcaddie.features.sheet.piece import sheet_piece
from simcaddie.features.squad.command import squad_command
from simcaddie.features.trace.command import trace

__all__ = ["app", "run"]

HELP = """\
Which club, which line, and how sure: golf hole strategy by simulation.

Write a hole and a player as small text files, or start from the demo ones, and ask before the round. Rule 4.3 does not
allow using this program during a round; what you print or write down before it may be carried.
"""

app = typer.Typer(
    name="simcaddie",
    help=HELP,
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
)
COURSE = (round_, practice, sheet, range_round, review)
GROUPS = (squad_command(sheet_piece), field)
PLAYERS = (new_player, fit, gaps, card)
HOLE = (compare, lesson, page, plan, today)
for command in (*HOLE, *COURSE, *GROUPS, draw, yardages, trace, *PLAYERS, check, import_map, export_map):
    app.command(name=command.__name__.strip("_").replace("_", "-"))(command)


@app.callback()
def _root() -> None:
    """Keep the program's own help text above the list of commands."""


_root.__doc__ = HELP


# What typer raises for options that make no sense; where this class stands has changed between its versions.
_BadUsage: type[Exception] = next(kind for kind in typer.BadParameter.__mro__ if kind.__name__ == "ClickException")


def _prepare() -> None:
    """Make output never fail over a letter that the terminal hasn't got, and warnings plain lines."""
    if sys.stdout is None:  # closed before we began
        sys.stdout = io.StringIO()
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    logging.getLogger("matplotlib").setLevel(logging.ERROR)  # it tells at length where it can't keep its settings
    warnings.formatwarning = lambda message, *_args, **_keys: f"{message}\n"


def run() -> None:
    """Run the command line; errors are one clear message and exit code 2."""
    _prepare()
    try:
        code = app(prog_name="simcaddie", standalone_mode=False)
        sys.stdout.flush()
    except SimcaddieError as error:
        note(str(error))
        code = 2
    except _BadUsage as error:
        with suppress(OSError, ValueError):
            error.show()  # type: ignore[attr-defined]
        code = 2
    except (typer.Abort, KeyboardInterrupt):
        note("stopped")
        code = 130
    except BrokenPipeError:
        drop_output()
        code = 0
    except OSError as error:  # a full disk behind a redirection, say
        note(f"can't write the output: {(error.strerror or str(error)).lower()}")
        drop_output()
        code = 2
    sys.exit(code if isinstance(code, int) else 0)
