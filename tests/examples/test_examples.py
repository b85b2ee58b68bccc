"""Every example runs, warnings being errors, and says what its docstring promises."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from pathlib import Path

import pytest

FOLDER = Path(__file__).parents[2] / "examples"
EXAMPLES = sorted(FOLDER.glob("*.py"))
SAYS = {
    "a_hole_in_code": ("6 iron", "balls in ten in the pond", "Play the "),
    "compare_tee_shots": ("Cotter's Elbow, par 4", "driver", "Play the "),
    "how_far_to_carry": ("millpond: 63 yd to reach, 118 yd to carry", "9 iron, average carry 107: carries millpond"),
    "range_or_course": ("brought to the course:", "range numbers as they are:"),
    "the_pitch": ("sand wedge", "half 9 iron", "saves"),
}


def load(path: Path):
    spec = importlib.util.spec_from_file_location(f"example_{path.stem}", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_every_example_is_tried_here():
    assert {path.stem for path in EXAMPLES} == set(SAYS)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_runs_and_says_what_it_promises(path, capsys, monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)  # demo files are found from anywhere
    load(path).main(sequences=400)
    told = capsys.readouterr().out
    for part in SAYS[path.stem]:
        assert part in told


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_is_short_and_explains_itself(path):
    assert len(path.read_text("utf-8").splitlines()) < 60
    assert len(load(path).__doc__.strip().splitlines()) > 2


def test_runs_as_a_script_of_its_own(tmp_path):
    done = subprocess.run(
        [sys.executable, "-W", "error", FOLDER / "a_hole_in_code.py"],
        cwd=tmp_path, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")


def test_the_pitch_favours_the_shot_that_runs(capsys):
    """Common practice, no source: with nothing in between, the part swing that runs beats the full wedge."""
    load(FOLDER / "the_pitch.py").main(sequences=8_000)
    assert capsys.readouterr().out.splitlines()[0].startswith("half 9 iron")
