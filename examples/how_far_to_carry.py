"""How far to carry: the numbers for a notebook, and how often each club makes the carry.

A hazard is reached where the line enters it and carried where the line leaves it. What counts is the ball that the
player hits on average, not the best one: a carry that the average ball just makes is missed every other time or more.
"""

from __future__ import annotations

import simcaddie as sc

STRAIGHT = (0.0, 0.0, 1.0)  # one line only: at the pin


def main(sequences: int = 4_000) -> None:
    """Print the hazards on the line from the tee to the pin, then each club's chance to carry the pond."""
    hole, player = sc.read_hole("millpond"), sc.read_player("wren")
    tee = hole.place()
    found = sc.yardages(hole, tee.at, None)
    print(f"green: front {found.green.front:.0f}, middle {found.green.middle:.0f}, back {found.green.back:.0f}")
    for hazard in found.hazards:
        if hazard.reach is not None and hazard.carry is not None:
            print(f"{hazard.area.title}: {hazard.reach:.0f} yd to reach, {hazard.carry:.0f} yd to carry")
        else:
            print(f"{hazard.area.title}: {hazard.side} of the line, {hazard.near:.0f} to {hazard.far:.0f} yd away")
    carry = {swing.title: swing.carry for swing in player.swings}
    clubs = ("7 wood", "5 hybrid", "6 iron", "7 iron", "8 iron")
    answer = sc.compare(hole, player, clubs=clubs, aims=STRAIGHT, sequences=sequences)
    for row in answer.table():
        chances = ", ".join(f"{name} {10 * share:.1f} times in ten" for name, share in row["carries"].items())
        print(f"{row['club']}, average carry {carry[row['club']]:.0f}: carries {chances}")


if __name__ == "__main__":
    main()
