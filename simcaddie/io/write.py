"""Writing texts and data: UTF-8, plain names, rounded numbers; how a file gets to its place is ``base/writing.py``."""

from __future__ import annotations

import contextlib
import json
import math
import os
import re
import sys
import unicodedata
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from simcaddie.base.errors import BadRequest, shown
from simcaddie.base.writing import PathLike, asked_for, put, reason, write_bytes

__all__ = ["json_text", "slug", "write_all", "write_bytes", "write_json", "write_text"]


def slug(name: str) -> str:
    """Return ``name`` as part of a file name: lower case, words joined by hyphens, at most 60 letters.

    >>> slug("Curlew Inlet"), slug("Größe & Höhe/9"), slug("…")
    ('curlew-inlet', 'grosse-hohe-9', 'unnamed')
    """
    letters = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", name).casefold())
    letters = "".join(c for c in letters if c not in "'’" and not unicodedata.combining(c))
    words = re.sub(r"[\W_]+", "-", unicodedata.normalize("NFC", letters)).strip("-")
    return words[:60].strip("-") or "unnamed"


def write_text(path: PathLike, text: str) -> None:
    """Write text as UTF-8 with plain newlines; see ``write_bytes``."""
    write_bytes(path, text.encode("utf-8"))


def _place(file: Path) -> Path:
    """Return the file behind all links of one of several, which can't be a folder, a pipe or the like."""
    place = Path(os.path.realpath(file))
    if place.exists() and not place.is_file():
        raise IsADirectoryError(21, "a file to be written is a directory" if place.is_dir() else "not an ordinary file")
    return place


def write_all(folder: PathLike, texts: Mapping[str, str]) -> None:
    """Write several files into a folder, made where it isn't there: all or none.

    Raises
    ------
    BadRequest
        Where that can't be done.

    """
    target, files = Path(folder), {Path(folder) / name: text.encode("utf-8") for name, text in texts.items()}
    if twice := [file for file in files if asked_for(file)]:
        raise BadRequest(f"{shown(str(twice[0]), 200)} is written twice: two outputs need two files")
    made: list[Path] = []
    try:
        for missing in reversed([each for each in (target, *target.parents) if not each.exists()]):
            missing.mkdir()
            made.append(missing)
        put({_place(file): content for file, content in files.items()})
    except BaseException as error:
        for folder_made in reversed(made):
            with contextlib.suppress(OSError):
                folder_made.rmdir()
        if not isinstance(error, OSError | ValueError):
            raise
        raise BadRequest(f"can't write into {shown(os.fsdecode(target), 200)}: {reason(error, 'folder')}") from None


def _rounded(value: Any, digits: int) -> Any:
    """Return JSON's own types, floats rounded to ``digits`` places; what is no number becomes null."""
    if isinstance(value, Mapping):
        return {str(key): _rounded(item, digits) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(item, digits) for item in value]
    if hasattr(value, "tolist"):  # numpy's arrays and scalars
        return _rounded(value.tolist(), digits)
    if isinstance(value, float):
        return round(value, digits) + 0.0 if math.isfinite(value) else None
    return value


def json_text(data: Any, digits: int = 6) -> str:
    """Return data (also numpy's) as JSON, floats rounded to ``digits`` places, nan and infinities null."""
    return json.dumps(_rounded(data, digits), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def write_json(data: Any, target: PathLike, digits: int = 6) -> None:
    """Write data as JSON to a file, or to standard output where ``target`` is "-".

    Raises
    ------
    BadRequest
        Where the file can't be written.

    """
    text = json_text(data, digits)
    if os.fspath(target) == "-":
        sys.stdout.write(text)
    else:
        write_text(target, text)
