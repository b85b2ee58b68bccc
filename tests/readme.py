"""The parts of README.md that are made by running the program: ``python tests/readme.py`` writes them anew.

A block opens with ``<!-- run: COMMAND -->`` and a fence; what stands between the fences is the command's output.
Commands run in a folder of their own, where `examples`, `holes` and `players` are to be found; what one block writes
(`fit … -o me.yaml`) the next may use.
"""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
import tempfile
from functools import cache
from pathlib import Path

from PIL import Image

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
PICTURES = (  # drawn into the checkout; a test couldn't hold their bytes against another matplotlib's
    "simcaddie compare curlew-inlet wren --figure examples/pictures/curlew-inlet.png",
    "simcaddie lesson signal-halt otto --options driver '5 iron' -o examples/pictures/lesson.png",
    "simcaddie plan kettle-drain wren --figure examples/pictures/kettle-drain-plan.png",
    "simcaddie sheet tansywick-heath wren --holes 4-6 -o examples/pictures/sheet.png",
    "simcaddie gaps me.yaml --figure examples/pictures/gaps.png",
)
BLOCK = re.compile(r"(<!-- run: (?P<command>[^>]+) -->\n```text\n)(?P<output>.*?)(?=```\n)", re.DOTALL)


@cache
def folder() -> tempfile.TemporaryDirectory[str]:
    """Return the folder in which commands run; it goes when the program ends."""
    made = tempfile.TemporaryDirectory(prefix="readme-", ignore_cleanup_errors=True)
    for name in ("examples", "holes", "players"):
        Path(made.name, name).symlink_to(ROOT / name)
    return made


def first_made(words: list[str]) -> list[str]:
    """Return the commands that write the files which a command reads and nothing has written yet."""
    here = Path(folder().name)
    wanted = [word for word in words if word.endswith(".yaml") and not (here / word).exists()]
    return [command for command in blocks() for word in wanted if command.endswith(f"-o {word}")]


def run(command: str) -> str:
    """Return what a ``simcaddie …`` command prints, 100 columns wide."""
    words = shlex.split(command)
    if "-o" not in words:
        for before in first_made(words):
            run(before)
    path = os.pathsep.join(filter(None, (str(ROOT), os.environ.get("PYTHONPATH"))))
    environment = {**os.environ, "COLUMNS": "100", "TERM": "dumb", "NO_COLOR": "1", "PYTHONPATH": path}
    done = subprocess.run(
        [sys.executable, "-m", *words],
        cwd=folder().name,
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    return "\n".join(line.rstrip() for line in done.stdout.splitlines()) + "\n"


def blocks() -> dict[str, str]:
    """Return the output that README.md shows, by command."""
    return {found["command"]: found["output"] for found in BLOCK.finditer(README.read_text(encoding="utf-8"))}


def rewrite() -> None:
    """Write every block and draw every picture of README.md anew."""
    text = README.read_text(encoding="utf-8")
    README.write_text(BLOCK.sub(lambda found: found[1] + run(found["command"]), text), encoding="utf-8")
    for picture in PICTURES:
        run(picture)
        _packed(ROOT / picture.split()[-1])


def _packed(picture: Path) -> None:
    """Make a picture's file as small as it goes, with 64 colours: the checkout keeps every one of them for ever."""
    with Image.open(picture) as drawn:
        drawn.convert("RGB").quantize(64, dither=Image.Dither.NONE).save(picture, optimize=True)


if __name__ == "__main__":
    rewrite()
