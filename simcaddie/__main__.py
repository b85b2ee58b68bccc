"""``simcaddie`` and ``python -m simcaddie``."""

from __future__ import annotations

import os
import signal
import sys
from contextlib import suppress
from typing import Any, NoReturn

_STOPPING = ("SIGINT", "SIGTERM", "SIGHUP")


def main() -> None:
    """Run the command line."""
    from simcaddie.cli import run

    run()


def start() -> None:
    """Run the command line as a process of its own.

    It leaves at once: taking compiled code down in good order takes a third of a second.
    """
    code: object = 0
    try:
        _let_stop()
        _open_streams()
        os.environ.pop("NUMBA_NUM_THREADS", None)  # the compiler fails over odd ones; our threads are our own
        os.environ["MPLBACKEND"] = "agg"
        main()
    except _Stopped as stopped:
        code = stopped.code
        _say("stopped")
    except SystemExit as left:
        code = left.code
    except KeyboardInterrupt:
        code = 130
        _say("stopped")
    _leave(code if isinstance(code, int) else 0)


def _leave(code: int) -> NoReturn:
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError, AttributeError):
            stream.flush()
    os._exit(code)


def _say(text: str) -> None:
    with suppress(OSError, ValueError, AttributeError):
        sys.stderr.write(f"{text}\n")


def _open_streams() -> None:
    """Put the null device where a standard stream is closed, so that no file of ours takes its number."""
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # takes the lowest number that is free
            setattr(sys, name, os.fdopen(number, "w" if number else "r", encoding="utf-8", closefd=False))


def _let_stop() -> None:
    """Let Ctrl-C and the like stop the program at any moment: all that is half done is undone, and it says so.

    The first unwinds as an exit does; a second, or one that a library swallowed, leaves at once, drafts removed.
    """

    def leave(number: int) -> NoReturn:
        writing: Any = sys.modules.get("simcaddie.base.writing")
        if writing is not None:
            writing.remove_drafts()
        _say("stopped")
        _leave(128 + number)

    def stop(number: int, _frame: object) -> NoReturn:
        signal.signal(number, lambda again, _: leave(again))
        raise _Stopped(number)

    def unraised(lost: Any) -> None:
        if isinstance(lost.exc_value, _Stopped):
            leave(lost.exc_value.number)
        sys.__unraisablehook__(lost)

    sys.unraisablehook = unraised
    for name in _STOPPING:
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) in (signal.SIG_DFL, signal.default_int_handler):
            signal.signal(number, stop)


class _Stopped(SystemExit):
    """A signal that asks the program to stop, on its way up."""

    def __init__(self, number: int) -> None:
        super().__init__(128 + number)
        self.number = number


if __name__ == "__main__":
    start()
