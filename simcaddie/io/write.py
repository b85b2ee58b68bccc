"""Writing files: whole or not at all, UTF-8, plain names, rounded numbers."""

from __future__ import annotations

import json
import math
import os
import re
import sys
import unicodedata
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from simcaddie.base.errors import BadRequest
from simcaddie.io.yaml_reader import PathLike, shown

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


def write_bytes(path: PathLike, content: bytes) -> None:
    """Write a file in one step: a reader sees the old one or the new one, never a half.

    Raises
    ------
    BadRequest
        Where it can't be written.

    """
    try:
        _put({Path(path): content})
    except (OSError, ValueError) as error:
        raise BadRequest(f"can't write {shown(os.fsdecode(path), 200)}: {_reason(error, 'file')}") from None


def _put(contents: Mapping[Path, bytes]) -> None:
    """Write files beside their places, and move them there when all are on the disk."""
    drafts = {target.parent / f".{target.name}.{os.getpid()}.tmp": target for target in contents}
    try:
        for draft, target in drafts.items():
            draft.write_bytes(contents[target])
        for draft, target in drafts.items():
            draft.replace(target)
    finally:
        for draft in drafts:
            draft.unlink(missing_ok=True)


def _reason(error: OSError | ValueError, what: str) -> str:
    return str(getattr(error, "strerror", None) or f"not a name that a {what} can have").lower()


def write_text(path: PathLike, text: str) -> None:
    """Write text as UTF-8 with plain newlines; see ``write_bytes``."""
    write_bytes(path, text.encode("utf-8"))


def write_all(folder: PathLike, texts: Mapping[str, str]) -> None:
    """Write several files into a folder, made where it isn't there: none is changed before all are on the disk.

    Raises
    ------
    BadRequest
        Where that can't be done.

    """
    target = Path(folder)
    try:
        target.mkdir(parents=True, exist_ok=True)
        if any((target / name).is_dir() for name in texts):
            raise IsADirectoryError(21, "a file to be written is a directory")
        _put({target / name: text.encode("utf-8") for name, text in texts.items()})
    except (OSError, ValueError) as error:
        raise BadRequest(f"can't write into {shown(os.fsdecode(target), 200)}: {_reason(error, 'folder')}") from None


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
