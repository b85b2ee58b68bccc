"""A day as data."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from simcaddie.air.day import Day
from simcaddie.strategy.day_words import day_words

__all__ = ["day_data"]


def day_data(day: Day | None) -> dict[str, Any] | None:
    """Return a day as plain data, speeds in m/s and temperature in °C, with its words; None for a standard one."""
    return None if day is None else {"words": day_words(day), **asdict(day)}
