"""Pieces of work with names: run anywhere, tried again, kept in a journal, handed back in order.

A piece that raises is tried three times. Where a worker dies, whatever was on its way is tried again at the end, one
piece at a time, so that a piece that kills its workers is found by name and takes no other with it. Everything that is
finished is on the disk before the next is taken in (a line a piece, sealed), under a digest of the function, its
arguments and the program's source: what was worked out by another version, or asked otherwise, is not used.
"""

from __future__ import annotations

import base64
import contextlib
import hashlib
import io
import json
import os
import zlib
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, CancelledError, Future, wait
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, BinaryIO, Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.errors import BadRequest, SimcaddieError, shown
from simcaddie.base.executors import Place
from simcaddie.base.memo import ignore_kept, ignoring_kept
from simcaddie.base.parallel import alone
from simcaddie.base.writing import reason

__all__ = ["JOURNAL", "TRIES", "Delivered", "Piece", "lost", "packed", "run_pieces", "unpacked", "version"]

JOURNAL: Final = "pieces.journal"
TRIES: Final = 3


@cache
def version() -> str:
    """Return a digest of the program's own source."""
    root, made = Path(__file__).parents[1], hashlib.blake2b(digest_size=8)
    for source in sorted(root.rglob("*.py")):
        made.update(source.relative_to(root).as_posix().encode() + source.read_bytes())
    return made.hexdigest()


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece: a ``name`` to be told by, a function of a module, and arguments of plain data (texts, numbers)."""

    name: str
    work: Callable[..., Any]
    given: tuple[Any, ...]

    @property
    def key(self) -> str:
        """A digest of the function, its arguments and the program's version."""
        told = json.dumps([f"{self.work.__module__}.{self.work.__qualname__}", self.given, version()])
        return hashlib.blake2b(told.encode(), digest_size=16).hexdigest()


@dataclass(frozen=True, slots=True)
class Delivered:
    """What came of pieces, in their order, None where a piece failed; ``failed`` are (name, why).

    ``kept`` were in the journal already; ``sent`` and ``back`` are bytes of arguments and results of the others.
    """

    results: tuple[Any, ...]
    failed: tuple[tuple[str, str], ...]
    kept: int
    sent: int
    back: int


class _OtherVersion(SimcaddieError):
    """A worker that runs another version of the program."""


def packed(array: NDArray[Any]) -> str:
    """Return an array as text."""
    content = io.BytesIO()
    np.save(content, array, allow_pickle=False)
    return base64.b85encode(zlib.compress(content.getvalue(), 6)).decode()


def unpacked(text: str) -> NDArray[Any]:
    """Return the array of a text that ``packed`` made."""
    array: NDArray[Any] = np.load(io.BytesIO(zlib.decompress(base64.b85decode(text))), allow_pickle=False)
    return array


def _do(work: Callable[..., Any], given: tuple[Any, ...], made_by: str, fresh: bool) -> str:
    """Run a piece where it was sent, ``fresh`` whatever is kept there; return its result as JSON."""
    if made_by != version():
        raise _OtherVersion("--executor: a worker runs another version of simcaddie; install the same everywhere")
    if fresh != ignoring_kept():
        ignore_kept(ignored=fresh)
    with alone():
        return json.dumps(work(*given))


# ─── The journal ────────────────────────────────────────────────────────────────────────────────────────────────────


def _seal(key: str, result: str) -> str:
    return hashlib.blake2b(f"{key} {result}".encode(), digest_size=8).hexdigest()


def _lines(content: bytes) -> Iterator[tuple[str, str]]:
    """Yield (key, result) of every whole line; torn or spoilt ones are passed over, and their pieces run again."""
    for line in content.split(b"\n"):
        key, _, rest = line.decode("utf-8", "replace").partition(" ")
        seal, _, result = rest.partition(" ")
        if seal and seal == _seal(key, result):
            yield key, result


def lost(path: Path, error: OSError) -> BadRequest:
    """Return what to say where a journal can't be kept."""
    return BadRequest(f"can't keep finished pieces in {shown(str(path), 200)}: {reason(error)}")


@contextlib.contextmanager
def _journal(folder: Path | None) -> Iterator[tuple[dict[str, str], BinaryIO | None]]:
    """Yield what is finished by key, and the file to add to."""
    if folder is None:
        yield {}, None
        return
    path = folder / JOURNAL
    try:
        folder.mkdir(parents=True, exist_ok=True)
        content = path.read_bytes() if path.exists() else b""
        file = path.open("ab")
    except OSError as error:
        raise lost(path, error) from None
    with file:
        if content and not content.endswith(b"\n"):
            file.write(b"\n")
        yield dict(_lines(content)), file


def _keep(file: BinaryIO | None, key: str, result: str) -> None:
    """Add a piece to the journal; it is on the disk when this returns."""
    if file is None:
        return
    try:
        file.write(f"{key} {_seal(key, result)} {result}\n".encode())
        file.flush()
        os.fsync(file.fileno())
    except OSError as error:
        raise lost(Path(file.name), error) from None


# ─── Running ────────────────────────────────────────────────────────────────────────────────────────────────────────


class _Run:
    """Pieces on their way: ``waiting`` and ``doubted`` (those that a worker died with) by number."""

    def __init__(self, pieces: Sequence[Piece], place: Place, finish: Callable[[int, str], None]) -> None:
        self.pieces, self.place, self.finish = pieces, place, finish
        self.tries, self.failed = [0] * len(pieces), dict[int, str]()
        self.waiting, self.doubted = deque[int](), deque[int]()
        self.out: dict[Future[str], int] = {}

    def _submit(self, piece: Piece) -> Future[str]:
        return self.place.executor.submit(_do, piece.work, piece.given, version(), ignoring_kept())

    def submit(self, number: int) -> None:
        """Send a piece out; a place that is broken already counts as a worker's death with it."""
        piece = self.pieces[number]
        try:
            self.out[self._submit(piece)] = number
        except BrokenExecutor:
            self.waiting.appendleft(number)
            self.died()

    def again(self, number: int, why: str, queue: deque[int]) -> None:
        """Try a piece once more, or give it up."""
        self.tries[number] += 1
        if self.tries[number] >= TRIES:
            self.failed[number] = why
        else:
            queue.append(number)

    def died(self) -> None:
        """Take another place, with everything that was on its way in doubt."""
        for future, number in self.out.items():
            if future.done() and not future.cancelled() and future.exception() is None:
                self.finish(number, future.result())
            else:
                self.again(number, "its worker died", self.doubted)
        self.out.clear()
        self.place.renew()

    def take(self, future: Future[str]) -> None:
        """Take in one that came back."""
        number = self.out.get(future)
        if number is None:  # its place has been replaced
            return
        try:
            result = future.result()
        except (BrokenExecutor, CancelledError):
            self.died()
        except _OtherVersion:
            raise
        except Exception as error:  # noqa: BLE001 (whatever a piece may raise is told)
            del self.out[future]
            dead = type(error).__name__ == "KilledWorker"
            why = "its worker died" if dead else f"{type(error).__name__}: {shown(str(error), 200)}"
            self.again(number, why, self.doubted if dead else self.waiting)
        else:
            del self.out[future]
            self.finish(number, result)

    def all(self) -> None:
        """Run everything; those in doubt alone, at the end."""
        while self.waiting or self.doubted or self.out:
            while self.waiting and len(self.out) < 2 * self.place.workers:
                self.submit(self.waiting.popleft())
            if self.doubted and not self.out:
                self.submit(self.doubted.popleft())
            for future in wait(self.out, return_when=FIRST_COMPLETED).done if self.out else ():
                self.take(future)


def run_pieces(
    pieces: Sequence[Piece], place: Place, *, folder: Path | None = None, done: Callable[[], None] | None = None
) -> Delivered:
    """Run pieces and return what came of them; ``folder`` keeps the journal, ``done`` is called after each.

    Raises
    ------
    BadRequest
        Where the journal can't be read or written.
    """
    results: list[Any] = [None] * len(pieces)
    keys, back = [piece.key for piece in pieces], 0
    with _journal(folder) as (kept, file):

        def finish(number: int, result: str, *, known: bool = False) -> None:
            nonlocal back
            results[number] = json.loads(result)
            if not known:
                back += len(result)
                _keep(file, keys[number], result)
            if done is not None:
                done()

        run = _Run(pieces, place, finish)
        for number, key in enumerate(keys):
            if key in kept and not ignoring_kept():
                finish(number, kept[key], known=True)
            else:
                run.waiting.append(number)
        new = list(run.waiting)
        try:
            run.all()
        except BaseException:
            for future in run.out:
                future.cancel()
            raise
    failed = tuple((pieces[number].name, run.failed[number]) for number in sorted(run.failed))
    sent = sum(len(json.dumps(pieces[number].given)) for number in new)
    return Delivered(tuple(results), failed, len(pieces) - len(new), sent, back)
