"""A hole and a player built in code: a narrow par 3 over water, and a bag of four clubs.

All of it is invented. Lengths are yards, x to the right and y up the hole. A swing needs only its club, its average
carry and its loft; everything else is filled in from the table of defaults.
"""

from __future__ import annotations

from shapely import Point, box

import simcaddie as sc

HOLE = sc.Hole(
    name="Short and wet (invented)",
    par=3,
    stroke_index=11,
    tees={"white": (0.0, 0.0)},
    pins={"middle": (0.0, 140.0)},
    areas=(
        sc.Area("green", Point(0, 142).buffer(14)),
        sc.Area("water", box(-60, 60, 60, 122), name="pond", marking="yellow"),
        sc.Area("bunker", Point(22, 140).buffer(5), name="right bunker"),
    ),
    landmarks=(sc.Landmark("white gate", (-6.0, 210.0)),),
)
BAG = {"5 wood": (168, 18.0), "5 iron": (152, 26.0), "6 iron": (142, 29.5), "7 iron": (132, 33.0)}
PLAYER = sc.Player(
    name="Four clubs (invented)",
    bag=tuple(
        sc.Club(name, loft, (sc.make_swing(name, "full", carry, loft=loft),)) for name, (carry, loft) in BAG.items()
    ),
    handicap_index=20.0,
)


def main(sequences: int = 4_000) -> None:
    """Print what each club costs over the water."""
    answer = sc.compare(HOLE, PLAYER, sequences=sequences)
    for row in answer.table():
        wet = 10 * row["finish"].get("water", 0.0)
        print(f"{row['club']:8} {row['mean']:.2f} strokes, {wet:.1f} balls in ten in the pond")
    print(answer.to_dict()["sentence"])


if __name__ == "__main__":
    main()
