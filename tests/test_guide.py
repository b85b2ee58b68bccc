"""README.md and the guide hold together: links and pictures, files to start from, options, keys, cautions."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path

import pytest
from readme import GUIDE, PHONE, PICTURES, README, ROOT, blocks, drawn, pages, pictures

from simcaddie.io.course import read_course
from simcaddie.io.day import read_day
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player
from simcaddie.io.schema import schema_path

if not README.exists():
    pytest.skip("README.md stands in a checkout only", allow_module_level=True)

BLOCKS = blocks()
TEXTS = pages()
TEXT = TEXTS[README]
WHOLE = "\n".join(TEXTS.values())
FENCE = re.compile(r"^```.*?^```$", re.DOTALL | re.MULTILINE)
MOST_LINES = 200  # of the README


def section(title: str) -> str:
    """Return the part of README.md under a heading, lines joined."""
    return " ".join(TEXT.split(f"\n## {title}\n")[1].split("\n## ")[0].split())


def links(page: Path) -> list[str]:
    """Return where the links and pictures of a page lead, but for those to the web."""
    found = re.findall(r"\]\(([^)\s]+)\)", FENCE.sub("", TEXTS[page]))
    return [link for link in found if not re.match(r"\w+:", link)]


def anchors(text: str) -> set[str]:
    """Return the anchors of a page's headings, as they are made of Markdown: lower case, hyphens, no other marks."""
    heads = re.findall(r"^#+ (.+)$", FENCE.sub("", text), re.MULTILINE)
    return {re.sub(r"[^\w -]", "", head).strip().lower().replace(" ", "-") for head in heads}


# ─── pages ───────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_the_readme_is_short():
    assert len(TEXT.splitlines()) <= MOST_LINES


@pytest.mark.parametrize("page", TEXTS, ids=lambda page: page.name)
def test_links_and_pictures_lead_somewhere(page):
    for link in links(page):
        name, _, anchor = link.partition("#")
        target = (page.parent / name).resolve() if name else page
        assert target.is_file(), link
        assert not anchor or anchor in anchors(target.read_text("utf-8")), link


@pytest.mark.parametrize("page", [page for page in TEXTS if page != README], ids=lambda page: page.name)
def test_every_page_is_found_from_the_readme_and_leads_back(page):
    assert page.relative_to(ROOT).as_posix() in {link.partition("#")[0] for link in links(README)}
    assert README in {(page.parent / link.partition("#")[0]).resolve() for link in links(page)}


def test_the_pictures_shown_are_those_that_are_drawn():
    shown = [picture for page in TEXTS for picture in sorted(pictures(page))]
    assert sorted(shown) == sorted([PHONE, *(drawn(command) for command in PICTURES)])


def test_the_readme_shows_the_answer_and_the_page_on_a_phone():
    assert len(pictures(README)) == 2


# ─── commands ────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_the_test_command_stands_on_one_line_of_its_own():
    (command,) = re.findall(r"^<!-- test --> `(.*)`$", TEXT, re.MULTILINE)
    assert command.startswith("pip install")
    assert sum(command in line for line in TEXT.splitlines()) == 2


def test_the_first_command_ends_with_a_picture_and_what_it_prints_is_shown():
    (command,) = re.findall(r"^python3 -m venv .* \.venv/bin/(simcaddie .*)$", TEXT, re.MULTILINE)
    assert BLOCKS[command].splitlines()[-1] == "Drawn: compare.png"


def named() -> list[str]:
    """Return the commands that the pages name, in fences of sh and between backticks."""
    fences = "\n".join(re.findall(r"^```sh\n(.*?)^```$", WHOLE, re.DOTALL | re.MULTILINE))
    between = re.findall(r"`(simcaddie [a-z][^`\n]*)`", FENCE.sub("", WHOLE))
    return sorted({*re.findall(r"simcaddie [a-z].*$", fences, re.MULTILINE), *between})


@pytest.mark.parametrize("command", named())
def test_named_commands_have_the_options_that_they_are_given(command):
    _, name, *words = shlex.split(command)
    known = set(re.findall(r"(?<![\w-])--?[a-z][a-z-]*", BLOCKS[f"simcaddie {name} --help"]))
    assert {word for word in words if re.match(r"--?[a-z]", word)} <= known
    for word in words:
        assert not word.startswith(("examples/", "holes/", "players/")) or (ROOT / word).is_file()


def test_options_named_in_a_sentence_are_there():
    known = set(re.findall(r"--[a-z][a-z-]*", "".join(BLOCKS[c] for c in BLOCKS if c.endswith("--help"))))
    told = set(re.findall(r"`(--[a-z][a-z-]*)", FENCE.sub("", WHOLE)))
    assert len(told) > 20
    assert told <= known


# ─── files ───────────────────────────────────────────────────────────────────────────────────────────────────────────


def example(kind: str) -> str:
    """Return the file to start from that the guide shows of a kind."""
    (text,) = re.findall(rf"<!-- {kind} -->\n```yaml\n(.*?)```\n", WHOLE, re.DOTALL)
    return text


@pytest.mark.parametrize(("kind", "read"), [("hole", read_hole), ("player", read_player)])
def test_the_files_to_start_from_are_right(tmp_path, kind, read):
    path = tmp_path / "mine.yaml"
    path.write_text(example(kind), "utf-8")
    assert f"name: {read(path).name} " in example(kind)


def test_the_day_to_start_from_is_right(tmp_path):
    path = tmp_path / "mine.yaml"
    path.write_text(example("day"), "utf-8")
    name, day = read_day(path)
    assert f"name: {name} " in example("day")
    assert (day.temperature, day.altitude, day.greens) == (5.0, 120.0, 7.5)


def test_the_course_to_start_from_is_right(tmp_path):
    text = example("course")
    for name in re.findall(r"^  - (\S+)$", text, re.MULTILINE):
        (tmp_path / name).write_text(example("hole"), "utf-8")
    (tmp_path / "course.yaml").write_text(text, "utf-8")
    course = read_course(tmp_path / "course.yaml")
    assert f"name: {course.name} " in text
    assert len(course.holes) == 9
    assert course.tees["white"].par == sum(hole.par for hole in course.holes)


def test_the_script_to_start_from_runs(capsys):
    (text,) = re.findall(r"<!-- python -->\n```python\n(.*?)```\n", WHOLE, re.DOTALL)
    exec(compile(text, "file-formats.md", "exec"), {})
    told = capsys.readouterr().out
    assert told.startswith("Millpond, par 3")
    assert re.fullmatch(r"7 (wood|iron) \d\.\d+ best", told.splitlines()[-2])


def keys(schema: object) -> set[str]:
    """Return all keys that a JSON Schema knows, at any depth."""
    if isinstance(schema, list):
        return set().union(*(keys(part) for part in schema))
    if not isinstance(schema, dict):
        return set()
    own = set(schema.get("properties", {}))
    return own.union(*(keys(part) for part in schema.values()))


@pytest.mark.parametrize(
    ("kind", "names"),
    [
        ("hole", ["writing-a-hole.md"]),
        ("player", ["writing-a-player.md"]),
        ("course", ["courses-and-sheets.md", "the-day.md"]),
        ("day", ["the-day.md"]),
    ],
)
def test_every_key_of_a_file_is_told(kind, names):
    text = "\n".join(TEXTS[GUIDE / name] for name in names)
    told = re.findall(r"^```yaml$.*?^```$|`[^`\n]+`", text, re.DOTALL | re.MULTILINE)
    known = keys(json.loads(schema_path(kind).read_text("utf-8"))) - {"format"}
    assert len(known) > 5
    assert known <= set(re.findall(r"\w+", " ".join(told)))


def test_every_answer_as_data_is_told():
    sources = "".join(path.read_text("utf-8") for path in (ROOT / "simcaddie").rglob("*.py"))
    made = set(re.findall(r'"schema": "([a-z-]+/\d+)"', sources))
    rows = re.findall(r"^\| (`[a-z-]+/\d+`.*) \| .* \| (.*) \|$", TEXTS[GUIDE / "file-formats.md"], re.MULTILINE)
    assert len(made) > 10
    assert {name for names, _ in rows for name in re.findall(r"`(.+?)`", names)} == made
    assert {key for _, holds in rows for key in re.findall(r"`(\w+)`", holds)} <= set(re.findall(r"\w+", sources))


# ─── what a coach must know ──────────────────────────────────────────────────────────────────────────────────────────


def test_figures_of_trust_are_those_of_the_validation():
    problem = TEXTS[GUIDE / "assumptions-and-validation.md"].split("## Do simulated golfers")[1].split("\n## ")[0]
    number = r"\d+\.\d+|\d+(?= (?:%|ft))"
    told = re.findall(number, section("How far to trust it"))
    assert len(told) > 10
    assert set(told) <= set(re.findall(number, problem))


@pytest.mark.parametrize(
    "words",
    [
        "Rule 4.3", "Playing lessons outside a round", "longest likely shot", "shout", "Lightning", "Committee",
        "Local Rules", "qualified coaches",
    ],
)  # fmt: skip
def test_cautions_are_there(words):
    assert words in section("Cautions")
