"""Answers as data: what the commands print, as JSON with a schema name."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from simcaddie.files.day_answer import day_data
from simcaddie.strategy.best_ball import BestBallCost
from simcaddie.strategy.doubt import Doubt
from simcaddie.strategy.doubt_words import best_ball_words, doubt_words
from simcaddie.strategy.explain import Explanation, why_data
from simcaddie.strategy.measure import Audit, Measure
from simcaddie.strategy.request import Comparison
from simcaddie.strategy.switch_words import when_data
from simcaddie.strategy.turning import SwitchPoint
from simcaddie.strategy.words import aim_in_yards, aim_words, bare_words, clarity, place_words, sentence, why_first

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
        "audit": _audit(m.audit),
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


def _audit(audit: Audit | None) -> dict[str, Any] | None:
    if audit is None:
        return None
    return {"sequences": audit.sequences, "apart": audit.apart, "se": audit.se, "agrees": audit.agrees}


def _doubt(comparison: Comparison, doubt: Doubt, best_ball: BestBallCost) -> dict[str, Any]:
    options = zip(doubt.options, doubt.best, doubt.worth, strict=True)
    return {
        "redraws": doubt.redraws,
        "options": [
            {"club": m.club, "swing": m.swing, "aim_deg": m.option.aim, "best_share": share, "worth": worth}
            for m, share, worth in options
        ],
        "loss": doubt.loss,
        "loss_se": doubt.loss_se,
        "worth_knowing": [
            {"title": t.title, "value": t.value, "balls": t.balls, "balls_value": t.told} for t in doubt.swings
        ],
        "best_ball": {
            "costs_strokes": best_ball.strokes,
            "se": best_ball.se,
            "usual_first": best_ball.usual,
            "sound_first": best_ball.sound,
        },
        "sentences": [*doubt_words(comparison, doubt), best_ball_words(best_ball)],
    }


def comparison_data(
    comparison: Comparison,
    why: Explanation | None = None,
    when: Sequence[SwitchPoint] = (),
    doubt: tuple[Doubt, BestBallCost] | None = None,
) -> dict[str, Any]:
    """Return a comparison as plain data, schema "compare/1", best option first.

    What was asked about two of the options stands under "why" and "when", doubt about the player
    under "doubt".
    """
    request, scene = comparison.request, comparison.scene
    asked: dict[str, Any] = {"why": why_data(why)} if why else {}
    if when:
        points = [when_data(comparison, point) for point in when]
        asked["when"] = {"a": when[0].a, "b": when[0].b, "points": points}
    if doubt:
        asked["doubt"] = _doubt(comparison, *doubt)
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
        "day": day_data(request.day),
        "seed": request.seed,
        "sequences": request.sequences,
        "sentence": sentence(comparison),
        "why_first": why_first(comparison),
        "also": dict(comparison.also),
        "undrawn_ground": bare_words(comparison),
        "costs_strokes": comparison.best.mean - comparison.fewest,
        "options": [_option(comparison, m) for m in comparison.options],
        **asked,
    }
