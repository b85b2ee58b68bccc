"""Nothing is timed unless it is asked for: tests marked ``bench`` run only with ``-m bench``."""

from __future__ import annotations

import pytest


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if "bench" in (config.getoption("markexpr") or ""):
        return
    benches = [item for item in items if item.get_closest_marker("bench")]
    if benches:
        config.hook.pytest_deselected(items=benches)
        items[:] = [item for item in items if not item.get_closest_marker("bench")]
