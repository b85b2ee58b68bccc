"""What ``compare --details`` adds to the ranked table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from simcaddie.cli.shared import plain_table, tenths

if TYPE_CHECKING:
    from rich.table import Table

    from simcaddie.strategy import Measure
    from simcaddie.strategy.scene import Scene

__all__ = ["details_table", "finishes"]


def details_table(rows: tuple[Measure, ...]) -> Table:
    """Return what ``--details`` adds: errors, points, penalties and the lie left."""
    table = plain_table()
    table.add_column("club", no_wrap=True)
    for title in ("aim °", "mean", "± SE", "behind", "± SE", "points", "penalties", "picked up", "lie left"):
        table.add_column(title, justify="right", no_wrap=True)
    for m in rows:
        table.add_row(
            m.title,
            f"{m.option.aim:+.0f}",
            f"{m.mean:.3f}",
            f"{m.se:.3f}",
            f"{m.diff:.3f}",
            f"{m.diff_se:.3f}",
            f"{m.stableford:.2f}",
            f"{m.penalty_strokes:.3f}",
            f"{m.picked_up:.4f}",
            m.lie.replace("_", " "),
        )
    table.caption = "behind: paired difference to the lowest mean; SE: standard error of the simulation alone"
    table.caption_justify = "left"
    return table


def finishes(scene: Scene, rows: tuple[Measure, ...]) -> list[str]:
    """Say, per option, where the first ball finishes and which hazards on the line it carries, in ten."""
    from simcaddie.strategy.words import aim_in_yards

    lines = []
    for m in rows:
        ends = sorted(m.finish.items(), key=lambda item: -item[1])
        text = ", ".join(f"{kind.replace('_', ' ')} {tenths(share)}" for kind, share in ends if share >= 0.005)
        over = ", ".join(f"{name} {tenths(share)}" for name, share in m.carries.items())
        lines.append(f"{m.title}, {aim_in_yards(scene, m)}: finishes {text}" + (f"; carries {over}" if over else ""))
    return lines
