"""What all commands do alike: options from a dataclass; an answer as data, tables and figures; caution and time."""

from __future__ import annotations

import inspect
import os
import sys
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import MISSING, dataclass, fields
from pathlib import Path
from typing import Any, TypeVar, get_type_hints

from simcaddie.base.cautions import ON_SCREEN
from simcaddie.base.writing import writing_to
from simcaddie.console.document import GAP, Document, Text
from simcaddie.console.options import Common, DayOf, Written

__all__ = ["Answer", "command", "drop_output", "note", "working"]

O = TypeVar("O", bound=Common)  # noqa: E741

Draw = Callable[[], object]


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What a command answers, each part made when it is asked for.

    ``data`` goes to ``--json``, ``document`` to the terminal. ``figures`` pairs each file with what draws it, and is
    drawn last. ``caution``: the usual one stands beneath. ``notes`` are said beside the answer, ``verbose`` where that
    is asked for, ``{took}`` in it being the time. ``code`` is the exit code.
    """

    data: Callable[[], Any] = dict
    document: Callable[[], Document] = tuple
    figures: Sequence[tuple[Path, Draw]] = ()
    caution: bool = False
    notes: Sequence[str] = ()
    verbose: str = ""
    code: int = 0


def command(kind: type[O]) -> Callable[[Callable[[O], Answer]], Callable[..., int]]:
    """Make a command for typer of a function of its options: every field of the dataclass ``kind`` that it takes."""

    def make(work: Callable[[O], Answer]) -> Callable[..., int]:
        def run(**given: Any) -> int:
            started, options = time.perf_counter(), kind(**given)
            with writing_to(_outputs(kind, given)):
                if "fresh" in given:  # it plays golf
                    _start_quickly()
                    if given["fresh"]:
                        from simcaddie.base.memo import ignore_kept

                        ignore_kept()
                return _deliver(work(options), options, started)

        made: Any = run
        made.__name__, made.__doc__ = work.__name__, work.__doc__
        made.__signature__ = inspect.Signature(_parameters(kind))
        made.__annotations__ = {}
        return run

    return make


def _parameters(kind: type[Common]) -> list[inspect.Parameter]:
    """Return an options dataclass as parameters: arguments, the command's own, then the day, then what all share."""
    hints = get_type_hints(kind, include_extras=True)
    places = dict.fromkeys(DayOf.__dataclass_fields__, 1) | dict.fromkeys(("units", *Common.__dataclass_fields__), 2)
    found = []
    for field in sorted((f for f in fields(kind) if f.init), key=lambda field: places.get(field.name, 0)):
        default = inspect.Parameter.empty if field.default is MISSING else field.default
        found.append(
            inspect.Parameter(field.name, inspect.Parameter.KEYWORD_ONLY, default=default, annotation=hints[field.name])
        )
    return found


def _outputs(kind: type[Common], given: Mapping[str, Any]) -> list[Path]:
    """Return the files that a command is asked to write, their endings and folders looked at."""
    found = []
    for name, hint in get_type_hints(kind, include_extras=True).items():
        written = next((each for each in getattr(hint, "__metadata__", ()) if isinstance(each, Written)), None)
        if written is not None and given.get(name) not in (None, "-"):
            written.check(path := Path(given[name]))
            found += [] if written.folder else [path]
    return found


def _deliver(answer: Answer, options: Common, started: float) -> int:
    """Write the data, print the document, draw the figures; return the exit code."""
    from simcaddie.io.write import json_text, write_json

    if options.json not in (None, "-"):
        write_json(answer.data(), options.json)
    unprinted: OSError | None = None
    try:
        if options.json == "-":
            sys.stdout.write(json_text(answer.data()))
        else:
            from simcaddie.console.terminal import show

            show([*answer.document(), *((GAP, Text(ON_SCREEN, quiet=True)) if answer.caution else ())])
        sys.stdout.flush()
    except OSError as error:  # figures are written all the same
        drop_output()
        unprinted = None if isinstance(error, BrokenPipeError) else error  # a reader may have read enough
    for path, draw in answer.figures:
        draw()
        note(f"Drawn: {path}")
    if unprinted is not None:
        raise unprinted
    for line in answer.notes:
        note(line)
    if options.verbose:
        took = f"{time.perf_counter() - started:.1f} s"
        told = answer.verbose.replace("{took}", took)
        for line in (told,) if told != answer.verbose else (told, f"Done in {took}"):
            if line:
                note(line)
    return answer.code


def drop_output() -> None:
    """Send what is still to be printed nowhere, so that leaving doesn't fail over it."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def note(text: str) -> None:
    """Say something beside the result, on stderr; nothing depends on whether anyone can hear it."""
    with suppress(OSError, ValueError):
        sys.stderr.write(f"{text}\n")
        sys.stderr.flush()


@contextmanager
def working(what: str, steps: int | None = None) -> Iterator[Callable[[], None]]:
    """Show progress while something takes long, and say where code has to be compiled first: the first run ever.

    Yields what tells that one of ``steps`` is done.
    """
    from simcaddie.base.compiled import announce_compiling, cache_folder
    from simcaddie.console.progress import progress

    seconds = announce_compiling(note)
    with progress(what, steps) as done:
        yield done
    if seconds() > 0:
        later = "; later runs start at once" if cache_folder() else ""
        note(f"Compiled in {seconds():.0f} s{later}.")


def _start_quickly() -> None:
    """Keep numba from importing scipy's linear algebra, a fifth of a second, which nothing here is compiled against."""
    name = "scipy.linalg.cython_blas"
    if name not in sys.modules:
        sys.modules[name] = None  # type: ignore[assignment]
        import numba.np.arraymath  # noqa: F401

        del sys.modules[name]
