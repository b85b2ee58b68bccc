"""The reference golfers as files: ``python tests/write_players.py`` writes them into ``players/`` anew."""

from __future__ import annotations

from pathlib import Path

from simcaddie.io.player_writer import player_text
from simcaddie.player.reference import REFERENCES, reference

PLAYERS = Path(__file__).parent.parent / "players"
COMMENT = """\
Invented, no real player: a golfer of this level, made from published averages (simcaddie/player/reference.py), for
checking the model against published scores. For somebody without range data: simcaddie new-player.\
"""


def path_of(name: str) -> Path:
    """Return the file of a reference golfer."""
    return PLAYERS / f"{name.replace(' ', '-')}.yaml"


def text_of(name: str) -> str:
    """Return the text of a reference golfer's file."""
    return player_text(reference(name), comment=COMMENT, whole=True)


if __name__ == "__main__":
    for name in REFERENCES:
        path_of(name).write_text(text_of(name), "utf-8")
