"""What README.md and the guide show of the program: ``python tests/readme.py [PAGE …]`` makes it anew.

A block opens with ``<!-- run: COMMAND -->`` and a fence; what stands between the fences is what the command prints, and
below it which files it wrote. Commands run in a folder of their own, where `examples`, `holes` and `players` are to be
found; what one block writes (`fit … -o me.yaml`) the next may use, on whatever page. Where pages are named, only their
blocks and pictures are made anew.
"""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterable
from functools import cache
from pathlib import Path

from PIL import Image

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
GUIDE = ROOT / "examples" / "guide"
PAGES = (README, *sorted(GUIDE.glob("*.md")))
PICTURES = (  # drawn into the checkout; a test couldn't hold their bytes against another matplotlib's
    "simcaddie compare curlew-inlet wren --figure examples/pictures/curlew-inlet.png",
    "simcaddie lesson signal-halt otto --options driver '5 iron' -o examples/pictures/lesson.png",
    "simcaddie plan kettle-drain wren --figure examples/pictures/kettle-drain-plan.png",
    "simcaddie sheet tansywick-heath wren --holes 4-6 -o examples/pictures/sheet.png",
    "simcaddie gaps me.yaml --figure examples/pictures/gaps.png",
)
PHONE = ROOT / "examples" / "pictures" / "page.png"  # photographed, not drawn
BLOCK = re.compile(r"(<!-- run: (?P<command>[^>]+) -->\n```text\n)(?P<output>.*?)(?=```\n)", re.DOTALL)
SHOWN = re.compile(r"!\[[^\]]*\]\(([^)]+)\)")
WRITTEN = ("Drawn: ", "Written: ")  # how a command says which file it made, on stderr


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


def plain(printed: str) -> str:
    """Return what was printed without the spaces at the ends of its lines."""
    return "".join(f"{line.rstrip()}\n" for line in printed.splitlines())


@cache
def run(command: str) -> str:
    """Return what a ``simcaddie …`` command prints, and which files it says it wrote; several pages may show it."""
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
        check=False,
    )
    if done.returncode:
        raise RuntimeError(f"{command}\n{done.stderr}")
    made = [line for line in done.stderr.splitlines() if line.startswith(WRITTEN)]
    return plain("\n".join([*done.stdout.splitlines(), *made]))


def pages() -> dict[Path, str]:
    """Return the text of README.md and of every page of the guide."""
    return {page: page.read_text(encoding="utf-8") for page in PAGES}


def blocks() -> dict[str, str]:
    """Return the output that the pages show, by command."""
    return {found["command"]: found["output"] for text in pages().values() for found in BLOCK.finditer(text)}


def pictures(page: Path) -> set[Path]:
    """Return the pictures that a page shows."""
    return {(page.parent / name).resolve() for name in SHOWN.findall(page.read_text(encoding="utf-8"))}


def drawn(command: str) -> Path:
    """Return the picture that one of ``PICTURES`` draws."""
    return (ROOT / shlex.split(command)[-1]).resolve()


def rewrite(some: Iterable[Path]) -> None:
    """Write every block of some pages anew, and draw their pictures."""
    shown: set[Path] = set()
    for page in some:
        text = page.read_text(encoding="utf-8")
        page.write_text(BLOCK.sub(lambda found: found[1] + run(found["command"]), text), encoding="utf-8")
        shown |= pictures(page)
    for command in PICTURES:
        if drawn(command) in shown:
            run(command)
            _packed(drawn(command))
    if PHONE in shown:
        _photograph("simcaddie page signal-halt otto -o page.html")
        _packed(PHONE)


def _photograph(command: str) -> None:
    """Photograph the page that a command writes on a phone, after twenty balls have fallen."""
    from playwright.sync_api import sync_playwright

    run(command)
    with sync_playwright() as started:
        browser = started.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        phone = browser.new_page(viewport={"width": 360, "height": 740}, reduced_motion="reduce")
        phone.goto(Path(folder().name, "page.html").as_uri())
        for button in ("#first-done", "#fall"):
            phone.click(button)
        phone.wait_for_timeout(500)
        phone.screenshot(path=PHONE)
        browser.close()


def _packed(picture: Path) -> None:
    """Make a picture's file as small as it goes, with 64 colours: the checkout keeps every one of them for ever."""
    with Image.open(picture) as opened:
        opened.convert("RGB").quantize(64, dither=Image.Dither.NONE).save(picture, optimize=True)


def _asked(names: list[str]) -> tuple[Path, ...]:
    """Return the pages that were named, all of them where none was."""
    known = {page.resolve(): page for page in PAGES}
    if strange := [name for name in names if Path(name).resolve() not in known]:
        sys.exit(f"not a page of README.md and examples/guide/: {', '.join(strange)}")
    return tuple(known[Path(name).resolve()] for name in names) or PAGES


if __name__ == "__main__":
    rewrite(_asked(sys.argv[1:]))
