"""A comparison presented: the ranked table and what stands beneath it; and all of it as data."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, Final, NamedTuple

from simcaddie.base.records import picked, plain
from simcaddie.base.units import told
from simcaddie.console.document import (
    BEST,
    GAP,
    SUM,
    Block,
    Document,
    Heading,
    Items,
    Row,
    Table,
    Text,
    figures,
    signed,
    table,
    tenths,
    words,
)
from simcaddie.decision.break_even import SwitchPoint, rerun_words, switch_words, when_data, worth_words
from simcaddie.decision.measure import Measure
from simcaddie.decision.phrases import (
    aim_in_yards,
    aim_words,
    audit_words,
    bare_words,
    clarity,
    cost,
    day_data,
    day_words,
    place_words,
    price,
    robustness_words,
    sentence,
    trouble,
    why_first,
)
from simcaddie.decision.position import Position
from simcaddie.decision.request import Comparison
from simcaddie.decision.why import Explanation, explain_words, rows, why_data
from simcaddie.features.compare.analysis import BestBallCost, Doubt, OnDay, days_words
from simcaddie.player.estimated import estimates_told, marked_title, swings_of

__all__ = ["Asked", "best_ball_words", "comparison_data", "days_data", "doubt_words", "present", "present_days"]

SHORT_ROWS: Final = 8  # what a coach sees first
_RARE: Final = 0.01  # shares below this are not told
_HARDLY: Final = 0.1  # of the difference called level: knowing a swing for less is not worth a bucket of balls


def _in_hundred(share: float) -> str:
    return f"{100 * share:.0f}"


def _shares(doubt: Doubt) -> str:
    shares = list(zip(doubt.options, doubt.best, strict=True))
    first, most = shares[0][0].title, shares[0][1]
    others = sorted(((share, m.title) for m, share in shares[1:] if share >= _RARE), key=lambda item: -item[0])
    told = [f"the {title} for {_in_hundred(share)}" for share, title in others]
    text = f"The {first} is best for {_in_hundred(most)} in 100 of them"
    return text + (f", {', '.join(told)}." if told else ".")


def _settled(comparison: Comparison, doubt: Doubt) -> str:
    hardly = _HARDLY * comparison.objective.level
    if not doubt.swings or doubt.swings[0].value < hardly:
        return "More balls with any one club would hardly change the choice."
    most = doubt.swings[0]
    return (
        f"The {most.title} would settle it most: hit {most.balls} more balls with it. They tell "
        f"{100 * most.told / most.value:.0f} % of what there is to know of it, worth "
        f"{worth_words(comparison, most.value, 3)}."
    )


def doubt_words(comparison: Comparison, doubt: Doubt) -> tuple[str, ...]:
    """Say how often each option is best, what following the table costs, and which swing's balls would settle it."""
    loss = worth_words(comparison, doubt.loss)
    return (
        _shares(doubt),
        f"Following the table costs {loss} on average against knowing which of them you are.",
        _settled(comparison, doubt),
    )


def best_ball_words(cost: BestBallCost) -> str:
    """Say what choosing every club by its best ball costs from here."""
    verb = "costs" if cost.strokes >= 0.0 else "saves"
    first = f"the {cost.usual} first, not the {cost.sound}"
    if cost.usual == cost.sound:
        first = f"the {cost.usual} first either way"
    return (
        "Choosing every club by its best ball (usual play) instead of its average (sound play) "
        f"{verb} {abs(cost.strokes):.2f} strokes from here ({first})."
    )


class Asked(NamedTuple):
    """What was asked besides: why one option costs more, when another would do as well, how sure the choice is."""

    why: Explanation | None = None
    when: Sequence[SwitchPoint] = ()
    doubt: tuple[Doubt, BestBallCost] | None = None


# ─── The answer ─────────────────────────────────────────────────────────────────────────────────────────────────────


def present(answer: Comparison, asked: Asked = Asked(), *, details: bool = False) -> Document:
    """Return the ranked table, what it means, and what was asked besides."""
    shown = answer.options if details or answer.request.all_aims else answer.options[:SHORT_ROWS]
    blocks = [*_head(answer), GAP, _ranking(answer, shown)]
    if estimates := estimates_told(swings_of(answer.position.player, (m.option.swing for m in shown))):
        blocks.append(Text(estimates))
    if len(shown) < len(answer.options):
        more, over = len(answer.options) - len(shown), cost(answer, shown[-1])
        blocks.append(Text(f"… and {more} more that cost over {over:.1f}; --details shows all."))
    blocks.append(GAP)
    told = (price, sentence, why_first, robustness_words, bare_words, audit_words)
    blocks += [Text(line) for line in (say(answer) for say in told) if line]
    if details:
        finishes = (_finishes(answer.position, m) for m in shown[:SHORT_ROWS])
        blocks += [GAP, _details(shown), *map(Text, finishes)]
    if asked.why:
        blocks += _why(asked.why)
    if asked.when:
        blocks += _when(answer, asked.when)
    if asked.doubt:
        blocks += _doubt(answer, *asked.doubt)
    if answer.best.picked_up > 0.0005:
        share = f"{answer.best.picked_up:.1%}"
        cap = answer.position.cap
        blocks.append(Text(f"Picked up at {cap} strokes and counted so: {share} of plays of the first line."))
    return blocks


def _head(answer: Comparison) -> Iterator[Block]:
    position, request, received = answer.position, answer.request, answer.strokes_received
    gets = f"gets {received} stroke{'' if received == 1 else 's'}" if received >= 0 else f"gives {-received}"
    if position.hole.stroke_index is None and request.strokes is None and position.player.handicap_index is not None:
        gets = "no strokes, for want of a stroke index,"
    pin = "average over the pins" if request.pin == "any" else f"{request.pin or 'middle'} pin"
    yield Heading(position.hole.name, f", par {position.hole.par}, from the {place_words(answer)}, {pin}")
    start = f", {answer.played} played" if answer.played else ""
    yield Text(f"{position.player.name}: {gets} here, so net par is {answer.net_par}{start}")
    if request.day is not None:
        yield Text(f"The day: {day_words(request.day)}")


def _ranking(answer: Comparison, shown: Sequence[Measure]) -> Table:
    return table(
        (
            *words("club"),
            *words("aim", wraps=True),
            *figures("score", "costs", "net\npar", "trouble", "blow-\nup", "leaves"),
            *words(""),
        ),
        (
            Row(
                (
                    marked_title(answer.position.player, m.option.swing, m.title),
                    aim_words(answer.position, m),
                    f"{m.mean:.2f}",
                    "" if m is answer.best else f"{cost(answer, m):+.2f}",
                    tenths(m.net_par_or_better),
                    tenths(trouble(m)),
                    tenths(m.blow_up),
                    told(m.leave, answer.position.hole.units),
                    clarity(answer, m) + (" ◆" if answer.on_frontier(m) else ""),
                ),
                BEST if m is answer.best else "",
            )
            for m in shown
        ),
        f"score on average; net par or better, trouble (first ball), blow-up: in ten;\n"
        f"leaves: {answer.position.hole.units} to the pin\n"
        "◆ no other choice beats it on both score and blow-up",
        "tight",
    )


def _details(shown: Sequence[Measure]) -> Table:
    """Return what ``--details`` adds: degrees, errors, points, penalties."""
    titles = ("aim °", "mean ± SE", "behind ± SE", "points", "penalties", "picked\nup")
    return table(
        (*words("club"), *figures(*titles)),
        (
            (
                m.title,
                f"{m.option.aim:+.0f}",
                f"{m.mean:.3f}±{m.se:.3f}",
                f"{m.diff:.3f}±{m.diff_se:.3f}",
                f"{m.stableford:.2f}",
                f"{m.penalty_strokes:.3f}",
                f"{m.picked_up:.4f}",
            )
            for m in shown
        ),
        "behind: paired difference to the lowest mean; SE: standard error of the\nsimulation alone",
        "close",
    )


def _finishes(position: Position, m: Measure) -> str:
    """Say where the first ball of an option finishes and which hazards on the line it carries, in ten."""
    ends = sorted(m.finish.items(), key=lambda item: -item[1])
    text = ", ".join(f"{kind.replace('_', ' ')} {tenths(share)}" for kind, share in ends if share >= 0.005)
    over = ", ".join(f"{name} {tenths(share)}" for name, share in m.carries.items())
    return f"{m.title}, {aim_in_yards(position, m)}: finishes {text}" + (f"; carries {over}" if over else "")


# ─── Two options set against each other, and doubt ──────────────────────────────────────────────────────────────────


def _why(explanation: Explanation) -> Iterator[Block]:
    yield GAP
    yield Heading(f"The {explanation.a} against the {explanation.b}")
    yield Text(explain_words(explanation))
    yield _parts(explanation)


def _parts(explanation: Explanation) -> Table:
    told = []
    for part in rows(explanation):
        shares = (tenths(share) for share in (part.share_a, part.share_b))
        costs = "" if part.finish == explanation.reference else signed(part.cost)
        strokes = (signed(x) for x in (part.by_share, part.by_place, part.total))
        told.append(Row((part.finish.replace("_", " "), *shares, costs, *strokes)))
    often = explanation.difference - explanation.by_place
    total = (signed(x) for x in (often, explanation.by_place, explanation.difference))
    titles = (explanation.a, explanation.b, "it costs", "how often", "how well", "together")
    return table(
        (*words("first ball finishes"), *figures(*titles, wraps=True)),
        (*told, Row(("in all", "", "", "", *total), SUM)),
        f"balls in ten; what it costs against the {explanation.reference.replace('_', ' ')}; "
        "parts of the difference:\nhow often balls finish there, how well they lie there, both together; strokes",
    )


def _when(answer: Comparison, when: Sequence[SwitchPoint]) -> Iterator[Block]:
    """Say how far one thing would have to change for the choice to turn, a line each."""
    first = when[0]
    question = f"When would the {first.b} be as good as the {first.a}?"
    if first.gap < 0.0:
        question = f"Until when is the {first.b} better than the {first.a}?"
    level = " As things are, the two are level." if abs(first.gap) <= answer.objective.level else ""
    yield GAP
    yield Heading(question, f"{level} One thing changed at a time:")
    yield Items(tuple(("–", f"{switch_words(answer, point)} {rerun_words(point)}".rstrip()) for point in when))


def _doubt(answer: Comparison, doubt: Doubt, best_ball: BestBallCost) -> Iterator[Block]:
    yield GAP
    yield Heading("How sure is the choice?", f" The player redrawn {doubt.redraws} times from what is known:")
    yield from map(Text, (*doubt_words(answer, doubt), best_ball_words(best_ball)))


# ─── Several days ───────────────────────────────────────────────────────────────────────────────────────────────────


def present_days(found: Sequence[OnDay]) -> Document:
    """Return one row a day, and where the choice flips."""
    first = found[0].answer
    title = first.best.title
    days = [(one.name, one.answer.request.day) for one in found]
    return [
        Heading(first.position.hole.name, f", par {first.position.hole.par}, from the {place_words(first)}"),
        Text(f"{first.position.player.name}, on {len(found)} days"),
        GAP,
        table(
            (*words("day", "club"), *words("aim", wraps=True), *figures("score", "blow-up", "leaves", title)),
            (_on_day(one, first=one is found[0]) for one in found),
            f"the {title}: what the choice of {found[0].name} costs on that day",
            "close",
        ),
        GAP,
        *(Text(f"{name}: {day_words(day)}") for name, day in days if day is not None),
        GAP,
        Text(days_words(found)),
    ]


def _on_day(one: OnDay, *, first: bool) -> tuple[str, ...]:
    best = one.answer.best
    costs = "" if first else "–" if one.costs is None else f"{max(0.0, one.costs):+.2f}"
    return (
        one.name,
        best.title,
        aim_words(one.answer.position, best),
        f"{best.mean:.2f}",
        tenths(best.blow_up),
        told(best.leave, one.answer.position.hole.units),
        costs + (" flips" if one.flips else ""),
    )


# ─── As data ────────────────────────────────────────────────────────────────────────────────────────────────────────


def comparison_data(answer: Comparison, asked: Asked = Asked()) -> dict[str, Any]:
    """Return a comparison as plain data, schema "compare/1", best option first.

    What was asked about two of the options stands under "why" and "when", doubt about the player under "doubt".
    """
    request = answer.request
    besides: dict[str, Any] = {"why": why_data(asked.why)} if asked.why else {}
    if asked.when:
        points = [when_data(answer, point) for point in asked.when]
        besides["when"] = {**picked(asked.when[0], "a b"), "points": points}
    if asked.doubt:
        besides["doubt"] = _doubt_data(answer, *asked.doubt)
    return {
        "schema": "compare/1",
        **picked(answer, hole="position.hole.name", player="position.player.name"),
        "from": place_words(answer),
        "pin": request.pin or "middle",
        **picked(request, "then objective"),
        **picked(answer, "strokes_received", strokes_played="played", net_par="net_par"),
        "day": day_data(request.day),
        **picked(request, "seed sequences"),
        "sentence": sentence(answer),
        "why_first": why_first(answer),
        "also": dict(answer.robustness),
        "undrawn_ground": bare_words(answer),
        "costs_strokes": answer.best.mean - answer.fewest,
        "options": [_option_data(answer, m) for m in answer.options],
        **besides,
    }


def _option_data(answer: Comparison, m: Measure) -> dict[str, Any]:
    return {
        **picked(m, "club swing", aim_deg="option.aim"),
        "estimated": bool(estimates_told(swings_of(answer.position.player, [m.option.swing]))),
        "aim": aim_words(answer.position, m),
        "aim_yards": aim_in_yards(answer.position, m),
        **picked(m, "sequences mean se diff diff_se"),
        "behind_best_of_others": list(m.behind) if m.behind else None,
        "level": answer.is_level(m),
        "frontier": answer.on_frontier(m),
        "verdict": clarity(answer, m),
        "trust": m.trust,
        "audit": picked(m.audit, "sequences apart se agrees") if m.audit else None,
        **picked(m, "net_par_or_better blow_up stableford penalty_strokes picked_up finish carries"),
        **picked(m, leave_yd="leave", lie="lie", score_law="score_law"),
    }


def _doubt_data(answer: Comparison, doubt: Doubt, best_ball: BestBallCost) -> dict[str, Any]:
    options = zip(doubt.options, doubt.best, doubt.worth, strict=True)
    return {
        "redraws": doubt.redraws,
        "options": [
            {**picked(m, "club swing", aim_deg="option.aim"), "best_share": plain(share), "worth": plain(worth)}
            for m, share, worth in options
        ],
        **picked(doubt, "loss loss_se"),
        "worth_knowing": [picked(one, "title value balls", balls_value="told") for one in doubt.swings],
        "best_ball": picked(best_ball, costs_strokes="strokes", se="se", usual_first="usual", sound_first="sound"),
        "sentences": [*doubt_words(answer, doubt), best_ball_words(best_ball)],
    }


def days_data(found: Sequence[OnDay]) -> dict[str, Any]:
    """Return the answers of several days as data, schema "compare-days/1"."""
    return {
        "schema": "compare-days/1",
        "sentence": days_words(found),
        "days": [
            {**picked(one, "name flips", first_choice_costs="costs"), **comparison_data(one.answer)} for one in found
        ],
    }
