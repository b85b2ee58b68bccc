"""Range numbers as they are, against the same numbers brought to the course.

Range numbers flatter: a flat mat, the same club again and again, nothing at stake. A player file says in one visible
line (``range_to_course``) how much wider the spread and how much likelier a mishit is on the course. Here the ranking
is made both ways. Where the best club is the same, the advice doesn't hang on that line; where it isn't, say so to
the pupil.
"""

from __future__ import annotations

from dataclasses import replace

from simcaddie import RangeToCourse, Request, compare, read_hole, read_player
from simcaddie.files import find_hole, find_player
from simcaddie.strategy.words import trouble


def main(sequences: int = 40_000) -> None:
    """Print the three best clubs and the driver for both players."""
    hole = read_hole(find_hole("signal-halt"))
    on_course = read_player(find_player("otto"))
    as_on_range = replace(on_course, range_to_course=RangeToCourse(spread=1.0, mishits=1.0))
    best = {}
    for told, player in (("brought to the course", on_course), ("range numbers as they are", as_on_range)):
        answer = compare(hole, player, Request(sequences=sequences))
        print(f"{told}:")
        for place, option in enumerate(answer.options):
            if place < 3 or option.title == "driver":
                print(f"  {option.title:10} {option.mean:.2f} strokes, {10 * trouble(option):.1f} in ten in trouble")
        best[told] = answer.best.title
    same = len(set(best.values())) == 1
    print("Both say the same club." if same else f"They differ: {' against '.join(best.values())}.")


if __name__ == "__main__":
    main()
