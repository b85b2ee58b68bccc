"""A hole and a player built in code: a narrow par 3 over water, and a bag of four clubs.

All of it is invented. Lengths are yards, x to the right and y up the hole. A swing needs only its club, its average
carry and its loft; everything else is filled in from the table of defaults.
"""

from __future__ import annotations

from shapely import Point, box

from simcaddie import Area, Club, Hole, Landmark, Player, Request, compare, make_swing
from simcaddie.strategy.words import sentence

HOLE = Hole(
    name="Short and wet (invented)",
    par=3,
    stroke_index=11,
    tees={"white": (0.0, 0.0)},
    pins={"middle": (0.0, 140.0)},
    areas=(
        Area("green", Point(0, 142).buffer(14)),
        Area("water", box(-60, 60, 60, 122), name="pond", marking="yellow"),
        Area("bunker", Point(22, 140).buffer(5), name="right bunker"),
    ),
    landmarks=(Landmark("white gate", (-6.0, 210.0)),),
)
BAG = {"5 wood": (168, 18.0), "5 iron": (152, 26.0), "6 iron": (142, 29.5), "7 iron": (132, 33.0)}
PLAYER = Player(
    name="Four clubs (invented)",
    bag=tuple(Club(name, loft, (make_swing(name, "full", carry, loft=loft),)) for name, (carry, loft) in BAG.items()),
    handicap_index=20.0,
)


def main(sequences: int = 40_000) -> None:
    """Print what each club costs over the water."""
    answer = compare(HOLE, PLAYER, Request(sequences=sequences))
    for option in answer.options:
        wet = 10 * option.finish.get("water", 0.0)
        print(f"{option.title:8} {option.mean:.2f} strokes, {wet:.1f} balls in ten in the pond")
    print(sentence(answer))


if __name__ == "__main__":
    main()
