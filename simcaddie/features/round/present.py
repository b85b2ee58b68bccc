"""A round presented: the holes against net par, what they come to, where the strokes go; and all of it as data."""

from __future__ import annotations

from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.records import picked, plain
from simcaddie.console.document import (
    GAP,
    SUM,
    Document,
    Heading,
    Row,
    Table,
    Text,
    figures,
    signed,
    table,
    tenths,
    words,
)
from simcaddie.decision.phrases import day_data, day_words
from simcaddie.decision.rounds import BY_LENGTH, Handicap
from simcaddie.features.round.analysis import Round, RoundHole, Versus
from simcaddie.player.estimated import marked
from simcaddie.scoring.handicap import rounded
from simcaddie.scoring.match import MatchLaw, result_words
from simcaddie.scoring.pmf import Pmf
from simcaddie.simulate import PARTS

__all__ = ["present", "round_data"]

PART_TITLES: Final = {
    "tee": "tee shots (par 4s and 5s)",
    "approach": "approaches, lay-ups and par 3 tees",
    "touch": "touch shots",
    "putting": "putts",
    "penalties": "penalty strokes",
}
SOME: Final = 3  # holes told as the best and the worst ones
_SHARES: Final = (0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99)  # of rounds, whose totals ``--details`` shows


def present(answer: Round, *, details: bool = False) -> Document:
    """Return the table of the holes, what is said of the round, and where its strokes go."""
    tee = f"{answer.tee} tees" if answer.tee else "first tees"
    pins = f"{answer.request.pin or 'middle'} pins"
    return [
        Heading(answer.course.name, f", par {answer.par}, {len(answer.holes)} holes, {tee}, {pins}"),
        *([] if answer.day is None else [Text(f"The day: {day_words(answer.day)}")]),
        Text(_handicap_words(answer)),
        *([Text(BY_LENGTH)] if answer.handicap.by_length else []),
        GAP,
        _holes(answer),
        GAP,
        *map(Text, _words(answer)),
        GAP,
        Heading("Where the strokes go"),
        _parts(answer),
        *((GAP, Heading("Details"), _details(answer), _totals(answer)) if details else ()),
    ]


# ─── Tables ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _gets(strokes: int) -> str:
    return "" if strokes == 0 else f"{strokes:+d}"


def _indexes(answer: Round) -> list[str]:
    """Return the holes' stroke indexes; marked, the order of strokes by length where the card's aren't known."""
    handicap = answer.handicap
    if handicap.by_length:
        return [marked(str(place), True) for place in handicap.order]
    return [str(one.hole.stroke_index) for one in answer.holes]


def _holes(answer: Round) -> Table:
    """Return the holes against net par, in a match how often each is won, and below them the round."""
    versus, holes, handicap = answer.versus, answer.holes, answer.handicap.playing
    cells: list[tuple[str, ...]]
    sums: tuple[str, ...]
    if versus is not None and versus.holes is not None:
        titles = ["strokes", "won", "tied", "lost"]
        cells = [
            (_gets(gets), *map(tenths, chances)) for gets, chances in zip(versus.strokes, versus.holes, strict=True)
        ]
        sums = (_gets(sum(versus.strokes)), "", "", "")
        caption = "strokes: received (+) or given (−) in the match\nwon, tied, lost: times in ten"
    else:
        titles = ["gets", "net\npar", "over", "net\npar+", "blow-\nup", "points"]
        cells = [
            (
                _gets(one.strokes),
                str(one.net_par),
                signed(one.over),
                tenths(one.net_par_or_better),
                tenths(one.blow_up),
                f"{one.points:.2f}",
            )
            for one in holes
        ]
        net, points = answer.par + handicap, sum(one.points for one in holes)
        sums = (_gets(handicap), str(net), f"{answer.total.mean - net:+.1f}", "", "", f"{points:.1f}")
        caption = (
            "gets: strokes received; over: score on average less net par; times in ten:\n"
            "net par+, net par or better; blow-up, net double bogey or worse;\npoints: Stableford"
        )
    rows = (
        (str(number), one.hole.name, str(one.hole.par), index, f"{one.mean:.2f}", *more)
        for number, (one, index, more) in enumerate(zip(holes, _indexes(answer), cells, strict=True), start=1)
    )
    whole = Row(("", "the round", str(answer.par), "", f"{answer.total.mean:.1f}", *sums), SUM)
    columns = (*figures(""), *words("hole", wraps=True), *figures("par", "index", "score", *titles))
    return table(columns, (*rows, whole), caption, "close")


def _parts(answer: Round) -> Table:
    parts, whole = answer.parts, answer.parts.sum()
    rows = ((PART_TITLES[part], f"{n:.1f}", f"{n / whole:.0%}") for part, n in zip(PARTS, parts, strict=True))
    total = Row(("in all", f"{answer.total.mean:.1f}", ""), SUM)
    return table((*words(""), *figures("", "")), (*rows, total), gap="wide")


def _details(answer: Round) -> Table:
    rows = (
        (str(number), one.hole.name, f"{one.mean:.3f}±{one.se:.3f}", *(f"{part:.2f}" for part in one.parts))
        for number, one in enumerate(answer.holes, start=1)
    )
    parts = (f"{strokes:.2f}" for strokes in answer.parts)
    whole = Row(("", "the round", f"{answer.total.mean:.2f}±{answer.se:.2f}", *parts), SUM)
    return table(
        (*figures(""), *words("hole"), *figures("mean ± SE", *PARTS)),
        (*rows, whole),
        "mean strokes by part; SE: standard error of the simulation alone",
        "close",
    )


def _totals(answer: Round) -> Table:
    """Return the chances of totals, in hundred, with day form and without."""
    totals = sorted({answer.total.quantile(share) for share in _SHARES})
    return table(
        (*words("total"), *figures(*map(str, totals))),
        (
            (title, *(f"{100 * pmf.at_most(total):.0f}" for total in totals))
            for title, pmf in (("with day form", answer.total), ("without", answer.plain))
        ),
        "rounds in a hundred with that total or fewer",
        "close",
    )


# ─── Words ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def _words(answer: Round) -> list[str]:
    """Return all that is said under the table."""
    pmf, alike = answer.total, answer.plain
    over = pmf.mean - answer.par
    lines = (
        f"The round takes {pmf.mean:.1f} strokes on average, {abs(over):.1f} {'over' if over >= 0 else 'under'} par. "
        f"Two rounds in three lie {_most(pmf)}; the best in ten are {pmf.quantile(0.1)} or fewer.",
        _counted_words(answer),
        _to_handicap_words(answer),
        *_versus_words(answer),
        f"Rounds differ by ±{pmf.sd:.1f} (standard deviation). Were every day alike it would be ±{alike.sd:.1f}, "
        f"around {alike.mean:.1f}: day form costs {pmf.mean - alike.mean:.1f} strokes on average.",
        *_holes_words(answer),
    )
    return [line for line in lines if line]


def _in_ten(share: float) -> str:
    """Say how many rounds in ten.

    >>> _in_ten(0.31), _in_ten(0.1), _in_ten(0.96), _in_ten(0.04), _in_ten(0.001)
    ('3 rounds in ten', 'one round in ten', 'nearly every round', 'one round in 25', 'hardly ever a round')
    """
    if share >= 0.95:
        return "nearly every round"
    if share >= 0.15:
        return f"{round(10 * share)} rounds in ten"
    if share >= 0.085:
        return "one round in ten"
    if share >= 0.005:
        number = 1 / share
        return f"one round in {round(number) if number < 20 else 5 * round(number / 5)}"
    return "hardly ever a round"


def _most(pmf: Pmf) -> str:
    """Say between what two rounds in three lie."""
    return f"between {pmf.quantile(1 / 6)} and {pmf.quantile(5 / 6)}"


def _handicap(strokes: int) -> str:
    return f"+{-strokes}" if strokes < 0 else str(strokes)


def _handicap_words(answer: Round) -> str:
    """Say the course handicap, the playing handicap and how they came about."""
    handicap = answer.handicap
    if handicap.course is None:
        return f"{answer.player.name}: no handicap index, so no strokes are received"
    assumed = " (assumed: the course file has none for this tee)" if handicap.assumed else ""
    return (
        f"{answer.player.name}: course handicap {_handicap(handicap.whole)}, "
        f"course rating {handicap.rating:g}, slope {handicap.slope}{assumed}; "
        f"playing handicap {_handicap(handicap.playing)} at {100 * handicap.allowance:g} % for {answer.form.title}"
    )


def _counted_words(answer: Round) -> str:
    """Say what the round comes to in its form of play; empty for match play."""
    pmf, form = answer.counted, answer.form
    if answer.request.form == "match":
        return ""
    if form.gross:
        counted = "" if answer.request.form == "stroke" else f"Counted at {form.title}: {pmf.mean:.1f}."
        if answer.handicap.course is None:
            return counted
        net, par = pmf.shifted(-answer.handicap.playing), answer.par
        text = f"Net {net.mean:.1f} on average; net par ({par}) or better in {_in_ten(net.at_most(par))}."
        return f"{counted} {text}".lstrip()
    if form.unit == "points":
        target = 2 * len(answer.holes)
        return (
            f"That is {pmf.mean:.1f} points on average, {_most(pmf)} in two rounds of three; {target} or more in "
            f"{_in_ten(pmf.at_least(target))}."
        )
    word = "up" if pmf.mean >= 0 else "down"
    return (
        f"Against net par that is {abs(pmf.mean):.1f} holes {word} on average; level or up in "
        f"{_in_ten(pmf.at_least(0))}."
    )


def _to_handicap_words(answer: Round) -> str:
    """Say how often the round is played to the handicap; empty without one."""
    if answer.to_handicap is None or answer.handicap.course is None:
        return ""
    most = rounded(answer.handicap.course) + answer.handicap.par
    return (
        f"Plays to the handicap ({most} or fewer, no hole counting more than net double bogey) in "
        f"{_in_ten(answer.to_handicap)}."
    )


def _results(match: MatchLaw) -> dict[str, float]:
    """Return the chances of a match's results in words, the likeliest first."""
    return {result_words(result): share for result, share in sorted(match.chance.items(), key=lambda item: -item[1])}


def _versus_words(answer: Round) -> list[str]:
    """Say how it goes against the opponent; nothing without one."""
    versus = answer.versus
    if versus is None:
        return []
    ours, theirs, handicap = answer.player.name, versus.player.name, _handicap(versus.handicap.playing)
    chances = f"wins {tenths(versus.win)}, ties {tenths(versus.tie)} and loses {tenths(versus.lose)} times in ten"
    if versus.match is None:
        by = "net totals" if answer.form.gross else answer.form.unit
        off = f"playing handicap {handicap}, {versus.total.mean:.1f} strokes on average"
        return [f"Against {theirs} ({off}), by {by}: {ours} {chances}."]
    gets = sum(versus.strokes)
    strokes = f"gets {gets}" if gets > 0 else f"gives {-gets}" if gets < 0 else "gets and gives none"
    results = ", ".join(f"{result} ({tenths(share)})" for result, share in [*_results(versus.match).items()][:3])
    return [
        f"Match against {theirs}, playing handicap {handicap}: {ours} {strokes} strokes, and {chances}.",
        f"Likeliest results: {results} times in ten.",
    ]


def _holes_words(answer: Round) -> tuple[str, str]:
    """Say the best and the worst holes, by mean strokes over net par."""
    told = [f"{number} {one.hole.name} ({signed(one.over, 1)})" for number, one in enumerate(answer.holes, start=1)]
    order = sorted(range(len(told)), key=lambda i: answer.holes[i].over)
    some = min(SOME, len(order) // 2)
    best, worst = (", ".join(told[i] for i in part) for part in (order[:some], order[: -some - 1 : -1]))
    return f"Best holes against net par: {best}.", f"Worst: {worst}."


# ─── As data ────────────────────────────────────────────────────────────────────────────────────────────────────────


def round_data(answer: Round) -> dict[str, Any]:
    """Return a round as plain data, schema "round/1"; chances from 0 to 1, parts in strokes.

    ``total`` is over all days, ``without_day_form`` as if every day were alike; ``counted`` is what the form of play
    counts, before the playing handicap comes off gross totals.
    """
    request = answer.request
    return {
        "schema": "round/1",
        **picked(answer, course="course.name", player="player.name", tee="tee"),
        "pin": request.pin or "middle",
        "format": request.form,
        "limit": request.limit if request.form == "maximum" else None,
        **picked(request, "then seed sequences"),
        "handicap": _handicap_data(answer.handicap),
        "par": answer.par,
        "day": day_data(answer.day),
        "total": {**_summary(answer.total), "se": answer.se},
        "without_day_form": {**_summary(answer.plain), "se": answer.plain_se},
        "counted": _summary(answer.counted),
        "counted_without_day_form": _summary(answer.counted_plain),
        "to_handicap": answer.to_handicap,
        "parts": _by_part(answer.parts),
        "holes": [_hole_data(answer, number, one) for number, one in enumerate(answer.holes)],
        "versus": None if answer.versus is None else _versus_data(answer.versus),
        "words": _words(answer),
    }


def _law(pmf: Pmf) -> dict[str, float]:
    return {str(value): float(share) for value, share in zip(pmf.values, pmf.chance, strict=True) if share > 5e-7}


def _summary(pmf: Pmf) -> dict[str, Any]:
    return {**picked(pmf, "mean sd"), "law": _law(pmf)}


def _by_part(strokes: NDArray[np.float64]) -> dict[str, float]:
    return dict(zip(PARTS, map(float, strokes), strict=True))


def _handicap_data(handicap: Handicap) -> dict[str, Any]:
    return {
        **picked(handicap, "index", course_rating="rating", slope="slope", par="par", rating_assumed="assumed"),
        "course_handicap": None if handicap.course is None else float(handicap.course),
        **picked(handicap, "allowance", playing_handicap="playing", strokes_by_length="by_length"),
    }


def _hole_data(answer: Round, number: int, one: RoundHole) -> dict[str, Any]:
    match: dict[str, Any] = {}
    if answer.versus is not None and answer.versus.holes is not None:
        chances = zip(("win", "tie", "lose"), answer.versus.holes[number], strict=True)
        match = {"match_strokes": answer.versus.strokes[number], **plain(dict(chances))}
    return {
        "hole": number + 1,
        "file": answer.course.files[number],
        **picked(one.hole, "name par stroke_index"),
        **picked(one, strokes_received="strokes", net_par="net_par", mean="mean", se="se", over_net_par="over"),
        **picked(one, "net_par_or_better blow_up points", counts="counts.mean", picked_up="picked_up"),
        "parts": _by_part(one.parts),
        "score_law": _law(one.pmf),
        **match,
    }


def _versus_data(versus: Versus) -> dict[str, Any]:
    return {
        "player": versus.player.name,
        "handicap": _handicap_data(versus.handicap),
        "total": _summary(versus.total),
        **picked(versus, "win tie lose"),
        **({} if versus.match is None else {"results": _results(versus.match)}),
    }
