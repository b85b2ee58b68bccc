"""The browser that the pages are tried in."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from typing import Any

import pytest


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    """Start the system's chromium; skip where there is none."""
    sync_api = pytest.importorskip("playwright.sync_api", reason="playwright isn't installed")
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        pytest.skip("there is no chromium on this machine")
    with sync_api.sync_playwright() as play:
        made = play.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        yield made
        made.close()
