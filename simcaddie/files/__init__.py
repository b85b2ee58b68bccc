"""Files that people write, read to records: holes, players and courses; and files written back.

What is asked for is imported when it is asked for: a question about one hole needs no course, and no session.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from simcaddie.files.card_check import read_round_course
    from simcaddie.files.check import check_file
    from simcaddie.files.clubs import club_name, swing_name
    from simcaddie.files.course_file import read_course
    from simcaddie.files.find import demo_courses, demo_files, find_any, find_course, find_hole, find_player
    from simcaddie.files.hole_file import read_hole
    from simcaddie.files.player_file import read_player
    from simcaddie.files.player_writer import player_text, write_player
    from simcaddie.files.session_file import read_session
    from simcaddie.files.sessions import read_sessions
    from simcaddie.files.write import json_text, slug, write_bytes, write_json, write_text

__all__ = [
    "check_file",
    "club_name",
    "demo_courses",
    "demo_files",
    "find_any",
    "find_course",
    "find_hole",
    "find_player",
    "json_text",
    "player_text",
    "read_course",
    "read_hole",
    "read_player",
    "read_round_course",
    "read_session",
    "read_sessions",
    "slug",
    "swing_name",
    "write_bytes",
    "write_json",
    "write_player",
    "write_text",
]

_HOME: Final = {
    "check_file": "check",
    "club_name": "clubs",
    "demo_courses": "find",
    "demo_files": "find",
    "find_any": "find",
    "find_course": "find",
    "find_hole": "find",
    "find_player": "find",
    "json_text": "write",
    "player_text": "player_writer",
    "read_course": "course_file",
    "read_hole": "hole_file",
    "read_player": "player_file",
    "read_round_course": "card_check",
    "read_session": "session_file",
    "read_sessions": "sessions",
    "slug": "write",
    "swing_name": "clubs",
    "write_bytes": "write",
    "write_json": "write",
    "write_player": "player_writer",
    "write_text": "write",
}


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module '{__name__}' has no attribute '{name}'")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
