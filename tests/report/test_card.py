"""The pocket card and the chart of gaps: everything on the page, nothing over anything else, black on white."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure
from matplotlib.text import Text

from simcaddie.charts.card import CARD_CAUTION, CARD_SIZE, card_figure
from simcaddie.features.bag.figure import gaps_figure
from simcaddie.io.find import demo_files
from simcaddie.io.player import read_player
from simcaddie.player.carries import swing_carries
from simcaddie.player.swing import Club, Player

PLAYERS = {name: read_player(path) for name, path in demo_files("players").items()}


def many() -> Player:
    """Return a player with a long name, three part swings, and a club with a long name (invented)."""
    player = PLAYERS["wren"]
    wedge = player.bag[-2]
    part = replace(wedge.swings[1], name="three quarter", carry=62.0)
    named = [replace(swing, club="Grandfather's old cleek", carry=170.0) for swing in player.bag[1].swings]
    bag = (player.bag[0], Club("Grandfather's old cleek", 16.0, tuple(named)), *player.bag[2:-2],
           replace(wedge, swings=(*wedge.swings, part)), player.bag[-1])  # fmt: skip
    return replace(player, name="A pupil with rather a long name, Tuesdays", bag=bag)


def texts(figure: Figure) -> list[Text]:
    shown = [text for text in figure.findobj(Text) if text.get_text().strip() and text.get_visible()]
    figure.canvas.draw()
    return shown


@pytest.mark.parametrize("player", [*PLAYERS.values(), many()], ids=[*PLAYERS, "many"])
@pytest.mark.parametrize("draw", [card_figure, gaps_figure])
def test_texts_are_on_the_page_and_apart(draw, player):
    figure = draw(player, swing_carries(player))
    boxes = [(text.get_text(), text.get_window_extent()) for text in texts(figure)]
    page = figure.bbox
    for words, box in boxes:
        assert page.x0 <= box.x0, words
        assert box.x1 <= page.x1, words
        assert page.y0 <= box.y0, words
        assert box.y1 <= page.y1, words
    for (one, a), (other, b) in combinations(boxes, 2):
        wide = min(a.x1, b.x1) - max(a.x0, b.x0)
        tall = min(a.y1, b.y1) - max(a.y0, b.y0)
        assert wide <= 1.0 or tall <= 2.0, (one, other)


def test_the_card_fits_the_pocket_and_its_numbers_are_large():
    figure = card_figure(PLAYERS["wren"], swing_carries(PLAYERS["wren"]))
    assert tuple(figure.get_size_inches()) == CARD_SIZE == (4.25, 7.0)
    sizes = {text.get_text(): text.get_fontsize() for text in texts(figure)}
    assert sizes["172"] > 13
    assert sizes["153"] > 11


def test_the_card_has_no_colours_and_the_caution():
    figure = card_figure(PLAYERS["scratch"], swing_carries(PLAYERS["scratch"]))
    shown = texts(figure)
    for text in shown:
        red, green, blue = to_rgb(text.get_color())
        assert red == green == blue <= 0.4
    assert any(CARD_CAUTION in text.get_text() for text in shown)
    assert "Rule 4.3" in CARD_CAUTION


def test_the_card_shows_averages_and_what_eight_in_ten_beat():
    player = PLAYERS["wren"]
    carries = swing_carries(player)
    words = [text.get_text() for text in texts(card_figure(player, carries))]
    for each in carries:
        shown = (f"{each.average:.0f}", f"{each.short:.0f}")
        if each.swing.name == "full":
            assert set(shown) <= set(words)
        else:
            assert f"{shown[0]} ({shown[1]})" in words


def test_a_player_with_part_swings_alone_still_has_a_card():
    player = PLAYERS["wren"]
    halves = [replace(club, swings=club.swings[1:]) for club in player.bag if len(club.swings) > 1]
    figure = card_figure(replace(player, bag=tuple(halves)), swing_carries(replace(player, bag=tuple(halves))))
    assert "half gap wedge" in [text.get_text() for text in texts(figure)]
