"""JSON Schemas of the file formats, generated from the models, so that editors complete the keys.

``python -m simcaddie.io.schema`` writes them anew beside this file; a test holds them to the models.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, Final

from pydantic import BaseModel

from simcaddie.io.course import CourseFile
from simcaddie.io.day import DayFile
from simcaddie.io.hole import HoleFile
from simcaddie.io.player import PlayerFile
from simcaddie.io.write import write_text

__all__ = ["FORMATS", "schema_path", "schema_text", "write_schemas"]

FORMATS: Final[dict[str, type[BaseModel]]] = {
    "course": CourseFile, "day": DayFile, "hole": HoleFile, "player": PlayerFile,
}  # fmt: skip


def schema_path(name: str) -> Path:
    """Return the path of the shipped schema of a format: ``course``, ``day``, ``hole`` or ``player``."""
    return Path(__file__).parent / "schemas" / f"{name}.json"


def _tidy(part: Any) -> Any:
    """Return a schema without titles that only repeat keys, and without null for what may be left out."""
    if isinstance(part, list):
        return [_tidy(item) for item in part]
    if not isinstance(part, dict):
        return part
    tidy = {key: _tidy(value) for key, value in part.items() if not (key == "title" and isinstance(value, str))}
    choices = [choice for choice in tidy.get("anyOf", ()) if choice != {"type": "null"}]
    if "anyOf" in tidy and len(choices) == 1:
        tidy = {**choices[0], **{key: value for key, value in tidy.items() if key != "anyOf"}}
    if tidy.get("default", "") is None:
        del tidy["default"]
    return tidy


def schema_text(name: str) -> str:
    """Return the JSON Schema of a format, as it is shipped."""
    schema = _tidy(FORMATS[name].model_json_schema())
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": f"simcaddie {name} file"}
    return json.dumps(head | schema, indent=2, ensure_ascii=False) + "\n"


def write_schemas() -> None:
    """Write every schema to its place in the package."""
    for name in FORMATS:
        write_text(schema_path(name), schema_text(name))


if __name__ == "__main__":
    write_schemas()
