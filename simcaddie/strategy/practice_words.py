"""What pays, in plain words."""

from __future__ import annotations

from simcaddie.strategy.practice import Gain, Practice, PracticeRow

__all__ = ["CHANGE_TITLES", "practice_words", "shown"]

CHANGE_TITLES = {
    "gap": "gap closed",
    "tighter": "10 % tighter",
    "mishits": "half mishits",
    "bias": "no bias",
}
_CHANGE_WORDS = {
    "tighter": "a tenth less spread",
    "mishits": "half the mishits",
    "bias": "no side bias",
}
_SURE = 2.0  # standard errors
_LITTLE = 0.05  # strokes a round


def shown(gain: Gain | None) -> str:
    """Say strokes saved; empty where the change makes no sense."""
    if gain is None:
        return ""
    return f"{gain.saved:+.2f}" if abs(gain.saved) >= 0.005 else "0.00"


def _title(row: PracticeRow) -> str:
    title = row.thing.title
    return title if row.thing.touch or row.thing.putting else f"the {title}"


def _first(practice: Practice) -> str:
    told = [row for row in practice.rows if row.gap.saved >= _LITTLE][:3]
    if not told:
        return "Nothing is far behind a golfer five strokes better: no gap costs more than 0.05 strokes a round."
    parts = [f"{_title(row)} ({row.gap.saved:.2f} strokes a round)" for row in told]
    listed = parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"
    return f"Closing the gap to a golfer five strokes better pays most with {listed}."


def _single(practice: Practice) -> str:
    """Say the best single change apart from closing a gap."""
    found = [
        (gain.saved, row, change) for row in practice.rows for change, gain in row.gains.items() if change != "gap"
    ]
    saved, row, change = max(found, key=lambda item: item[0])
    return f"Of single changes {_CHANGE_WORDS[change]} with {_title(row)} saves most: {saved:.2f}."


def _bias(practice: Practice) -> str:
    gain = practice.swings.gains["bias"]
    if gain.saved < _LITTLE:
        return "Side bias costs next to nothing as long as you know it and aim off for it."
    return f"Without side bias in any swing the round takes {gain.saved:.2f} strokes fewer."


def practice_words(practice: Practice) -> list[str]:
    """Return what is said under the table."""
    every = practice.everything
    lines = [
        _first(practice),
        f"All gaps closed at once save {every.saved:.2f} ± {every.se:.2f} of {practice.mean:.1f} strokes a round.",
        _single(practice),
        _bias(practice),
        "Clubs and lines stay those of today, so this is on the low side. ± is the simulation's standard error.",
    ]
    if practice.seldom:
        lines.append(f"Hardly played on this course, so left out: {', '.join(practice.seldom)}.")
    return lines
