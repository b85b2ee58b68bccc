"""A round as data: what ``simcaddie round`` prints, as JSON with a schema name."""

from __future__ import annotations

from typing import Any

from simcaddie.course.law import Law
from simcaddie.course.match import result_words
from simcaddie.files.day_answer import day_data
from simcaddie.simulate.sequences import PARTS
from simcaddie.strategy.round import Round, RoundHole
from simcaddie.strategy.round_handicap import Handicap
from simcaddie.strategy.round_versus import Versus
from simcaddie.strategy.round_words import round_words

__all__ = ["round_data"]


def _law(law: Law) -> dict[str, float]:
    return {str(value): float(share) for value, share in zip(law.values, law.chance, strict=True) if share > 5e-7}


def _summary(law: Law) -> dict[str, Any]:
    return {"mean": law.mean, "sd": law.sd, "law": _law(law)}


def _handicap(handicap: Handicap) -> dict[str, Any]:
    return {
        "index": handicap.index,
        "course_rating": handicap.rating,
        "slope": handicap.slope,
        "par": handicap.par,
        "rating_assumed": handicap.assumed,
        "course_handicap": None if handicap.course is None else float(handicap.course),
        "allowance": handicap.allowance,
        "playing_handicap": handicap.playing,
    }


def _hole(answer: Round, number: int, one: RoundHole) -> dict[str, Any]:
    versus = answer.versus
    match: dict[str, Any] = {}
    if versus is not None and versus.holes is not None:
        win, tie, lose = (float(share) for share in versus.holes[number])
        match = {"match_strokes": versus.strokes[number], "win": win, "tie": tie, "lose": lose}
    return {
        "hole": number + 1,
        "file": answer.course.files[number],
        "name": one.hole.name,
        "par": one.hole.par,
        "stroke_index": one.hole.stroke_index,
        "strokes_received": one.strokes,
        "net_par": one.net_par,
        "mean": one.mean,
        "se": one.se,
        "over_net_par": one.over,
        "net_par_or_better": one.net_par_or_better,
        "blow_up": one.blow_up,
        "points": one.points,
        "counts": one.counts.mean,
        "picked_up": one.picked_up,
        "parts": dict(zip(PARTS, map(float, one.parts), strict=True)),
        "score_law": _law(one.law),
        **match,
    }


def _versus(versus: Versus) -> dict[str, Any]:
    data: dict[str, Any] = {
        "player": versus.player.name,
        "handicap": _handicap(versus.handicap),
        "total": _summary(versus.total),
        "win": versus.win,
        "tie": versus.tie,
        "lose": versus.lose,
    }
    if versus.match is not None:
        results = sorted(versus.match.chance.items(), key=lambda item: -item[1])
        data["results"] = {result_words(result): share for result, share in results}
    return data


def round_data(answer: Round) -> dict[str, Any]:
    """Return a round as plain data, schema "round/1"; chances from 0 to 1, parts in strokes.

    ``total`` is over all days, ``without_day_form`` as if every day were alike; ``counted`` is what the form of play
    counts, before the playing handicap comes off gross totals.
    """
    request = answer.request
    return {
        "schema": "round/1",
        "course": answer.course.name,
        "player": answer.player.name,
        "tee": answer.tee,
        "pin": request.pin or "middle",
        "format": request.form,
        "limit": request.limit if request.form == "maximum" else None,
        "then": request.then,
        "seed": request.seed,
        "sequences": request.sequences,
        "handicap": _handicap(answer.handicap),
        "par": answer.par,
        "day": day_data(answer.day),
        "total": {**_summary(answer.total), "se": answer.se},
        "without_day_form": {**_summary(answer.plain), "se": answer.plain_se},
        "counted": _summary(answer.counted),
        "counted_without_day_form": _summary(answer.counted_plain),
        "to_handicap": answer.to_handicap,
        "parts": dict(zip(PARTS, map(float, answer.parts), strict=True)),
        "holes": [_hole(answer, number, one) for number, one in enumerate(answer.holes)],
        "versus": None if answer.versus is None else _versus(answer.versus),
        "words": round_words(answer),
    }
