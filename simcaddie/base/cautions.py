"""The cautions: written once, shown wherever play can hurt someone or the Rules forbid the program."""

from __future__ import annotations

from typing import Final

__all__ = ["AFTER", "BEFORE", "BY_HAND", "DECIDE", "ON_A_CARD", "ON_PAPER", "ON_SCREEN", "ON_THE_RANGE", "PLAY"]

BEFORE: Final = "Made before the round: Rule 4.3 forbids using the program from the ball's position during one."
BY_HAND: Final = (
    "To pencil in before the round: during it Rule 4.3 allows no measuring of wind or heights and no computing from "
    "them, this program included."
)
PLAY: Final = (
    "Play only when nobody is within reach of your longest likely shot; shout if a ball may hit someone; stop for "
    "lightning."
)
DECIDE: Final = "The Committee, its Local Rules and qualified coaches decide."
ON_SCREEN: Final = f"For planning before the round (Rule 4.3). {PLAY}"
AFTER: Final = f"For after the round, and before the next: Rule 4.3 forbids using the program during one. {PLAY}"
ON_THE_RANGE: Final = (
    "On the range, before the round: Rule 4.3 forbids it on the course. Hit only when nobody is within reach of your "
    "longest likely shot; shout if a ball may hit someone; stop for lightning."
)
ON_PAPER: Final = f"{BEFORE} {PLAY} {DECIDE}"
ON_A_CARD: Final = f"Made before the round (Rule 4.3). {PLAY} The Committee and its Local Rules decide."
