"""The pitch, 72 yards with nothing in between: a full wedge, or a half-swing nine-iron that runs.

The full sand wedge flies nearly all the way; hit thin it goes through the green, hit fat it stays well short. The half
nine-iron lands short and runs, and a half swing misses by less. So the question is not which shot can finish closer,
but which one costs less on average, mishits and all.
"""

from __future__ import annotations

from simcaddie import Request, compare, read_hole, read_player
from simcaddie.files import find_hole, find_player

SHOTS = ("full sand wedge", "half 9 iron")


def main(sequences: int = 40_000) -> None:
    """Print both shots, the better one first."""
    hole = read_hole(find_hole("the-pitch"))
    player = read_player(find_player("club-18"))
    answer = compare(hole, player, Request(spot="pitch", clubs=SHOTS, sequences=sequences))
    for shot in answer.options:
        on_green = shot.finish.get("green", 0.0)
        print(
            f"{shot.title:12}  {shot.mean - answer.played:.2f} strokes from here, "
            f"on the green {10 * on_green:.1f} times in ten, {shot.leave:.0f} yd from the pin on average"
        )
    best, other = answer.options
    print(f"The {best.title} saves {other.mean - best.mean:.3f} ± {max(best.diff_se, other.diff_se):.3f} strokes.")


if __name__ == "__main__":
    main()
