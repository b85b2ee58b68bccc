"""``simcaddie gaps``, ``card`` and ``new-player``: what is in a bag, on the screen, for the pocket, to begin with."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated, Final

from simcaddie.console.command import Answer, command
from simcaddie.console.document import Text
from simcaddie.console.options import DATA, FIGURE, NoChance, PlayerOf, known_units, option

__all__ = ["card", "gaps", "new_player"]


@dataclass(frozen=True, kw_only=True)
class Gaps(NoChance, PlayerOf):
    """What may be asked of the gaps."""

    figure: Annotated[Path | None, option("FILE", "Draw it as bands of carry (.png, .svg or .pdf)."), FIGURE] = None


@command(Gaps)
def gaps(options: Gaps) -> Answer:
    """Show how far each swing carries, and the gaps between them.

    On the course from a good lie: the average of solid strikes, where the middle half of all balls lands, mishits
    among them, the carry that eight balls in ten beat, and what lies between neighbours, part swings included.
    """
    from simcaddie.features.bag.present import gaps_data, present
    from simcaddie.player.carries import swing_carries

    player, figures = options.read_player(), []
    carries = swing_carries(player)
    if (figure := options.figure) is not None:
        from simcaddie.charts.style import save_figure
        from simcaddie.features.bag.figure import gaps_figure

        figures.append((figure, lambda: save_figure(gaps_figure(player, carries), figure)))
    return Answer(data=lambda: gaps_data(player, carries), document=lambda: present(player, carries), figures=figures)


@dataclass(frozen=True, kw_only=True)
class Card(NoChance, PlayerOf):
    """What may be asked of a card."""

    output: Annotated[Path, option("FILE", "Where to draw it: .pdf, .png or .svg.", "--output", "-o"), FIGURE] = Path(
        "card.pdf"
    )


@command(Card)
def card(options: Card) -> Answer:
    """Draw a pocket card of a player's clubs, within 4¼ × 7 inches.

    For every club its average carry, the carry that eight balls in ten beat, and the usual miss; below, the part
    swings. No best balls. A dot marks trusted clubs. To print at full size, for the pocket.
    """
    from simcaddie.charts.card import card_figure
    from simcaddie.charts.style import save_figure
    from simcaddie.features.bag.present import card_data
    from simcaddie.player.carries import swing_carries

    player, file = options.read_player(), options.output
    carries = swing_carries(player)
    return Answer(
        data=lambda: card_data(player, carries, str(file)),
        figures=[(file, lambda: save_figure(card_figure(player, carries), file))],
    )


HEADER: Final = """\
Estimated, not measured: a starting file from a handicap index and one carry. Carries are laddered from the driver's by
published averages of tour players and of club golfers; spreads, mishits, touch and putting are those of a golfer of the
index. Replace it club by club with what the range says, and take `estimated: true` away there.\
"""


@dataclass(frozen=True, kw_only=True)
class NewPlayer(NoChance):
    """What is known of a new player."""

    index: Annotated[float, option("N", "Handicap index; below 0 for a plus.", min=-10, max=54)]
    driver: Annotated[float, option("N", "Average carry of the driver, in --units.")]
    out: Annotated[Path | None, option("FILE", "Where to write it; printed where left out.", "-o", "--out"), DATA] = (
        None
    )
    clubs: Annotated[
        str | None, option("LIST", "The clubs in the bag, as 'driver, 5w, 7i, 56, SW'; thirteen usual ones by default.")
    ] = None
    name: Annotated[str | None, option("TEXT", "The player's name.")] = None
    units: Annotated[str, option("UNITS", "yards or metres.")] = "yards"
    json: None = field(default=None, init=False)  # the answer is a file already

    def lofts(self) -> dict[str, float] | None:
        """Return the lofts of the clubs named, the least first; None for the usual ones."""
        from simcaddie.base.errors import BadRequest
        from simcaddie.io.session import club_names, known_loft

        if self.clubs is None:
            return None
        found = {club: known_loft(club) or 0.0 for club in club_names("--clubs", self.clubs)}
        if not found:
            raise BadRequest("--clubs: expected at least one club besides the putter")
        return dict(sorted(found.items(), key=lambda each: each[1]))


@command(NewPlayer)
def new_player(options: NewPlayer) -> Answer:
    """Make a player file from a handicap index and the driver's carry, all of it marked as estimated.

    Carries of the other clubs follow from the driver's by published averages; spreads, mishits, touch and putting are
    those of a golfer of that index. Range data replaces it club by club, and carries the other clubs along.
    """
    from simcaddie.base.errors import BadRequest, shown
    from simcaddie.base.units import YARDS_PER
    from simcaddie.base.writing import stands
    from simcaddie.io.fields import is_name
    from simcaddie.io.player_writer import player_text
    from simcaddie.io.write import write_text
    from simcaddie.player.reference import LONGEST_DRIVER, SHORTEST_DRIVER, golfer

    units, out = options.units, options.out
    known_units(units)
    carry = options.driver * YARDS_PER[units]
    if not SHORTEST_DRIVER <= carry <= LONGEST_DRIVER:
        low, high = (round(yards / YARDS_PER[units]) for yards in (SHORTEST_DRIVER, LONGEST_DRIVER))
        raise BadRequest(f"--driver: expected a carry from {low} to {high} {units}, found {options.driver:g}")
    if out is not None and stands(out):
        raise BadRequest(f"{out} is there already; choose another name, so that nothing is lost")
    if options.name is not None and not is_name(options.name):
        raise BadRequest(f"--name: expected a name of 1 to 80 letters, found '{shown(options.name, 40)}'")
    player = golfer(options.index, carry, name=options.name or "", units=units, lofts=options.lofts())
    text = player_text(player, comment=HEADER, whole=True)
    if out is None:
        return Answer(document=lambda: [Text(text.rstrip("\n"), whole=True)])
    write_text(out, text)
    return Answer(
        notes=[f"Wrote {out}: {len(player.bag)} clubs, all estimated. Next: simcaddie compare HOLE {out}"],
    )
