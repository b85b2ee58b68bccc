"""Reading what people write: a file to plain data, with the line of every piece.

YAML is read from the parser's events, never built into objects, and only the plain part of it: maps, lists,
text, numbers, true, false and nothing. Anchors, aliases and tags are refused. ``yes``, ``on``, ``12:30``
and dates stay text, as do ``.nan``, ``.inf``, ``1e999`` and ``+2.1`` (a handicap better than scratch, or
not?): no number that comes through is endless or of doubtful sign.
"""

from __future__ import annotations

import os
import re
import stat
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

import yaml

from simcaddie.base.errors import BadFile, Fault, shown
from simcaddie.base.writing import PathLike, reading

__all__ = [
    "MAX_BYTES",
    "Document",
    "Location",
    "PathLike",
    "comment_lines",
    "load",
    "parse",
    "read_bytes",
    "read_text",
    "shown",
]

Location = tuple[str | int, ...]

MAX_BYTES: Final = 1_000_000  # a hole of 2,000 outlined areas is smaller
MAX_DEPTH: Final = 20

_NUMBER: Final = re.compile(r"-?(\d+(\.\d*)?|\.\d+)([eE][-+]?\d+)?", re.ASCII)
_WHOLE: Final = re.compile(r"-?\d{1,15}", re.ASCII)
_MEANINGS: Final[dict[str, bool | None]] = {"": None, "~": None, "null": None, "true": True, "false": False}
_WORDS: Final = {form: value for word, value in _MEANINGS.items() for form in (word, word.title(), word.upper())}
_CONTROL: Final = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
_LOADER: Final[Any] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)  # the C one is ten times as fast


@dataclass(frozen=True, slots=True)
class Document:
    """A file's plain data, the line of every location in it, and the doubled keys found on the way.

    A location is the keys and places (from 0) that lead to a piece: ``("areas", 2, "outline")``.
    """

    file: str
    data: Any
    lines: Mapping[Location, int]
    faults: tuple[Fault, ...] = ()

    def line(self, location: Location) -> int:
        """Return the line of ``location``, or of the nearest piece around it that is in the file."""
        for end in range(len(location), 0, -1):
            if location[:end] in self.lines:
                return self.lines[location[:end]]
        return self.lines.get((), 0)


def _name(path: PathLike) -> str:
    return shown(os.fsdecode(path), 200)


def read_bytes(path: PathLike, limit: int) -> bytes:
    """Return the bytes of an ordinary file of at most ``limit``; see ``read_text``."""
    file = _name(path)
    try:
        info = Path(path).stat()
        if stat.S_ISDIR(info.st_mode):
            raise BadFile([Fault(file, 0, "", "a file", "a directory")])
        if not stat.S_ISREG(info.st_mode):
            raise BadFile([Fault(file, 0, "", "an ordinary file", "a device or pipe")])
        reading(info)
        if info.st_size > limit:
            raise BadFile([Fault(file, 0, "", f"a file of at most {_size(limit)}", _size(info.st_size))])
        with Path(path).open("rb") as stream:
            content = stream.read(limit + 1)
    except FileNotFoundError:
        raise BadFile([Fault(file, 0, "", "a file", "none of that name")]) from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "a name no file can have"
        raise BadFile([Fault(file, 0, "", "a file that can be read", reason.lower())]) from None
    if len(content) > limit:
        raise BadFile([Fault(file, 0, "", f"a file of at most {_size(limit)}", "more")])
    return content


def _size(count: int) -> str:
    return f"{count / 1e6:.3g} MB" if count >= 1e5 else f"{count} bytes"


def read_text(path: PathLike, *, limit: int = MAX_BYTES) -> str:
    """Return the text of a UTF-8 file of at most ``limit`` bytes, without its byte-order mark.

    Raises
    ------
    BadFile
        Where there is no such file, it is a directory, can't be opened, is too large or isn't text in UTF-8.
    BadRequest
        Where the running command is to write over it.

    """
    content, file = read_bytes(path, limit), _name(path)
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise BadFile([Fault(file, 0, "", "text saved as UTF-8", "UTF-16")])
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        found = f"the byte 0x{content[error.start]:02x}, which belongs to another encoding"
        raise BadFile([Fault(file, line, "", "text saved as UTF-8", found)]) from None
    if control := _CONTROL.search(text):
        line = text.count("\n", 0, control.start()) + 1
        found = f"the control character U+{ord(control.group()):04X}"
        raise BadFile([Fault(file, line, "", "plain text", found)])
    return text


def load(path: PathLike) -> Document:
    """Read a YAML file; see ``parse`` and ``read_text``."""
    return parse(read_text(path), _name(path))


def parse(text: str, file: str) -> Document:
    """Return the plain data of YAML ``text``; ``file`` is the name that faults give.

    Doubled keys are kept in ``faults``, to be told with all others; the first one's value counts.

    Raises
    ------
    BadFile
        Where the text is empty or isn't YAML, or holds more than the plain part of it.

    """
    try:
        composer = _Composer(file, yaml.parse(text, Loader=_LOADER))
        data = composer.document()
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        rows = text.splitlines() or [""]
        line = min(mark.line if mark else 0, len(rows) - 1)
        expected = "lines of `key: value`, evenly indented, with every bracket and quote closed"
        found = f"something else near '{shown(rows[line].strip())}'"
        raise BadFile([Fault(file, line + 1, "", expected, found)]) from None
    return Document(file, data, composer.lines, tuple(composer.faults))


def comment_lines(text: str) -> list[int]:
    """Return the lines, from 1, of YAML ``text`` that hold a comment; what isn't YAML is for ``parse`` to tell."""
    bare = [*text]
    for token in yaml.scan(text, Loader=_LOADER):
        if isinstance(token, yaml.ScalarToken):
            start, end = token.start_mark.index, token.end_mark.index
            bare[start:end] = re.sub(r"\S", "x", text[start:end])
    lines = enumerate("".join(bare).split("\n"), 1)
    return [number for number, line in lines if re.search(r"(^|\s)#", line)]


def _plain(text: str) -> Any:
    """Return what an unquoted scalar means."""
    if text in _WORDS:
        return _WORDS[text]
    if _WHOLE.fullmatch(text):
        return int(text)
    if _NUMBER.fullmatch(text):
        number = float(text)
        return number if abs(number) < float("inf") else text
    return text


@dataclass(slots=True)
class _Composer:
    """Builds plain data from parser events, noting lines."""

    file: str
    events: Iterator[yaml.Event]
    lines: dict[Location, int] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def document(self) -> Any:
        """Return the data of the one document there must be."""
        next(self.events)
        if not isinstance(next(self.events), yaml.DocumentStartEvent):
            self.refuse(0, "something written in it", "an empty file")
        data = self.value(next(self.events), ())
        next(self.events)
        more = next(self.events)
        if not isinstance(more, yaml.StreamEndEvent):
            self.refuse(_line(more), "the end of the file", "`---`, which begins a second document")
        return data

    def refuse(self, line: int, expected: str, found: str) -> None:
        raise BadFile([*self.faults, Fault(self.file, line, "", expected, found)])

    def value(self, event: Any, location: Location) -> Any:
        """Return the value that begins with ``event``, and note its line."""
        self.lines.setdefault(location, _line(event))
        if isinstance(event, yaml.AliasEvent) or event.anchor is not None:
            self.refuse(_line(event), "every value written out", f"the anchor or alias `{shown(event.anchor)}`")
        if event.tag is not None:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self.refuse(_line(event), "plain values", f"the tag `{shown(tag)}`")
        if isinstance(event, yaml.ScalarEvent):
            return _plain(event.value) if event.style in (None, "") else event.value
        if len(location) >= MAX_DEPTH:
            self.refuse(_line(event), f"at most {MAX_DEPTH} brackets or indents inside each other", "more")
        build: Callable[[Location], Any] = self.sequence if isinstance(event, yaml.SequenceStartEvent) else self.mapping
        return build(location)

    def sequence(self, location: Location) -> list[Any]:
        items: list[Any] = []
        while not isinstance(event := next(self.events), yaml.SequenceEndEvent):
            items.append(self.value(event, (*location, len(items))))
        return items

    def mapping(self, location: Location) -> dict[str, Any]:
        entries: dict[str, Any] = {}
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            key = self.key(event)
            line = _line(event)
            if key in entries:
                found = f"`{shown(key)}` again, first in line {self.lines[(*location, key)]}"
                place = " > ".join(shown(s) if isinstance(s, str) else f"no. {s + 1}" for s in location)
                self.faults.append(Fault(self.file, line, place, "each key once", found))
                _Composer(self.file, self.events).value(next(self.events), location)
                continue
            self.lines[(*location, key)] = line
            entries[key] = self.value(next(self.events), (*location, key))
        return entries

    def key(self, event: Any) -> str:
        """Return a key, which must be text on one line; what looks like a number is text as well."""
        if not isinstance(event, yaml.ScalarEvent) or event.anchor is not None or event.tag is not None:
            self.refuse(_line(event), "a plain word before each colon", "something else")
        if not event.value:
            self.refuse(_line(event), "a plain word before each colon", "nothing")
        return str(event.value)


def _line(event: yaml.Event) -> int:
    mark: Any = event.start_mark
    return int(mark.line) + 1
