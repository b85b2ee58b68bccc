"""Range numbers as they are, against the same numbers brought to the course.

Range numbers flatter: a flat mat, the same club again and again, nothing at stake. A player file says in one visible
line (``range_to_course``) how much wider the spread and how much likelier a mishit is on the course. Here the ranking
is made both ways. Where the best club is the same, the advice doesn't hang on that line; where it isn't, say so to
the pupil.
"""

from __future__ import annotations

from dataclasses import replace

import simcaddie as sc


def main(sequences: int = 4_000) -> None:
    """Print the three best clubs and the driver for both players."""
    hole, on_course = sc.read_hole("signal-halt"), sc.read_player("otto")
    plain = replace(on_course.range_to_course, spread=1.0, mishits=1.0)
    as_on_range = replace(on_course, range_to_course=plain)
    best = {}
    for told, player in (("brought to the course", on_course), ("range numbers as they are", as_on_range)):
        rows = sc.compare(hole, player, sequences=sequences).table()
        print(f"{told}:")
        for place, row in enumerate(rows):
            if place < 3 or row["club"] == "driver":
                print(f"  {row['club']:10} {row['mean']:.2f} strokes, blow-up {10 * row['blow_up']:.1f} in ten")
        best[told] = rows[0]["club"]
    same = len(set(best.values())) == 1
    print("Both say the same club." if same else f"They differ: {' against '.join(best.values())}.")


if __name__ == "__main__":
    main()
