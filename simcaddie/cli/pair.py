"""What stands under the table of ``simcaddie compare``: two options set against each other, and doubt.

The options ``--why``, ``--when`` and ``--doubt``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from simcaddie.cli.shared import plain_table

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

    from simcaddie.strategy import Comparison
    from simcaddie.strategy.best_ball import BestBallCost
    from simcaddie.strategy.doubt import Doubt
    from simcaddie.strategy.explain import Explanation
    from simcaddie.strategy.switch import SwitchPoint

__all__ = ["print_doubt", "print_pair"]


def print_pair(out: Console, answer: Comparison, why: Explanation | None, when: tuple[SwitchPoint, ...]) -> None:
    """Print what was asked about two options, where anything was."""
    if why:
        _print_why(out, why)
    if when:
        _print_when(out, answer, when)


def _print_why(out: Console, explanation: Explanation) -> None:
    """Print what makes the difference between two options: a sentence, then the parts."""
    from simcaddie.strategy.explain import explain_words

    out.print(f"\n[bold]The {explanation.a} against the {explanation.b}[/bold]")
    out.print(explain_words(explanation), markup=False)
    out.print(_parts(explanation))


def _signed(strokes: float) -> str:
    return f"{strokes:+.2f}" if abs(strokes) >= 0.005 else "0.00"


def _parts(explanation: Explanation) -> Table:
    from simcaddie.strategy.explain import rows

    table = plain_table(
        caption=f"balls in ten; what it costs against the {explanation.reference.replace('_', ' ')}; "
        "parts of the difference:\nhow often balls finish there, how well they lie there, both together; strokes"
    )
    table.add_column("first ball finishes", no_wrap=True)
    for title in (explanation.a, explanation.b, "it costs", "how often", "how well", "together"):
        table.add_column(title, justify="right")
    for part in rows(explanation):
        shares = (f"{10 * share:.1f}" for share in (part.share_a, part.share_b))
        cost = "" if part.finish == explanation.reference else _signed(part.cost)
        strokes = (_signed(x) for x in (part.by_share, part.by_place, part.total))
        table.add_row(part.finish.replace("_", " "), *shares, cost, *strokes)
    often = explanation.difference - explanation.by_place
    total = (_signed(x) for x in (often, explanation.by_place, explanation.difference))
    table.add_row("in all", "", "", "", *total, style="bold")
    return table


def _print_when(out: Console, answer: Comparison, when: tuple[SwitchPoint, ...]) -> None:
    """Print how far one thing would have to change for the choice to turn, a line each."""
    from rich.table import Table
    from rich.text import Text

    from simcaddie.strategy.switch_words import rerun_words, switch_words

    first = when[0]
    question = f"When would the {first.b} be as good as the {first.a}?"
    if first.gap < 0.0:
        question = f"Until when is the {first.b} better than the {first.a}?"
    level = " As things are, the two are level." if abs(first.gap) <= answer.objective.level else ""
    out.print(f"\n[bold]{question}[/bold]{level} One thing changed at a time:")
    told = Table.grid(padding=(0, 1, 0, 0))
    for point in when:
        told.add_row("–", Text(f"{switch_words(answer, point)} {rerun_words(point)}".rstrip()))
    out.print(told)


def print_doubt(out: Console, answer: Comparison, doubt: Doubt, best_ball: BestBallCost) -> None:
    """Print how far doubt about the player goes into the choice, and what choosing by the best ball costs."""
    from simcaddie.strategy.doubt_words import best_ball_words, doubt_words

    out.print(f"\n[bold]How sure is the choice?[/bold] The player redrawn {doubt.redraws} times from what is known:")
    for line in (*doubt_words(answer, doubt), best_ball_words(best_ball)):
        out.print(line, markup=False)
