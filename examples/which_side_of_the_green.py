"""An approach to a shallow green across the water: not which club, but which side of the green.

From the hillside of Weir Lawn the flag on the right stands behind the weir pool, with sand to its right. One club fits
the distance; what is left to choose is the line. Played out along several lines, the one at the flag finds the water
and the sand more often than it finishes nearer, and a line to the left of it scores better.
"""

from __future__ import annotations

from simcaddie import Request, compare, read_hole, read_player
from simcaddie.files import find_hole, find_player
from simcaddie.strategy.words import aim_words, trouble

LINES = (-16.0, 8.0, 4.0)  # degrees right of the flag: from, to, step


def main(sequences: int = 40_000) -> None:
    """Print what each line with the 8 iron costs, the best one first."""
    hole = read_hole(find_hole("weir-lawn"))
    player = read_player(find_player("wren"))
    request = Request(spot="hillside", pin="right", clubs=("8 iron",), aims=LINES, all_aims=True, sequences=sequences)
    answer = compare(hole, player, request)
    for line in answer.options:
        print(
            f"{aim_words(answer.scene, line):30} {line.mean - answer.played:.2f} strokes from here, "
            f"in trouble {10 * trouble(line):.1f} times in ten, {line.leave:.0f} yd from the flag on average"
        )
    best = answer.options[0]
    flag = next(line for line in answer.options if line.option.aim == 0.0)
    print(f"Aiming {-best.option.aim:.0f}° left of the flag saves {flag.mean - best.mean:.2f} strokes.")


if __name__ == "__main__":
    main()
