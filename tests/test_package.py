"""The wheel, built and installed elsewhere, runs the demo: nothing depends on the checkout."""

from __future__ import annotations

import ast
import os
import re
import shutil
import subprocess
import sys
import tarfile
import tomllib
import zipfile
from functools import partial
from pathlib import Path

import pytest

PROJECT = Path(__file__).parent.parent
pytestmark = pytest.mark.skipif(
    not all((PROJECT / name).exists() for name in ("pyproject.toml", "holes", "players")),
    reason="a wheel is built from a checkout, and this is none",
)


def run(*words: str | Path, cwd: Path, **environment: str) -> str:
    done = subprocess.run(
        [sys.executable, *words],
        cwd=cwd, env={**os.environ, **environment}, capture_output=True, text=True, encoding="utf-8", check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


STRANGERS = (
    "simcaddie/mine.py", "simcaddie/odd [name]! #1.txt", "holes/mine.yaml", "players/mine.yaml", "tests/notes.txt",
)  # fmt: skip


@pytest.fixture(scope="module")
def built(tmp_path_factory) -> dict[str, Path]:
    """Return what is built, by ending, from a checkout with files in it that git doesn't know."""
    pytest.importorskip("build")
    pytest.importorskip("hatchling")
    tree, out = tmp_path_factory.mktemp("tree") / "simcaddie", tmp_path_factory.mktemp("wheel")
    targets = tomllib.loads((PROJECT / "pyproject.toml").read_text("utf-8"))["tool"]["hatch"]["build"]["targets"]
    tree.mkdir()
    folder = partial(shutil.copytree, ignore=shutil.ignore_patterns("__pycache__"))
    for part in (*targets["sdist"]["include"], "pyproject.toml"):
        (folder if (PROJECT / part).is_dir() else shutil.copy)(PROJECT / part, tree / part)
    if shutil.which("git"):
        for words in (("init", "--quiet"), ("add", "--all")):
            subprocess.run(["git", *words], cwd=tree, check=True, capture_output=True)
        for name in STRANGERS:
            (tree / name).write_text("# not known to git\n", "utf-8")
    run("-m", "build", "--wheel", "--sdist", "--no-isolation", "--outdir", out, tree, cwd=out)
    return {path.suffix: path for path in out.iterdir()}


@pytest.fixture(scope="module")
def wheel(built) -> Path:
    return built[".whl"]


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory) -> Path:
    target = tmp_path_factory.mktemp("elsewhere")
    quiet = ("--quiet", "--disable-pip-version-check")
    run("-m", "pip", "install", *quiet, "--no-deps", "--target", target, wheel, cwd=target)
    return target


def test_it_holds_the_program_its_demo_and_nothing_else(wheel):
    names = zipfile.ZipFile(wheel).namelist()
    assert {name.split("/")[0].split("-")[0] for name in names} == {"simcaddie"}
    for kind in ("holes", "players"):
        shipped = {name for name in names if name.startswith(f"simcaddie/demo/{kind}/")}
        ours = [path.relative_to(PROJECT).as_posix() for path in (PROJECT / kind).rglob("*.yaml")]
        assert shipped == {f"simcaddie/demo/{name}" for name in ours}
    assert {f"simcaddie/io/schemas/{kind}.json" for kind in ("course", "hole", "player")} <= set(names)
    assert not [name for name in names if "test" in Path(name).name or "__pycache__" in name]
    assert any(name.endswith("/LICENSE") for name in names)
    fonts = {name.split("/fonts/")[1] for name in names if "/fonts/" in name}
    assert fonts == {"FiraSans-Bold.ttf", "FiraSans-Italic.ttf", "FiraSans-Regular.ttf", "OFL.txt"}


@pytest.mark.skipif(shutil.which("git") is None, reason="needs git")
def test_wheel_and_sdist_hold_only_what_git_knows(wheel, built):
    with tarfile.open(built[".gz"]) as archive:
        source = {name.split("/", 1)[1] for name in archive.getnames()}
    assert {"hatch_build.py", "simcaddie/cli.py", "holes/millpond.yaml", "tests/test_package.py"} <= source
    assert not source & set(STRANGERS)
    assert not [name for name in zipfile.ZipFile(wheel).namelist() if "mine" in Path(name).stem or "odd" in name]


def test_every_package_that_is_imported_is_declared():
    """What happens to be installed here may be missing on a fresh machine."""
    declared = tomllib.loads((PROJECT / "pyproject.toml").read_text("utf-8"))["project"]["dependencies"]
    names = {re.match(r"[\w-]+", line)[0].lower().replace("pyyaml", "yaml") for line in declared}
    imported = set()
    for path in (PROJECT / "simcaddie").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Import):
                imported |= {alias.name.split(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and not node.level:
                imported.add(node.module.split(".")[0])
    ours = {"simcaddie", "mpl_toolkits", "pydantic_core"}  # the last two come with packages that are declared
    assert imported - names - ours <= set(sys.stdlib_module_names)


def test_the_installed_program_is_the_one_that_runs(installed, tmp_path):
    where = run("-c", "import simcaddie; print(simcaddie.__file__)", cwd=tmp_path, PYTHONPATH=str(installed))
    assert Path(where.strip()).parent == installed / "simcaddie"


def test_a_demo_hole_by_name_gives_its_yardages(installed, tmp_path):
    out = run("-m", "simcaddie", "yardages", "curlew-inlet", cwd=tmp_path, PYTHONPATH=str(installed))
    assert out.startswith("Curlew Inlet")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.slow  # compiles anew: numba keeps code by the path of its source
def test_demo_hole_and_player_by_name_give_the_ranked_table(installed, tmp_path):
    quick = ("--club", "driver", "--club", "5 wood", "--aim", "-10:-10:1", "--sequences", "400")
    out = run("-m", "simcaddie", "compare", "curlew-inlet", "wren", *quick, cwd=tmp_path, PYTHONPATH=str(installed))
    assert out.startswith("Curlew Inlet, par 4, from the white tee")
    assert "5 wood" in out
    assert "Play the " in out
    assert list(tmp_path.iterdir()) == []


def test_schemas_and_command_are_there(installed, tmp_path):
    code = "from simcaddie.io.schema import schema_path; print(schema_path('hole').stat().st_size)"
    assert int(run("-c", code, cwd=tmp_path, PYTHONPATH=str(installed))) > 1000
    assert (installed / "bin" / "simcaddie").exists() or (installed / "Scripts" / "simcaddie.exe").exists()
