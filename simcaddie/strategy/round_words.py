"""A round in plain words: what it comes to, how far rounds differ, best and worst holes, where strokes go."""

from __future__ import annotations

from simcaddie.course.match import result_words
from simcaddie.scoring.handicap import rounded
from simcaddie.simulate.sequences import PARTS
from simcaddie.strategy.round import Round, RoundHole

__all__ = [
    "counted_words",
    "form_words",
    "handicap_words",
    "holes_words",
    "part_rows",
    "round_words",
    "to_handicap_words",
    "total_words",
    "versus_words",
]

PART_TITLES = {
    "tee": "tee shots (par 4s and 5s)",
    "approach": "approaches, lay-ups and par 3 tees",
    "touch": "touch shots",
    "putting": "putts",
    "penalties": "penalty strokes",
}
SOME = 3  # holes told as the best and the worst ones


def _signed(value: float) -> str:
    return f"{value:+.1f}" if abs(value) >= 0.05 else "0.0"


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


def handicap_words(answer: Round) -> str:
    """Say the course handicap, the playing handicap and how they came about."""
    handicap = answer.handicap
    if handicap.course is None:
        return f"{answer.player.name}: no handicap index, so no strokes are received"
    assumed = " (assumed: the course file has none for this tee)" if handicap.assumed else ""
    start = f"{answer.player.name}: course handicap {_handicap(handicap.whole)}"
    rating = f"course rating {handicap.rating:g}, slope {handicap.slope}{assumed}"
    playing = f"playing handicap {_handicap(handicap.playing)} at {100 * handicap.allowance:g} %"
    return f"{start}, {rating}; {playing} for {answer.form.title}"


def _handicap(strokes: int) -> str:
    return f"+{-strokes}" if strokes < 0 else str(strokes)


def total_words(answer: Round) -> str:
    """Say the mean of all strokes, and between what most rounds lie."""
    law = answer.total
    over = law.mean - answer.par
    return (
        f"The round takes {law.mean:.1f} strokes on average, {abs(over):.1f} {'over' if over >= 0 else 'under'} par. "
        f"Two rounds in three lie between {law.quantile(1 / 6)} and {law.quantile(5 / 6)}; the best in ten are "
        f"{law.quantile(0.1)} or fewer."
    )


def counted_words(answer: Round) -> str:
    """Say what the round comes to in its form of play; empty for match play."""
    law, form = answer.counted, answer.form
    if answer.request.form == "match":
        return ""
    if form.gross:
        playing = answer.handicap.playing
        net, par = law.shifted(-playing), answer.par
        if answer.handicap.course is None:
            return "" if answer.request.form == "stroke" else f"Counted at {form.title}: {law.mean:.1f}."
        text = f"Net {net.mean:.1f} on average; net par ({par}) or better in {_in_ten(net.at_most(par))}."
        return text if answer.request.form == "stroke" else f"Counted at {form.title}: {law.mean:.1f}. {text}"
    if form.unit == "points":
        target = 2 * len(answer.holes)
        return (
            f"That is {law.mean:.1f} points on average, between {law.quantile(1 / 6)} and {law.quantile(5 / 6)} in two "
            f"rounds of three; {target} or more in {_in_ten(law.at_least(target))}."
        )
    word = "up" if law.mean >= 0 else "down"
    return (
        f"Against net par that is {abs(law.mean):.1f} holes {word} on average; level or up in "
        f"{_in_ten(law.at_least(0))}."
    )


def to_handicap_words(answer: Round) -> str:
    """Say how often the round is played to the handicap; empty without one."""
    if answer.to_handicap is None or answer.handicap.course is None:
        return ""
    most = rounded(answer.handicap.course) + answer.handicap.par
    return (
        f"Plays to the handicap ({most} or fewer, no hole counting more than net double bogey) in "
        f"{_in_ten(answer.to_handicap)}."
    )


def form_words(answer: Round) -> str:
    """Say what day form does to the total."""
    alike, real = answer.plain, answer.total
    return (
        f"Rounds differ by ±{real.sd:.1f} (standard deviation). Were every day alike it would be ±{alike.sd:.1f}, "
        f"around {alike.mean:.1f}: day form costs {real.mean - alike.mean:.1f} strokes on average."
    )


def _hole_words(one: RoundHole, number: int) -> str:
    return f"{number} {one.hole.name} ({_signed(one.over)})"


def holes_words(answer: Round) -> list[str]:
    """Say the best and the worst holes, by mean strokes over net par."""
    order = sorted(range(len(answer.holes)), key=lambda i: answer.holes[i].over)
    some = min(SOME, len(order) // 2)
    told = [[_hole_words(answer.holes[i], i + 1) for i in part] for part in (order[:some], order[: -some - 1 : -1])]
    best, worst = (", ".join(words) for words in told)
    return [f"Best holes against net par: {best}.", f"Worst: {worst}."]


def part_rows(answer: Round) -> list[tuple[str, float, float]]:
    """Return where strokes go: (part in words, mean strokes a round, share of all)."""
    whole = float(answer.parts.sum())
    return [
        (PART_TITLES[part], float(strokes), float(strokes) / whole)
        for part, strokes in zip(PARTS, answer.parts, strict=True)
    ]


def versus_words(answer: Round) -> list[str]:
    """Say how it goes against the opponent; nothing without one."""
    versus = answer.versus
    if versus is None:
        return []
    ours, theirs = answer.player.name, versus.player.name
    chances = f"wins {10 * versus.win:.1f}, ties {10 * versus.tie:.1f} and loses {10 * versus.lose:.1f} times in ten"
    if versus.match is None:
        by = "net totals" if answer.form.gross else answer.form.unit
        off = f"playing handicap {_handicap(versus.handicap.playing)}, {versus.total.mean:.1f} strokes on average"
        return [f"Against {theirs} ({off}), by {by}: {ours} {chances}."]
    gets = sum(versus.strokes)
    strokes = f"gets {gets}" if gets > 0 else f"gives {-gets}" if gets < 0 else "gets and gives none"
    likely = sorted(versus.match.chance.items(), key=lambda item: -item[1])[:3]
    results = ", ".join(f"{result_words(result)} ({10 * share:.1f})" for result, share in likely)
    return [
        f"Match against {theirs}, playing handicap {_handicap(versus.handicap.playing)}: {ours} {strokes} strokes, and "
        f"{chances}.",
        f"Likeliest results: {results} times in ten.",
    ]


def round_words(answer: Round) -> list[str]:
    """Return all that is said under the table."""
    lines = [total_words(answer), counted_words(answer), to_handicap_words(answer), *versus_words(answer)]
    return [line for line in (*lines, form_words(answer), *holes_words(answer)) if line]
