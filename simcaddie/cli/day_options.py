"""The options of the day, the same on every command that plays golf."""

from __future__ import annotations

import inspect
import sys
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Final, get_type_hints

import typer

if TYPE_CHECKING:
    from simcaddie.air.day import Day

__all__ = ["with_day"]


def _option(metavar: str, text: str) -> Any:
    return Annotated[str | None, typer.Option(metavar=metavar, help=text)]


_OPTIONS: Final[dict[str, Any]] = {
    "wind": _option("WIND", '"12 mph from 240" (compass), "12 mph into", "12 mph from the left"; or km/h, m/s, knots.'),
    "gust": _option("SPEED", 'How hard it gusts, as "20 mph": the wind then differs from stroke to stroke.'),
    "temperature": _option("DEGREES", 'As "8 C" or "46 F"; 15 C by default.'),
    "altitude": _option("HEIGHT", 'Of the course above the sea, as "150 m" or "500 ft".'),
    "firmness": _option("soft|ordinary|firm", "Of the turf; or a number from 0 to 1."),
    "greens": _option("FEET", "Speed of the greens on the stimpmeter; 9 by default."),
}
_FILE: Final = Annotated[
    Path | None, typer.Option("--day", metavar="FILE", help="A file with a `day:` block; the options above change it.")
]


_FRESH: Final = Annotated[
    bool, typer.Option("--fresh", help="Work everything out anew, whatever is kept from an earlier command.")
]


def with_day(command: Callable[..., int]) -> Callable[..., int]:
    """Give a command the options of the day, as one ``day`` (None where none was said), and ``--fresh``."""

    @wraps(command)
    def run(**given: Any) -> int:
        words = {key: given.pop(key) for key in _OPTIONS}
        given["day"] = _day(given["day"], words)
        _start_quickly()
        if given.pop("fresh"):
            from simcaddie.shelf import ignore_kept

            ignore_kept()
        return command(**given)

    plain = inspect.signature(command)
    added = [
        inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, default=None, annotation=kind)
        for name, kind in (*_OPTIONS.items(), ("day", _FILE))
    ]
    added.append(inspect.Parameter("fresh", inspect.Parameter.KEYWORD_ONLY, default=False, annotation=_FRESH))
    hints = get_type_hints(command, localns={"Day": object}, include_extras=True)  # Day isn't imported while it runs
    kept = [
        p.replace(kind=inspect.Parameter.KEYWORD_ONLY, annotation=hints[p.name])
        for p in plain.parameters.values()
        if p.name != "day"
    ]
    at = next((i for i, p in enumerate(kept) if p.name == "json"), len(kept))
    run.__signature__ = plain.replace(parameters=[*kept[:at], *added, *kept[at:]])  # type: ignore[attr-defined]
    run.__annotations__ = hints | {p.name: p.annotation for p in added}
    return run


def _start_quickly() -> None:
    """Keep numba from importing scipy's linear algebra, a fifth of a second, which nothing here is compiled against."""
    name = "scipy.linalg.cython_blas"
    if name not in sys.modules:
        sys.modules[name] = None  # type: ignore[assignment]
        import numba.np.arraymath  # noqa: F401

        del sys.modules[name]


def _day(file: Path | None, words: dict[str, str | None]) -> Day | None:
    """Return the day that the file and the words say; None where they say nothing."""
    if file is None and not any(words.values()):
        return None
    from simcaddie.air.day import STANDARD
    from simcaddie.files.day_file import day_of_words, read_day

    return day_of_words(words, read_day(file)[1] if file is not None else STANDARD)
