"""A round looked back on as pages: the waterfall of the round, and every hole with its strokes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from matplotlib.figure import Figure

from simcaddie.base.cautions import AFTER, DECIDE
from simcaddie.charts.pages import write_pages
from simcaddie.charts.strokes import hole_page, round_page
from simcaddie.decision.told import hole_played, hole_steps, part_steps
from simcaddie.features.review.analysis import Review
from simcaddie.features.review.present import decision_words

__all__ = ["draw_review", "review_pages"]


def review_pages(answer: Review) -> Iterator[Figure]:
    """Yield the pages: each round's waterfall and its holes."""
    for card in answer.cards:
        note = f"{answer.walk.player.name}, {Path(card.name).name}"
        if len(card.ledgers) > 1:
            said = [decision_words(answer, one) for one in answer.dearest if one.card is card]
            yield round_page(
                answer.walk.course.name,
                note,
                part_steps(card.ledgers),
                hole_steps(card.ledgers),
                said,
                f"{AFTER} {DECIDE}",
            )
        for ledger in card.ledgers:
            yield hole_page(hole_played(ledger, note), f"{AFTER} {DECIDE}")


def draw_review(answer: Review, path: Path) -> None:
    """Draw the pages to a .pdf, or side by side to a .png; an .svg has the first page.

    Raises
    ------
    BadRequest
        Where the file can't be written.
    """
    write_pages(review_pages(answer), path)
