"""Benchmarks run only when asked for by mark, and print one table at the end, to be pasted into DEVELOPERS.md."""

from __future__ import annotations

import platform

import numba
import numpy as np
import pytest
from clocked import ROWS


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if "bench" in (config.getoption("markexpr") or ""):
        return
    benches = [item for item in items if item.get_closest_marker("bench")]
    if benches:
        config.hook.pytest_deselected(items=benches)
        items[:] = [item for item in items if not item.get_closest_marker("bench")]


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if not ROWS:
        return
    terminalreporter.write_line("")
    terminalreporter.write_line(f"numpy {np.__version__}, numba {numba.__version__}, {platform.machine()}:")
    terminalreporter.write_line("")
    for row in (("what", "measured", "against"), ("---", "---", "---"), *ROWS):
        terminalreporter.write_line("| " + " | ".join(row) + " |")
