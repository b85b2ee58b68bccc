"""Tee shots on the demo hole, ranked: which club costs a club golfer the fewest strokes.

Every club is played out thousands of times along many aim lines, with the same luck for all; a club's best line
stands for it. Trouble is how many tee balls in ten finish in a hazard, among trees, or are lost.
"""

from __future__ import annotations

from simcaddie import Request, compare, read_hole, read_player
from simcaddie.files import find_hole, find_player
from simcaddie.strategy.words import aim_words, clarity, sentence, trouble


def main(sequences: int = 40_000) -> None:
    """Print the five best clubs and the driver, then the answer in a sentence."""
    hole = read_hole(find_hole("curlew-inlet"))
    player = read_player(find_player("wren"))
    answer = compare(hole, player, Request(sequences=sequences))
    print(f"{hole.name}, par {hole.par}: {player.name} gets {answer.strokes_received}")
    for place, option in enumerate(answer.options):
        if place >= 5 and option.title != "driver":
            continue
        print(
            f"{option.title:10}  {option.mean:.2f} strokes, {10 * trouble(option):.1f} in ten in trouble, "
            f"{clarity(answer, option):5}  ({aim_words(answer.scene, option)})"
        )
    print(sentence(answer))


if __name__ == "__main__":
    main()
