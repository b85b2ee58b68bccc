"""How fast is simcaddie, and has it become faster or slower?

    python tests/bench/run.py [COMMIT] [--quick] [--only WORD]

Every main command is run as a whole process, some times over, and the least wall and processor seconds are told: after
a warm-up that compiles, the first time a question is asked (no solved hole is kept) and once the answer is kept. Then
come the stages of a solve, strokes, whole sequences and growth (``inside.py``).

Where COMMIT is named, it is checked out beside (``git worktree``, removed at the end) and its commands run in turn with
those of this tree, so that what else the machine does falls on both; ratios above 1 mean that this tree is faster.
Either side has a compiled-code cache of its own in a temporary folder; yours is left alone.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import platform
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from clocked import aligned

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
KEPT = ("kept", "solved")  # folders of solved holes inside a cache, now and once

ENOUGH, LONG = 2, 60.0  # runs, and seconds of them after which no more are begun

FIRST, AGAIN = "first time", "kept"
COMMANDS: tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...] = (
    ("compare curlew-inlet wren", (), (FIRST, AGAIN)),
    ("compare curlew-inlet wren", ("--then", "sound"), (FIRST,)),
    ("plan kettle-drain wren", (), (FIRST, AGAIN)),
    ("round tansywick-heath wren", (), (FIRST,)),
    ("sheet tansywick-heath wren", (), (FIRST,)),
    ("practice tansywick-heath wren", (), (FIRST,)),
    ("lesson curlew-inlet wren", ("--options", "driver", "5 wood"), (FIRST,)),
)


class Side(NamedTuple):
    """A tree whose commands are timed: its name, its folder, and a cache of its own."""

    name: str
    folder: Path
    cache: Path

    @property
    def environment(self) -> dict[str, str]:
        path = os.pathsep.join(part for part in (str(self.folder), os.environ.get("PYTHONPATH")) if part)
        return {**os.environ, "PYTHONPATH": path, "SIMCADDIE_CACHE": str(self.cache)}

    def forget(self) -> None:
        """Throw away solved holes; compiled code stays."""
        for folder in self.cache.glob("simcaddie/*/*"):
            if folder.name in KEPT:
                shutil.rmtree(folder)


class Spent(NamedTuple):
    """Wall and processor seconds of a process; ``fault`` is what it said last where it failed."""

    wall: float
    processor: float
    fault: str = ""


def spend(arguments: Sequence[str], side: Side, folder: Path) -> Spent:
    """Run Python with ``arguments`` in ``folder``, and tell what that took."""
    with tempfile.TemporaryFile("w+", encoding="utf-8", errors="replace") as said:
        before, started = os.times(), time.perf_counter()
        done = subprocess.run(
            [sys.executable, *arguments],
            env=side.environment,
            cwd=folder,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=said,
            check=False,
        )
        wall, after = time.perf_counter() - started, os.times()
        said.seek(0)
        lines = [line.strip("│╭╮╰╯─ \n") for line in said]
    processor = after.children_user + after.children_system - before.children_user - before.children_system
    fault = next((line for line in reversed(lines) if line), "no word of why") if done.returncode else ""
    return Spent(wall, processor, fault)


def least(found: Sequence[Spent]) -> Spent:
    """Return the least of each number; a fault is told if there was one."""
    fault = next((one.fault for one in found if one.fault), "")
    return Spent(min(one.wall for one in found), min(one.processor for one in found), fault)


def timed(arguments: Sequence[str], when: str, sides: Sequence[Side], folder: Path, runs: int) -> list[Spent]:
    """Return what a command takes on each side, the least of ``runs`` after one to warm up, sides in turn.

    A command that takes long isn't run a third time.
    """
    command = ("-m", "simcaddie", *arguments)
    warm = [spend(command, side, folder) for side in sides]
    found: list[list[Spent]] = [[one] if one.fault else [] for one in warm]
    started = time.perf_counter()
    for turn in range(runs):
        if turn >= ENOUGH and time.perf_counter() - started > LONG:
            break
        order = list(zip(sides, found, strict=True))
        for side, spent in order if turn % 2 else order[::-1]:
            if any(one.fault for one in spent):
                continue
            if when == FIRST:
                side.forget()
            spent.append(spend(command, side, folder))
    return [least(spent) for spent in found]


def shown(spent: Spent) -> list[str]:
    return ["fails", "–"] if spent.fault else [f"{spent.wall:.2f}", f"{spent.processor:.2f}"]


def row_of(title: str, when: str, found: Sequence[Spent]) -> list[str]:
    row = [title, when, *(cell for spent in found for cell in shown(spent))]
    if len(found) > 1:
        here, there = found
        fair = not (here.fault or there.fault)
        pairs = ((there.wall, here.wall), (there.processor, here.processor))
        row += [f"{a / b:.2f}" if fair and b else "–" for a, b in pairs]
    return row


def commands(sides: Sequence[Side], folder: Path, runs: int, only: str) -> bool:
    """Time the commands and print their table; return whether all of this tree's worked."""
    heading = ["command", "", *(f"{side.name}: {what}" for side in sides for what in ("wall s", "processor s"))]
    rows, faults, well = [heading + ["wall ratio", "processor ratio"] * (len(sides) > 1)], [], True
    for words, options, whens in COMMANDS:
        title = " ".join((words, *(f'"{option}"' if " " in option else option for option in options)))
        for when in whens if only in title else ():
            print(f"  {title}, {when}: ", end="", file=sys.stderr, flush=True)
            found = timed((*words.split(), *options), when, sides, folder, runs)
            rows.append(row_of(title, when, found))
            print(", ".join(shown(spent)[0] for spent in found), file=sys.stderr, flush=True)
            faults += [
                f"{side.name}, {title}: {one.fault}" for side, one in zip(sides, found, strict=True) if one.fault
            ]
            well = well and not found[0].fault
    if len(rows) > 1:
        print(f"\nWhole processes, the least of {runs} run{'s' * (runs > 1)}:\n\n{aligned(rows)}", flush=True)
    for fault in faults:
        print(f"\nFails: {fault}")
    return well


def git(*arguments: str) -> str:
    """Return what git says of this tree, or raise SystemExit with what is wrong."""
    try:
        done = subprocess.run(["git", "-C", str(ROOT), *arguments], capture_output=True, text=True, check=False)
    except FileNotFoundError:
        sys.exit("A COMMIT can only be named where git is installed.")
    if done.returncode:
        sys.exit(f"git {' '.join(arguments)}: {done.stderr.strip()}")
    return done.stdout.strip()


@contextlib.contextmanager
def checked_out(commit: str, folder: Path) -> Iterator[Path]:
    """Yield a work tree of ``commit`` in ``folder``, and remove it whatever happens."""
    name = git("rev-parse", "--verify", "--end-of-options", f"{commit}^{{commit}}")
    try:
        git("worktree", "add", "--detach", "--quiet", str(folder), name)
        yield folder
    finally:
        before = signal.signal(signal.SIGINT, signal.SIG_IGN)  # a second Ctrl-C must not leave it behind
        if folder.exists():
            git("worktree", "remove", "--force", "--force", str(folder))
        signal.signal(signal.SIGINT, before)


def check_side(side: Side, folder: Path) -> None:
    """Make sure that a side's commands come from its own folder, whatever is installed."""
    asked = [sys.executable, "-c", "import simcaddie; print(simcaddie.__file__)"]
    done = subprocess.run(asked, env=side.environment, cwd=folder, capture_output=True, text=True, check=False)
    if not done.stdout.strip() or side.folder.resolve() not in Path(done.stdout.strip()).resolve().parents:
        sys.exit(f"{side.name}: its commands would come from {done.stdout.strip() or done.stderr.strip()}")


def machine() -> str:
    """Return what the figures depend on besides the program."""
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    threads = os.environ.get("SIMCADDIE_THREADS", "one a core")
    busy = f"; load {os.getloadavg()[0]:.1f} at the start" if hasattr(os, "getloadavg") else ""
    return f"Python {platform.python_version()}, {platform.machine()}, {cores} cores, threads: {threads}{busy}"


def bench(commit: str | None, quick: bool, only: str, work: Path) -> bool:
    """Time everything, with ``work`` as a folder to work in; return whether all of this tree's commands worked."""
    here, runs = Side("this tree", ROOT, work / "cache"), 1 if quick else 3
    output = work / "output"
    output.mkdir()
    print(machine())
    with contextlib.ExitStack() as stack:
        sides = [here]
        if commit:
            folder = stack.enter_context(checked_out(commit, work / "commit"))
            sides.append(Side(commit, folder, work / "cache-of-commit"))
            if git("diff", "--name-only", commit, "--", "holes", "players"):
                print(f"The demo holes or players of {commit} differ from this tree's; each side uses its own.")
        for side in sides:
            check_side(side, output)
        well = commands(sides, output, runs, only)
    if only in "inside":
        arguments = [sys.executable, str(HERE / "inside.py"), *["--quick"] * quick]
        well = not subprocess.run(arguments, env=here.environment, check=False).returncode and well
    return well


def main() -> int:
    """Read the command line."""
    parser = argparse.ArgumentParser(description="Time simcaddie's commands and what they consist of.")
    parser.add_argument("commit", nargs="?", metavar="COMMIT", help="time this commit's commands as well, in turn")
    parser.add_argument("--quick", action="store_true", help="fewer runs and sizes")
    parser.add_argument("--only", default="", metavar="WORD", help="commands with this word in them; or 'inside'")
    asked = parser.parse_args()
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))  # so that the work tree goes then too
    try:
        with tempfile.TemporaryDirectory(prefix="simcaddie-bench-") as work:
            return 0 if bench(asked.commit, asked.quick, asked.only, Path(work)) else 1
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return 130


if __name__ == "__main__":
    sys.exit(main())
