"""The program as a process: readers that leave, closed streams, signals at any moment, homes that aren't there."""

from __future__ import annotations

import os
import signal
import subprocess
import time
from pathlib import Path

import pytest
from making import COMMAND, STRANGER, linux, names, node, root

pytestmark = pytest.mark.skipif(os.name != "posix", reason="needs signals and streams that can be closed")
DRAWN = ("gaps", "wren", "--figure", "gaps.svg", "--json", "gaps.json")


def begin(folder: Path, *words: str, **keys: object) -> subprocess.Popen:
    return subprocess.Popen([*COMMAND, *words], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, **keys)


def test_a_reader_that_leaves_still_gets_the_figure(tmp_path):
    with begin(tmp_path, *DRAWN) as running:
        running.stdout.close()
        assert running.stderr.read() == b"Drawn: gaps.svg\n"
    assert running.returncode == 0
    assert names(tmp_path) == ["gaps.json", "gaps.svg"]


def test_check_says_by_its_exit_code_what_nobody_reads(tmp_path):
    (tmp_path / "bad.yaml").write_text("par: 4\n")
    with begin(tmp_path, "check", "wren", "bad.yaml") as running:
        running.stdout.close()
        assert b"bad.yaml" in running.stderr.read()
    assert running.returncode == 2


@pytest.mark.parametrize(
    "streams",
    [pytest.param(each, marks=pytest.mark.slow) for each in ("2>&-", "1>&- 2>&-", "1>&-")]
    + ["0>&- 1>&- 2>&-", "2>full"],
)
@root
@linux
def test_closed_or_full_streams_beside_the_answer_change_nothing(tmp_path, streams):
    node(tmp_path / "full", 7)
    words = ["sh", "-c", f'exec "$@" {streams}', "sh", *COMMAND, *DRAWN]
    assert subprocess.run(words, cwd=tmp_path, capture_output=True, check=False).returncode == 0
    assert names(tmp_path) == ["full", "gaps.json", "gaps.svg"]
    assert (tmp_path / "gaps.svg").read_bytes().endswith(b"</svg>\n")


@root
@linux
def test_a_full_disk_behind_the_answer_still_leaves_the_figure(tmp_path):
    with node(tmp_path / "full", 7).open("wb") as full:
        done = subprocess.run([*COMMAND, *DRAWN], cwd=tmp_path, stdout=full, stderr=subprocess.PIPE, check=False)
    assert done.returncode == 2
    assert done.stderr == b"Drawn: gaps.svg\ncan't write the output: no space left on device\n"
    assert names(tmp_path) == ["full", "gaps.json", "gaps.svg"]


STOPS = (
    "import os, signal, sys; sys.argv[1:] = sys.argv[2:]; at = int(os.environ['AT']); seen = 0\n"
    "def watch(frame, event, arg):\n"
    "    global seen\n"
    "    seen += 1\n"
    "    if seen == at:\n"
    "        sys.setprofile(None); os.kill(os.getpid(), getattr(signal, os.environ['BY']))\n"
    "from simcaddie.__main__ import start\n"
    "sys.setprofile(watch)\n"
    "start()\n"
)


def stopped(folder: Path, at: int, by: str) -> subprocess.CompletedProcess:
    """Run a command that is stopped at its ``at``-th call, from its very first on."""
    import sys

    return subprocess.run(
        [sys.executable, "-c", STOPS, "simcaddie", *DRAWN], cwd=folder, env={**os.environ, "AT": str(at), "BY": by},
        capture_output=True, text=True, check=False,
    )  # fmt: skip


def whole(folder: Path, old: str) -> None:
    """Assert that what is there is old or new, never half of one."""
    for path in folder.iterdir():
        text = path.read_text("utf-8")
        assert path.name in ("gaps.json", "gaps.svg")
        assert text == old or text.rstrip().endswith(("}", "</svg>"))


MOMENTS = [500, 150_001, *(pytest.param(round(300 * 1.55**step), marks=pytest.mark.slow) for step in range(18))]


@pytest.mark.parametrize("at", MOMENTS)
def test_stopped_at_any_moment_it_says_so_and_leaves_no_draft(tmp_path, at):
    for name in ("gaps.json", "gaps.svg"):
        (tmp_path / name).write_text("old")
    done = stopped(tmp_path, at, "SIGTERM" if at % 2 else "SIGINT")
    if done.returncode != 0:  # else it was done before
        assert done.returncode == 128 + (signal.SIGTERM if at % 2 else signal.SIGINT)
        assert done.stderr.splitlines()[-1] == "stopped"
        assert "Traceback" not in done.stderr
    whole(tmp_path, "old")


@pytest.mark.slow
@pytest.mark.parametrize("share", [step / 20 for step in range(20)])
def test_killed_at_twenty_moments_it_leaves_old_or_new_files(tmp_path, share):
    for name in ("gaps.json", "gaps.svg"):
        (tmp_path / name).write_text("old")
    started = time.perf_counter()
    begin(tmp_path, *DRAWN).communicate()
    took = time.perf_counter() - started
    for name in ("gaps.json", "gaps.svg"):
        (tmp_path / name).write_text("old")
    running = begin(tmp_path, *DRAWN)
    time.sleep(share * took)
    running.kill()
    running.communicate()
    for path in tmp_path.glob(".simcaddie-*.part"):  # nobody can clean up after that
        path.unlink()
    whole(tmp_path, "old")


def test_a_second_signal_leaves_at_once_and_removes_the_draft(tmp_path, monkeypatch):
    """The first finds a library that swallows it; a draft lies there."""
    code = (
        "import os, signal\n"
        "from pathlib import Path\n"
        "from simcaddie import __main__ as program\n"
        "from simcaddie.base import writing\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"  # a shell's background job starts with it ignored
        "def main():\n"
        "    drafts = writing._Drafts(0o666, sync=True)\n"
        "    drafts.write(Path('out').absolute(), b'half')\n"
        "    for _ in range(2):\n"
        "        try:\n"
        "            os.kill(os.getpid(), signal.SIGINT)\n"
        "        except BaseException:\n"
        "            pass\n"
        "program.main = main\n"
        "program.start()\n"
    )
    done = subprocess.run([COMMAND[0], "-c", code], cwd=tmp_path, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (130, "stopped\n")
    assert names(tmp_path) == []


@pytest.mark.slow
def test_a_signal_that_its_caller_ignores_stays_ignored(tmp_path):
    running = begin(tmp_path, *DRAWN, preexec_fn=lambda: signal.signal(signal.SIGHUP, signal.SIG_IGN))
    time.sleep(0.3)
    running.send_signal(signal.SIGHUP)
    running.communicate()
    assert running.returncode == 0


ODD = {
    "SIMCADDIE_THREADS": "²", "NUMBA_NUM_THREADS": "0", "OMP_NUM_THREADS": "many", "MPLBACKEND": "nonsense",
    "MPLCONFIGDIR": "/proc/none", "COLUMNS": "wide", "TERM": "nonsense", "LANG": "xx_YY", "TMPDIR": "/nonexistent",
}  # fmt: skip


def test_odd_surroundings_do_not_matter(tmp_path):
    code = "import numba, sys; from simcaddie.base.parallel import threads; sys.stderr.write(f'{threads() > 0}\\n')"
    code = f"from simcaddie import __main__ as p; p.main, main = (lambda: (exec({code!r}), main())), p.main; p.start()"
    done = subprocess.run(
        [COMMAND[0], "-c", code, *DRAWN], cwd=tmp_path, env={**os.environ, **ODD}, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "True\nDrawn: gaps.svg\n")


@pytest.mark.parametrize("asked", ["²", "٣", "-1", "0", "x", "9" * 5000, "1e3", ""])
def test_odd_numbers_of_threads(monkeypatch, asked):
    from simcaddie.base import parallel

    monkeypatch.setenv("SIMCADDIE_THREADS", asked)
    assert 1 <= parallel.threads() <= max(parallel.MOST_THREADS, os.cpu_count() or 1)


NOBODY = (
    "setpriv", f"--reuid={STRANGER}", f"--regid={STRANGER}", "--clear-groups", "--inh-caps=+dac_read_search",
    "--ambient-caps=+dac_read_search",
)  # fmt: skip


@root
@linux
def test_a_user_without_an_entry_and_a_home_gets_an_answer_and_one_line(seen_by_all):
    """The user may read all files, as the interpreter may lie in the administrator's home."""
    seen_by_all.chmod(0o777)
    if subprocess.run([*NOBODY, "true"], capture_output=True, check=False).returncode:
        pytest.skip("no way to become another user here")
    bare = {key: value for key, value in os.environ.items() if key not in ("HOME", "SIMCADDIE_CACHE")}
    code = (
        "from simcaddie import cli, __main__ as p; from simcaddie.base.compiled import cache_folder\n"
        "main = p.main; p.main = lambda: (cli._prepare(), print(cache_folder()), main()); p.start()"
    )
    words = [*NOBODY, COMMAND[0], "-c", code, *DRAWN]
    done = subprocess.run(words, cwd=seen_by_all, env=bare, capture_output=True, check=False)
    assert done.returncode == 0
    assert done.stdout.startswith(b"None\nWren")
    said = done.stderr.splitlines()
    assert len(said) == 2
    assert said[0].startswith(b"nothing is kept between commands")
    assert said[1] == b"Drawn: gaps.svg"
    assert names(seen_by_all) == ["gaps.json", "gaps.svg"]
