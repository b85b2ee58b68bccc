"""Tee shots on the demo hole, ranked: which club costs a club golfer the fewest strokes.

Every club is played out thousands of times along many aim lines, with the same luck for all; a club's best line
stands for it. A blow-up is a net double bogey or worse.
"""

from __future__ import annotations

import simcaddie as sc


def main(sequences: int = 4_000) -> None:
    """Print the five best clubs and the driver, then the answer in a sentence."""
    hole, player = sc.read_hole("curlew-inlet"), sc.read_player("wren")
    answer = sc.compare(hole, player, sequences=sequences)
    whole = answer.to_dict()
    print(f"{hole.name}, par {hole.par}: {player.name} gets {whole['strokes_received']}")
    for place, row in enumerate(answer.table()):
        if place < 5 or row["club"] == "driver":
            risk = f"blow-up {10 * row['blow_up']:.1f} in ten"
            print(f"{row['club']:10}  {row['mean']:.2f} strokes, {risk}, {row['verdict']:5}  ({row['aim']})")
    print(whole["sentence"])


if __name__ == "__main__":
    main()
