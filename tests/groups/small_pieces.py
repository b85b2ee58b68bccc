"""Pieces of work that take no time, fail or kill their worker; a note is left in a folder whenever one runs."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path


def _note(folder: str, number: int) -> int:
    path = Path(folder, f"{number}.ran")
    with path.open("a", encoding="utf-8") as file:
        file.write("x")
    return path.stat().st_size


def root(folder: str, number: int) -> list[float]:
    _note(folder, number)
    return [number**0.5, 1 / (number + 3)]


def fails(folder: str, number: int, at: int) -> int:
    _note(folder, number)
    if number == at:
        raise ValueError(f"no root of {number}")
    return number


def dies_once(folder: str, number: int, at: int) -> list[float]:
    if _note(folder, number) == 1 and number == at:
        os.kill(os.getpid(), signal.SIGKILL)
    return [number**0.5, 1 / (number + 3)]


def dies(folder: str, number: int, at: int) -> int:
    _note(folder, number)
    if number == at:
        os.kill(os.getpid(), signal.SIGKILL)
    return number


def slow(folder: str, number: int) -> int:
    _note(folder, number)
    time.sleep(0.3)
    return number
