"""Files that people write, read to records: holes, players and courses; and files written back."""

from __future__ import annotations

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
