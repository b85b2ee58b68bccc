"""A journal: one line of JSON an entry, only ever added to, each on the disk before the program goes on.

A process that is killed while it writes leaves at most half a last line: that one is dropped, and said so.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from simcaddie.base.errors import BadFile, BadRequest, Fault, shown

__all__ = ["Journal"]

MOST_BYTES: Final = 20_000_000


class Journal:
    """The journal at ``path``; ``entries`` are those that it held when it was opened, after its head.

    ``torn`` is the half line that was dropped, "" as a rule.
    """

    def __init__(self, path: Path, head: Mapping[str, Any]) -> None:
        """Open a journal, begun with ``head`` where there is none yet.

        Raises
        ------
        BadFile
            Where the file is no such journal, or a line of it can't be read.
        BadRequest
            Where its head is another one, or it can't be written.

        """
        self.path, self.torn = path, ""
        self.entries: list[dict[str, Any]] = []
        try:
            size = self._read(head) if path.exists() and path.stat().st_size else None
            self._file = path.open("ab")
            if size is not None:
                self._file.truncate(size)
        except OSError as error:
            raise BadRequest(f"{path}: can't be written: {(error.strerror or str(error)).lower()}") from None
        if size in (None, 0):
            self.add(head)

    def _read(self, head: Mapping[str, Any]) -> int:
        """Take the entries in; return how many bytes whole lines have."""
        content, file = self.path.read_bytes()[:MOST_BYTES], shown(str(self.path), 200)
        whole, newline, rest = content.rpartition(b"\n")
        self.torn = shown(rest.decode("utf-8", "replace"))
        found = []
        for line, text in enumerate(whole.split(b"\n") if newline else [], start=1):
            try:
                found.append(json.loads(text))
            except (ValueError, RecursionError):
                raise BadFile([Fault(file, line, "", "a line of a journal", f"'{shown(repr(text)[2:-1])}'")]) from None
            if not isinstance(found[-1], dict) or (line == 1 and found[0].get("journal") != head["journal"]):
                raise BadFile([Fault(file, line, "", f"the journal of a {head['journal']}", "something else")])
        if not newline and not _line(head).startswith(rest):
            raise BadFile([Fault(file, 1, "", f"the journal of a {head['journal']}", "something else")])
        for key, value in head.items() if found else ():
            if found[0].get(key) != value:
                told = f"{key} {found[0].get(key)!r}, now {value!r}" if len(str(value)) < 40 else f"another {key}"
                raise BadRequest(f"{file}: this round was begun otherwise ({told}); --new begins another")
        self.entries = found[1:]
        return len(whole) + len(newline)

    def add(self, entry: Mapping[str, Any]) -> None:
        """Add an entry; it is on the disk when this returns."""
        self._file.write(_line(entry))
        self._file.flush()
        os.fsync(self._file.fileno())

    def close(self) -> None:
        """Close the file."""
        self._file.close()


def _line(entry: Mapping[str, Any]) -> bytes:
    return json.dumps(dict(entry), ensure_ascii=False).encode() + b"\n"
