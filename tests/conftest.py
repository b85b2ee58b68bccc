"""Put the tests' own helpers on the path; compile once before several workers would."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

WARM_UP = (  # call all that is compiled
    "compare millpond wren --objective points --then sound --figure {0}/a.svg",
    "plan weir-lawn wren",
    "sheet weir-lawn wren -o {0}/b.pdf",
    "today weir-lawn wren",
    "round tansywick-heath wren --sequences 1000",
    "lesson millpond wren --options driver 6-iron --sequences 400 -o {0}/c.svg",
)


def pytest_configure(config: pytest.Config) -> None:
    """Before workers start, compile what all of them need: each would else compile it for itself."""
    several = getattr(config.option, "numprocesses", None)
    if several and not hasattr(config, "workerinput") and not config.option.collectonly:
        with tempfile.TemporaryDirectory() as folder:
            for words in WARM_UP:
                command = [sys.executable, "-m", "simcaddie", *words.format(folder).split()]
                subprocess.run(command, capture_output=True, check=False)
