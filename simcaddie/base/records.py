"""Records as plain data: the generic half of every answer's JSON."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any

__all__ = ["picked", "plain"]


def plain(value: Any) -> Any:
    """Return a value as JSON has it: records and named tuples by field, mappings by the words of their keys."""
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple) and hasattr(value, "_asdict"):
        return {name: plain(part) for name, part in value._asdict().items()}
    if isinstance(value, dict) or hasattr(value, "items"):
        return {str(key): plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [plain(part) for part in value]
    return value.item() if hasattr(value, "item") else value


def picked(record: object, names: str = "", **renamed: str) -> dict[str, Any]:
    """Return some attributes of a record as plain data: ``names`` as they are, others by (key, dotted path).

    >>> picked(complex(3, 4), "real", height="imag")
    {'real': 3.0, 'height': 4.0}
    """
    found = {}
    for key, path in ({name: name for name in names.split()} | renamed).items():
        value: Any = record
        for step in path.split("."):
            value = getattr(value, step)
        found[key] = plain(value)
    return found
