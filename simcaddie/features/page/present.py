"""A page as one object of data, schema "page/1", and as one HTML file that needs nothing else.

Numbers are packed: arrays are little-endian typed arrays in base64, shares are ten-thousandths that add up, places of
balls tenths of a yard.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Any, Final

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from simcaddie.base import __version__
from simcaddie.base.cautions import BEFORE, DECIDE, PLAY
from simcaddie.base.surfaces import BY_NAME, SURFACES, code
from simcaddie.base.units import YARDS_PER, told
from simcaddie.charts.palette import PAPER, TROUBLE
from simcaddie.charts.views import in_view
from simcaddie.console.document import tenths
from simcaddie.console.webpage import packed_text, webpage
from simcaddie.course.hole import Area, Hole
from simcaddie.course.route import aim_in_degrees, line_of_play
from simcaddie.decision.measure import Measure
from simcaddie.decision.options import TOUCH
from simcaddie.decision.phrases import aim_words, clarity, cost, day_words, place_words, sentence, trouble, why_first
from simcaddie.decision.position import Position
from simcaddie.decision.request import Comparison
from simcaddie.features.page.analysis import FINISHES, Anywhere, Looks, Page, PageHole, Pair, Question, Side
from simcaddie.player.carries import swing_carries
from simcaddie.player.swing import Player

__all__ = ["hole_map", "page_data", "page_html"]

WHOLE: Final = 10_000  # what packed shares add up to
GOOD: Final = ("fairway", "green", "holed")  # where a pupil wants the ball
ROOM: Final = 20.0  # yd of ground around what a map must show
_PLAIN: Final = {name for name, kind in BY_NAME.items() if not kind.hazard and name != "trees"} | {"holed"}


# ─── Packing ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _packed(values: ArrayLike, kind: str) -> str:
    """Return numbers as a little-endian typed array in base64; those of a whole kind are rounded."""
    array = np.asarray(values)
    array = np.rint(array) if np.dtype(kind).kind in "iu" else array
    return packed_text(np.ascontiguousarray(array, np.dtype(kind).newbyteorder("<")).tobytes())


def _shares(shares: NDArray[np.float64]) -> NDArray[np.int64]:
    """Return shares, float64[row, n], as ten-thousandths that add up in every row, by largest remainders."""
    parts = WHOLE * shares / shares.sum(axis=1, keepdims=True)
    floors = np.floor(parts).astype(np.int64)
    spare = WHOLE - floors.sum(axis=1, keepdims=True)
    order = np.argsort(floors - parts, axis=1, kind="stable")
    return np.asarray(floors + (np.argsort(order, axis=1, kind="stable") < spare), np.int64)


def _near(value: float, places: int = 1) -> float:
    return round(float(value), places) + 0.0


def _point(at: Sequence[float]) -> list[float]:
    return [_near(at[0]), _near(at[1])]


# ─── The ground ─────────────────────────────────────────────────────────────────────────────────────────────────────


def _path(shape: BaseGeometry) -> str:
    """Return polygons, holes included, as one SVG path in yards, y up the hole; empty for none."""
    found = []
    for part in shapely.get_parts(shape):
        if isinstance(part, Polygon) and part.area > 0.1:
            turned = shapely.geometry.polygon.orient(part)
            for ring in (turned.exterior, *turned.interiors):
                points = list(dict.fromkeys((_near(x), _near(y)) for x, y in ring.coords[:-1]))
                if len(points) > 2:
                    found.append("M" + "L".join(f"{x:g} {y:g}" for x, y in points) + "Z")
    return " ".join(found)


def _shape(kind: str, shape: BaseGeometry, name: str = "", marking: str = "") -> dict[str, Any]:
    return {"kind": code(kind), "name": name or None, "marking": marking or None, "path": _path(shape)}


def _joined(kind: str, areas: Sequence[Area], view: BaseGeometry) -> Iterable[dict[str, Any]]:
    """Yield the areas of a kind: those that touch as one shape, penalty areas each by itself with its marking."""
    if BY_NAME[kind].penalty:
        yield from (_shape(kind, area.outline.intersection(view), area.name, area.marking) for area in areas)
        return
    for part in shapely.get_parts(shapely.union_all([area.outline for area in areas])):
        named = (area.name for area in areas if area.name and area.outline.intersects(part))
        yield _shape(kind, part.intersection(view), next(named, ""))


def hole_map(hole: Hole, place: tuple[float, float]) -> dict[str, Any]:
    """Return the ground of a hole and what stands on it, lowest kind first; lengths in yards, y up the hole."""
    left, low, right, high = in_view(hole)
    box = (left - ROOM, low - ROOM, right + ROOM, high + ROOM)
    view, shapes = shapely.box(*box).buffer(2 * ROOM), []
    for surface in SURFACES:
        areas = [area for area in hole.areas if area.kind == surface.name]
        shapes += [shape for shape in _joined(surface.name, areas, view) if shape["path"]] if areas else []
    if hole.boundary is not None:
        shapes.append(_shape("out_of_bounds", view.difference(hole.boundary)))
    return {
        "view": [_near(edge) for edge in box],
        "surround": code(hole.surround),
        "shapes": shapes,
        "boundary": None if hole.boundary is None else _path(hole.boundary),
        "line": [_point(at) for at in line_of_play(hole, place)],
        "landmarks": [{"name": mark.name, "at": _point(mark.at)} for mark in hole.landmarks],
        "pins": [{"name": name, "at": _point(at)} for name, at in hole.pins.items()],
    }


def _kinds() -> list[dict[str, Any]]:
    """Return every place where a ball may finish; index = code for ground, what isn't ground after it."""
    found = []
    for name in FINISHES:
        drawing = BY_NAME[name].drawing if name in BY_NAME else None
        found.append(
            {
                "name": name,
                "title": BY_NAME[name].title if name in BY_NAME else name,
                "fill": drawing.fill if drawing else PAPER,
                "edge": drawing.edge if drawing else TROUBLE,
                "hatch": drawing.hatch if drawing else "",
                "good": name in GOOD,
                "trouble": name not in _PLAIN,
            }
        )
    return found


# ─── A question ─────────────────────────────────────────────────────────────────────────────────────────────────────


def _options(answer: Comparison, looks: Looks) -> dict[str, Any]:
    bad = np.array([name not in _PLAIN for name in FINISHES])
    numbers = {
        "mean": looks.mean,
        "se": looks.se,
        "diff": looks.diff,
        "diffSe": looks.diff_se,
        "netPar": looks.net_par,
        "blowUp": looks.blow_up,
        "points": looks.points,
        "trouble": looks.finish[:, bad].sum(axis=1),
        "leave": looks.leave,
    }
    return {
        "count": int(looks.swing.size),
        "best": looks.row(answer.best.option),
        "swing": _packed(looks.swing, "u1"),
        "aim": _packed(looks.aim, "i1"),
        **{name: _packed(values, "f4") for name, values in numbers.items()},
        "finish": _packed(_shares(looks.finish), "u2"),
        "pmf": _packed(_shares(looks.law), "u2"),
        "balls": _packed(10.0 * np.clip(looks.at, -3200.0, 3200.0), "i2"),
        "ballKind": _packed(looks.ended, "u1"),
    }


def _ranked(answer: Comparison, looks: Looks, m: Measure) -> dict[str, Any]:
    return {
        "option": looks.row(m.option),
        "club": m.title,
        "aim": aim_words(answer.position, m),
        "costs": _near(0.0 if m is answer.best else cost(answer, m), 4),
        "verdict": clarity(answer, m),
        "frontier": answer.on_frontier(m),
    }


def _pair(pair: Pair) -> dict[str, Any]:
    bars = [{"title": r.title, "detail": r.detail, "strokes": r.hundredths / 100} for r in pair.reasons]
    return {"a": pair.a, "b": pair.b, "headline": pair.headline, "because": pair.because, "bars": bars}


def _anywhere(found: Anywhere) -> dict[str, Any]:
    rows, columns = found.swing.shape[1:]
    return {
        "cell": found.cell,
        "x0": found.x0,
        "y0": found.y0,
        "columns": columns,
        "rows": rows,
        "lies": list(found.lies),
        "swing": _packed(found.swing, "u1"),
        "aim": _packed(np.clip(found.aim, -127.0, 127.0), "i1"),
        "toGo": _packed(100.0 * found.to_go, "u2"),
    }


def _question(question: Question) -> dict[str, Any]:
    answer, looks, day = question.answer, question.looks, question.day
    words = list(dict.fromkeys(looks.words))
    number = {word: at for at, word in enumerate(words)}
    return {
        "pin": question.pin,
        "day": None if day is None else {"name": day[0], "words": day_words(day[1])},
        "pinLine": _near(answer.position.pin_line, 9),
        "sentence": sentence(answer),
        "whyFirst": why_first(answer),
        "ranking": [_ranked(answer, looks, m) for m in answer.options],
        "options": _options(answer, looks),
        "words": words,
        "aimWord": _packed([number[word] for word in looks.words], "u2"),
        "pairs": [_pair(pair) for pair in question.pairs],
        "anywhere": _anywhere(question.anywhere),
    }


# ─── The whole ──────────────────────────────────────────────────────────────────────────────────────────────────────


def _swings(position: Position) -> list[dict[str, Any]]:
    """Return the player's swings by their numbers, touch last: what carries they have from the lie asked about."""
    player, lie = position.player, position.player.lies[position.place.lie]
    found: list[dict[str, Any]] = [{"title": s.title, "carry": _near(s.carry * lie.carry)} for s in player.swings]
    return [*found, {"title": TOUCH, "carry": None}]


def _side(side: Side) -> dict[str, Any]:
    answer = side.questions[0].answer
    return {
        "name": side.player.name,
        "strokesReceived": answer.strokes_received,
        "played": answer.played,
        "netPar": answer.net_par,
        "cap": answer.position.cap,
        "swings": _swings(answer.position),
        "questions": [_question(question) for question in side.questions],
    }


def _hole(page_hole: PageHole) -> dict[str, Any]:
    hole, answer = page_hole.hole, page_hole.sides[0].questions[0].answer
    place = answer.position.place
    line = line_of_play(hole, place.at)
    return {
        "number": page_hole.number or None,
        "name": hole.name,
        "par": hole.par,
        "strokeIndex": hole.stroke_index,
        "length": _near(sum(math.dist(a, b) for a, b in pairwise(line))),
        "units": hole.units,
        "perUnit": YARDS_PER[hole.units],
        "map": hole_map(hole, place.at),
        "place": {"name": place_words(answer), "at": _point(place.at), "lie": place.lie},
        "players": [_side(side) for side in page_hole.sides],
    }


def _card(player: Player) -> dict[str, Any]:
    swings = [
        {"title": one.swing.title, "carry": _near(one.average), "eightInTen": _near(one.short)}
        for one in swing_carries(player)
    ]
    return {"player": player.name, "swings": swings}


def page_data(page: Page) -> dict[str, Any]:
    """Return a page as plain data, schema "page/1"."""
    objective = page.holes[0].sides[0].questions[0].answer.objective
    return {
        "schema": "page/1",
        "program": f"simcaddie {__version__}",
        "seed": page.request.seed,
        "title": page.title,
        "attribution": page.source or None,
        "cautions": [BEFORE, PLAY, DECIDE],
        "objective": {"name": objective.name, "title": objective.title, "level": objective.level},
        "card": [_card(player) for player in page.players],
        "kinds": _kinds(),
        "holes": [_hole(hole) for hole in page.holes],
    }


def _rows(page: Page) -> list[list[str]]:
    """Return every first question's ranking as cells of text, heads first: for a reader without script."""
    several = len(page.holes) > 1 or len(page.players) > 1
    rows = [["hole", "player"] * several + ["club", "aim", "target", "score", "costs", "trouble", "leaves"]]
    for hole in page.holes:
        title = f"{hole.number} {hole.hole.name}" if hole.number else hole.hole.name
        for side in hole.sides:
            answer = side.questions[0].answer
            rows += [[title, side.player.name] * several + _row(answer, m) for m in answer.options]
    return rows


def _row(answer: Comparison, m: Measure) -> list[str]:
    return [
        m.title,
        aim_in_degrees(m.option.aim),
        aim_words(answer.position, m),
        f"{m.mean:.2f}",
        "" if m is answer.best else f"{cost(answer, m):+.2f}",
        f"{tenths(trouble(m))} in ten",
        told(m.leave, answer.position.hole.units),
    ]


def page_html(page: Page, data: dict[str, Any] | None = None) -> str:
    """Return a page as one HTML file; ``data`` saves making it again. The same page gives the same bytes."""
    shown = page_data(page) if data is None else data
    return webpage("simcaddie.features.page", "page", shown, title=page.title, data_rows=_rows(page))
