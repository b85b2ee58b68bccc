"""Answers as data: what the commands print, as JSON with a schema name."""

from __future__ import annotations

from typing import Any

from simcaddie.strategy.measure import Measure
from simcaddie.strategy.request import Comparison
from simcaddie.strategy.words import aim_in_yards, aim_words, clarity, place_words, sentence, why_first

__all__ = ["comparison_data"]


def _option(comparison: Comparison, m: Measure) -> dict[str, Any]:
    return {
        "club": m.club,
        "swing": m.swing,
        "aim_deg": m.option.aim,
        "aim": aim_words(comparison.scene, m),
        "aim_yards": aim_in_yards(comparison.scene, m),
        "sequences": m.sequences,
        "mean": m.mean,
        "se": m.se,
        "diff": m.diff,
        "diff_se": m.diff_se,
        "behind_best_of_others": list(m.behind) if m.behind else None,
        "level": comparison.is_level(m),
        "frontier": comparison.on_frontier(m),
        "verdict": clarity(comparison, m),
        "trust": m.trust,
        "net_par_or_better": m.net_par_or_better,
        "blow_up": m.blow_up,
        "stableford": m.stableford,
        "penalty_strokes": m.penalty_strokes,
        "picked_up": m.picked_up,
        "finish": dict(m.finish),
        "carries": dict(m.carries),
        "leave_yd": m.leave,
        "lie": m.lie,
        "score_law": {str(score): share for score, share in m.score_law.items()},
    }


def comparison_data(comparison: Comparison) -> dict[str, Any]:
    """Return a comparison as plain data, schema "compare/1", best option first."""
    request, scene = comparison.request, comparison.scene
    return {
        "schema": "compare/1",
        "hole": scene.hole.name,
        "player": scene.player.name,
        "from": place_words(comparison),
        "pin": request.pin or "middle",
        "then": request.then,
        "objective": request.objective,
        "strokes_received": comparison.strokes_received,
        "strokes_played": comparison.played,
        "net_par": comparison.net_par,
        "seed": request.seed,
        "sequences": request.sequences,
        "sentence": sentence(comparison),
        "why_first": why_first(comparison),
        "also": dict(comparison.also),
        "costs_strokes": comparison.best.mean - comparison.fewest,
        "options": [_option(comparison, m) for m in comparison.options],
    }
