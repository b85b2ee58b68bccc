"""Several range sessions, one after the other."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from simcaddie.errors import BadFile, BadRequest, Fault
from simcaddie.files.nodes import PathLike, shown
from simcaddie.files.session_file import SessionFile, read_session

__all__ = ["read_sessions"]


def read_sessions(
    paths: Sequence[PathLike],
    *,
    columns: Mapping[str, str] | None = None,
    units: str | None = None,
    clubs: Collection[str] = (),
) -> tuple[SessionFile, ...]:
    """Return several sessions, the oldest first; a header in ``columns`` need only be in one.

    Raises
    ------
    BadFile
        With the faults of all files that can't be used; see ``read_session``.
    BadRequest
        Where no file has a column that ``columns`` names.

    """
    sessions: list[SessionFile] = []
    faults: list[Fault] = []
    for number, path in enumerate(paths):
        try:
            sessions.append(
                read_session(path, columns=columns, units=units, clubs=clubs, session=number, strict=len(paths) == 1)
            )
        except BadFile as error:
            faults += error.faults
    if faults:
        raise BadFile(faults)
    for key, header in (columns or {}).items():
        if not any(key in session.by_hand for session in sessions):
            raise BadRequest(f"--column: expected a column of the sessions for {key}, found '{shown(header)}'")
    return tuple(sessions)
