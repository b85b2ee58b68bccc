"""Faults in the words of a person who never programmed: where, what was expected, what was found."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from difflib import get_close_matches
from typing import Any, Final, TypeVar

from pydantic import BaseModel, ValidationError

from simcaddie.base.errors import BadFile, Fault
from simcaddie.io.yaml_reader import Document, Location, shown

__all__ = [
    "MAX_FAULTS",
    "describe",
    "fault",
    "first_faults",
    "listed",
    "near",
    "raise_faults",
    "sound",
    "validated",
    "where",
]  # fmt: skip

M = TypeVar("M", bound=BaseModel)

MAX_FAULTS: Final = 60
_START: Final = 3  # letters that may tell a name by its start
_LABELS: Final = ("name", "club", "kind")  # what tells an entry of a list from its neighbours


def near(name: str, names: Iterable[str]) -> str | None:
    """Return the one of ``names`` that ``name`` was probably meant to be, or None: a slip, or the start of only one.

    >>> near("Bunkr", ["water", "bunker"]), near("tall", ["tall-oak", "tee"])
    ('bunker', 'tall-oak')
    """
    keys, plain = {_plainer(known): known for known in names}, _plainer(name)
    found = get_close_matches(plain, keys, n=1, cutoff=0.7)
    if not found and len(plain) >= _START:
        starts = [known for known in keys if known.startswith(plain)]
        found = starts if len(starts) == 1 else []
    return keys[found[0]] if found else None


def _plainer(name: str) -> str:
    return name.strip().lower().replace("-", "_").replace(" ", "_")


def listed(names: Iterable[str]) -> str:
    """Return names as a sentence has them: "a, b or c"."""
    *most, last = names
    return f"{', '.join(most)} or {last}" if most else last


def describe(value: Any) -> str:
    """Return a value as a fault tells it; long ones are counted, not shown."""
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f"'{shown(value, 40)}'"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, Mapping):
        return f"the keys {shown(', '.join(value))}" if value else "no keys"
    short = len(value) <= 4 and not any(isinstance(item, list | Mapping) for item in value)
    return f"[{', '.join(describe(item) for item in value)}]" if short else f"a list of {len(value)}"


def _walk(data: Any, location: Location) -> tuple[Location, Any]:
    """Return the part of ``location`` that leads somewhere in ``data``, and what is there."""
    kept: list[str | int] = []
    for step in location:
        listed_there = isinstance(data, list) and isinstance(step, int) and step < len(data)
        if listed_there or (isinstance(data, Mapping) and step in data):
            data = data[step]
            kept.append(step)
    return tuple(kept), data


def where(data: Any, location: Location) -> str:
    """Return a location in words: ``areas > no. 2 (left bunker) > outline``."""
    words: list[str] = []
    here: Any = data
    for step in location:
        here = here[step]
        if isinstance(step, str):
            words.append(shown(step))
            continue
        given = here if isinstance(here, dict) else {}
        label = next((given[key] for key in _LABELS if isinstance(given.get(key), str)), None)
        words.append(f"no. {step + 1} ({shown(label, 40)})" if label else f"no. {step + 1}")
    return " > ".join(words)


def fault(document: Document, location: Location, expected: str, found: str | None = None) -> Fault:
    """Return a fault at a location, also a missing one; ``found`` is told from the data if left out."""
    place, value = _walk(document.data, location)
    found = describe(value) if found is None else found
    return Fault(document.file, document.line(place), where(document.data, place), expected, found)


def _properties(schema: Mapping[str, Any], location: Location) -> list[str]:
    """Return the keys that a JSON Schema knows at a location."""
    parts = [schema]
    for step in location:
        parts = [inner for part in parts for inner in _inside(_plain_parts(schema, part), step)]
    return [key for part in parts for plain in _plain_parts(schema, part) for key in plain.get("properties", {})]


def _plain_parts(root: Mapping[str, Any], part: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    if "$ref" in part:
        part = root["$defs"][part["$ref"].rsplit("/", 1)[1]]
    choices = [*part.get("anyOf", ()), *part.get("oneOf", ())]
    return [plain for choice in choices for plain in _plain_parts(root, choice)] if choices else [part]


def _inside(parts: Iterable[Mapping[str, Any]], step: str | int) -> list[Mapping[str, Any]]:
    if isinstance(step, int):
        found = [part.get("items") for part in parts]
    else:
        found = [part.get("properties", {}).get(step, part.get("additionalProperties")) for part in parts]
    return [part for part in found if isinstance(part, Mapping)]


_PLAIN: Final = {
    "list_type": "a list",
    "dict_type": "a group of `name: value`",
    "model_type": "a group of `key: value`",
    "model_attributes_type": "a group of `key: value`",
    "string_type": "text",
    "bool_type": "true or false",
}


def _one_fault(document: Document, schema: Mapping[str, Any], error: Any) -> Fault:
    location, kind = tuple(error["loc"]), error["type"]
    if kind == "told":
        return fault(document, location, error["ctx"]["expected"], error["ctx"].get("found"))
    if kind == "missing":
        return fault(document, location[:-1], f"the key `{location[-1]}`", "none")
    place, value = _walk(document.data, location)
    if kind == "extra_forbidden":
        known = _properties(schema, place[:-1])
        close = near(str(place[-1]), known)
        names = f"a known key (did you mean `{close}`?)" if close else f"one of the keys {', '.join(known)}"
        parent = where(document.data, place[:-1])
        return Fault(document.file, document.line(place), parent, names, f"`{shown(str(place[-1]))}`")
    if kind in ("too_short", "too_long"):
        bound = error["ctx"].get("min_length", error["ctx"].get("max_length"))
        words = "at least" if kind == "too_short" else "at most"
        words += f" {bound} " + ("entry" if bound == 1 else "entries")
        return fault(document, location, words, str(len(value)))
    return fault(document, location, _PLAIN.get(kind, "another value"))


def validated(document: Document, kind: type[M], expected: str) -> tuple[M | None, list[Fault]]:
    """Return a document as a model, None where it can't be one, and the faults of reading it and of the model.

    Raises
    ------
    BadFile
        Where it has no keys at all: ``expected`` says what it should be.

    """
    if not isinstance(document.data, dict):
        raise BadFile([fault(document, (), expected)])
    try:
        return kind.model_validate(document.data), [*document.faults]
    except ValidationError as error:
        schema, details = kind.model_json_schema(), error.errors(include_url=False, include_input=False)
        return None, [*document.faults, *(_one_fault(document, schema, detail) for detail in details)]


def sound(document: Document, kind: type[M], expected: str, more: Callable[[M | None], Iterable[Fault]]) -> M:
    """Return a document as a model without a fault; ``more`` finds those of the whole, also where it is no model.

    Raises
    ------
    BadFile
        With every fault, each with its line.

    """
    model, faults = validated(document, kind, expected)
    raise_faults([*faults, *more(model)])
    if model is None:
        raise TypeError("a file without faults must give a model")  # unreachable
    return model


def first_faults(faults: Sequence[Fault]) -> list[Fault]:
    """Return the first 60 faults of a file, and where there are more one that counts them."""
    if len(faults) <= MAX_FAULTS:
        return list(faults)
    rest = faults[MAX_FAULTS:]
    return [
        *faults[:MAX_FAULTS],
        Fault(rest[0].file, rest[0].line, "", "no more faults", f"{len(rest)} more from here on"),
    ]


def raise_faults(faults: Iterable[Fault]) -> None:
    """Raise one BadFile with all of ``faults``; with none, return. Beyond the first 60 they are counted."""
    if told := first_faults(sorted(set(faults))):
        raise BadFile(told)
