"""An approach to a shallow green across the water: not which club, but which side of the green.

From the hillside of Weir Lawn the flag on the right stands behind the weir pool, with sand to its right. One club fits
the distance; what is left to choose is the line. Played out along several lines, the one at the flag finds the water
and the sand more often than it finishes nearer, and a line to the left of it scores better.
"""

from __future__ import annotations

import simcaddie as sc

LINES = (-16.0, 8.0, 4.0)  # degrees right of the flag: from, to, step


def main(sequences: int = 4_000) -> None:
    """Print what each line with the 8 iron costs, the best one first."""
    answer = sc.compare(
        "weir-lawn",
        "wren",
        spot="hillside",
        pin="right",
        clubs=["8 iron"],
        aims=LINES,
        all_aims=True,
        sequences=sequences,
    )
    played, rows = answer.to_dict()["strokes_played"], answer.table()
    for row in rows:
        wet = 10 * (row["finish"].get("water", 0.0) + row["finish"].get("bunker", 0.0))
        print(
            f"{row['aim']:30} {row['mean'] - played:.2f} strokes from here, "
            f"water or sand {wet:.1f} times in ten, {row['leave_yd']:.0f} yd from the flag on average"
        )
    best, flag = rows[0], next(row for row in rows if row["aim_deg"] == 0.0)
    print(f"Aiming {-best['aim_deg']:.0f}° left of the flag saves {flag['mean'] - best['mean']:.2f} strokes.")


if __name__ == "__main__":
    main()
