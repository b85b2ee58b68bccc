"""The benchmark's own ways: what fails is told, solved holes are forgotten, a work tree is never left behind."""

from __future__ import annotations

import shutil
import subprocess

import pytest
import run


@pytest.fixture
def side(tmp_path):
    return run.Side("here", run.ROOT, tmp_path / "cache")


def test_a_process_tells_its_seconds_or_its_last_word(side, tmp_path):
    well = run.spend(["-c", "sum(range(3_000_000))"], side, tmp_path)
    assert not well.fault
    assert 0.0 < well.processor < 60.0
    assert well.wall > 0.0
    bad = run.spend(["-c", "import sys; sys.exit('\\n╭──╮\\n│ No such option │\\n╰──╯\\n')"], side, tmp_path)
    assert bad.fault == "No such option"
    assert run.spend(["-c", "raise SystemExit(3)"], side, tmp_path).fault == "no word of why"


def test_a_command_that_fails_on_one_side_is_told_and_not_fatal():
    here, there = run.Spent(2.0, 3.0), run.Spent(0.1, 0.1, "No such option")
    assert run.row_of("x", run.FIRST, [here, there]) == ["x", "first time", "2.00", "3.00", "fails", "–", "–", "–"]
    assert run.row_of("x", run.FIRST, [here, run.Spent(5.0, 6.0)])[-2:] == ["2.50", "2.00"]


def test_sides_take_turns_and_forget_between_first_times(side, monkeypatch, tmp_path):
    log = []
    monkeypatch.setattr(run.Side, "forget", lambda self: log.append(f"{self.name} forgets"))
    monkeypatch.setattr(run, "spend", lambda _, s, __: log.append(s.name) or run.Spent(1.0 + len(log), 2.0))
    there = side._replace(name="there")
    found = run.timed(["x"], run.AGAIN, (side, there), tmp_path, 2)
    assert log == ["here", "there", "there", "here", "here", "there"]
    assert [one.wall for one in found] == [5.0, 4.0]
    log.clear()
    run.timed(["x"], run.FIRST, (side,), tmp_path, 2)
    assert log == ["here", "here forgets", "here", "here forgets", "here"]


def test_solved_holes_are_forgotten_and_compiled_code_is_not(side):
    folders = [side.cache / "simcaddie" / "0f" / name for name in ("kept", "solved", "play_1")]
    for folder in folders:
        folder.mkdir(parents=True)
        (folder / "file").touch()
    side.forget()
    assert [folder.exists() for folder in folders] == [False, False, True]


def test_the_folder_of_solved_holes_is_known():
    from simcaddie.base.memo import shelf

    assert shelf().name in run.KEPT


@pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed")
def test_a_work_tree_goes_whatever_happens(monkeypatch, tmp_path):
    def git(*arguments):
        who = ("-c", "user.name=a", "-c", "user.email=a@example.org")
        return subprocess.run(["git", "-C", str(tmp_path), *who, *arguments], check=True, capture_output=True).stdout

    git("init", "--quiet")
    git("commit", "--allow-empty", "--quiet", "-m", "one")
    monkeypatch.setattr(run, "ROOT", tmp_path)
    folder = tmp_path / "beside"

    def stopped():
        with run.checked_out("HEAD", folder):
            assert (folder / ".git").exists()
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        stopped()
    assert not folder.exists()
    assert len(git("worktree", "list").splitlines()) == 1
    with pytest.raises(SystemExit, match="Needed a single revision"):
        run.checked_out("nosuch", folder).__enter__()
