"""The parts of README.md that are made by running the program: ``python tests/readme.py`` writes them anew.

A block opens with ``<!-- run: COMMAND -->`` and a fence; what stands between the fences is the command's output.
"""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
BLOCK = re.compile(r"(<!-- run: (?P<command>[^>]+) -->\n```text\n)(?P<output>.*?)(?=```\n)", re.DOTALL)


def run(command: str) -> str:
    """Return what a ``simcaddie …`` command prints, 100 columns wide, from the project's top."""
    words = shlex.split(command)
    environment = {**os.environ, "COLUMNS": "100", "TERM": "dumb", "NO_COLOR": "1"}
    done = subprocess.run(
        [sys.executable, "-m", *words], cwd=ROOT, env=environment, capture_output=True, text=True, check=True
    )
    return "\n".join(line.rstrip() for line in done.stdout.splitlines()) + "\n"


def blocks() -> dict[str, str]:
    """Return the output that README.md shows, by command."""
    return {found["command"]: found["output"] for found in BLOCK.finditer(README.read_text(encoding="utf-8"))}


def rewrite() -> None:
    """Write every block of README.md anew."""
    text = README.read_text(encoding="utf-8")
    README.write_text(BLOCK.sub(lambda found: found[1] + run(found["command"]), text), encoding="utf-8")


if __name__ == "__main__":
    rewrite()
