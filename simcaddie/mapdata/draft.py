"""A hole on its way from the map to a file: the record, and for every part what was assumed about it."""

from __future__ import annotations

from dataclasses import dataclass, field

from shapely import LineString

from simcaddie.ground.hole import Area, Hole
from simcaddie.mapdata.globe import Frame

__all__ = ["Drawn", "HoleDraft"]


@dataclass(frozen=True, slots=True)
class Drawn:
    """An area with the remark that its file gives it, '' for none."""

    area: Area
    remark: str = ""


@dataclass(slots=True)
class HoleDraft:
    """One hole of a map, made or not.

    ``ref`` is its number as text, ``stem`` the name of its file without ending. ``hole`` is None where it can't be
    made. ``remarks`` gives comments by key of the file; ``area_remarks`` by place among the areas. ``decimals`` is how
    finely it is to be written. Lengths are yards, ``length`` along the line.
    """

    ref: str
    stem: str
    label: str
    frame: Frame
    line: LineString
    length: float
    decimals: int = 1
    hole: Hole | None = None
    remarks: dict[str, str] = field(default_factory=dict)
    area_remarks: list[str] = field(default_factory=list)
    found: dict[str, int] = field(default_factory=dict)
    assumed: list[str] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    def assume(self, key: str, text: str) -> None:
        """Note something assumed, for the report and as a comment at ``key`` of the file."""
        self.remarks[key] = f"{self.remarks[key]}; {text}" if key in self.remarks else f"assumed: {text}"
        told = f"{key.replace('_', ' ')}: {text}"
        if told not in self.assumed:
            self.assumed.append(told)

    def say(self, text: str) -> None:
        """Note something for the report only."""
        if text not in self.said:
            self.said.append(text)
