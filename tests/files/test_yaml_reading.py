"""What plain YAML means here, and that nothing whatever gives anything but data or BadFile."""

from __future__ import annotations

import contextlib
from collections.abc import Callable

import pytest
import yaml
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from samples import HOLE, PLAYER

from simcaddie.base.errors import BadFile, Fault
from simcaddie.io.check import check_file
from simcaddie.io.hole import hole_of
from simcaddie.io.player import player_of
from simcaddie.io.yaml_reader import Document, parse


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("1", 1), ("-1", -1), ("007", 7), ("1.5", 1.5), ("-.5", -0.5), ("1.", 1.0), ("1e3", 1000.0), ("0", 0),
        ("123456789012345678", 123456789012345678.0), ("true", True), ("False", False), ("null", None),
        ("~", None),
        ("", None), ("yes", "yes"), ("no", "no"), ("on", "on"), ("off", "off"), ("12:30", "12:30"),
        ("2024-05-01", "2024-05-01"), ("1_000", "1_000"), ("0x10", "0x10"), ("+2.1", "+2.1"),
        (".nan", ".nan"),
        (".inf", ".inf"), ("-.inf", "-.inf"), ("1e999", "1e999"), ("nan", "nan"), ("'1'", "1"),
        ('"true"', "true"),
        ("''", ""), ("٣", "٣"), ("[1, a, [2]]", [1, "a", [2]]), ("{a: 1, 2: b}", {"a": 1, "2": "b"}),
        ("|\n  a\n  b\n", "a\nb\n"), ("9" * 400, "9" * 400),
    ],
)  # fmt: skip
def test_values(text, value):
    found = parse(f"key: {text}", "f").data["key"]
    assert found == value
    assert type(found) is type(value)


def test_lines_lead_to_every_piece():
    document = parse("a: 1\nb:\n  - x\n  - c: [1,\n      2]\n", "f")
    assert document.line(("a",)) == 1
    assert document.line(("b",)) == 2
    assert document.line(("b", 1)) == 4
    assert document.line(("b", 1, "c", 1)) == 5
    assert document.line(("b", 1, "c", 1, "deeper")) == 5
    assert document.line(()) == 1
    assert Document("f", None, {}).line(("x",)) == 0


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a: 1\nb: 2\na: 3", "f:3: expected each key once, found `a` again, first in line 1"),
        (
            "a:\n - {b: 1, 'b': [1, {c: 2}]}",
            "f:2: a > no. 1: expected each key once, found `b` again, first in line 2",
        ),
    ],
)
def test_doubled_keys_are_noted_and_the_first_counts(text, told):
    document = parse(text, "f")
    assert [str(fault) for fault in document.faults] == [told]
    assert document.data in ({"a": 1, "b": 2}, {"a": [{"b": 1}]})


@pytest.mark.parametrize(
    "text", ["a: &x 1", "a: *x", "&x a: 1", "a: !!python/object:os.system x", "? [a]\n: 1", ": 1"]
)
def test_more_than_the_plain_part_is_refused(text):
    with pytest.raises(BadFile):
        parse(text, "f")


plain = (
    st.none()
    | st.booleans()
    | st.integers(-(10**6), 10**6)
    | st.floats(allow_nan=False, allow_infinity=False)
)
words = st.text(st.characters(min_codepoint=32, max_codepoint=126, exclude_categories=["Nd"]), max_size=12)
data = st.recursive(
    plain | words,
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text("abcdefgh", min_size=1), inner, max_size=4)
    ),
    max_leaves=20,
)


@given(data)
def test_what_a_general_library_writes_is_read_back(value):
    # Reference: PyYAML's safe dump, its anchors for repeated pieces left out; text without digits, since
    # YAML 1.1, which it writes, takes "0E0" for text and 1.2 takes it for a number, as we do.
    assert _same(parse(_Plain.text({"key": value}), "f").data["key"], value)


class _Plain(yaml.SafeDumper):
    """The reference dumper without anchors."""

    def ignore_aliases(self, _data: object) -> bool:
        return True

    @classmethod
    def text(cls, value: object) -> str:
        return str(yaml.dump(value, Dumper=cls))


def _faults(read: Callable[[], object]) -> tuple[Fault, ...]:
    """Return the faults that reading gives, none where it gives a record."""
    try:
        read()
    except BadFile as error:
        return error.faults
    return ()


def _same(ours: object, theirs: object) -> bool:
    if isinstance(theirs, dict):
        return (
            isinstance(ours, dict)
            and ours.keys() == theirs.keys()
            and all(_same(ours[k], theirs[k]) for k in ours)
        )
    if isinstance(theirs, list):
        return isinstance(ours, list) and len(ours) == len(theirs) and all(map(_same, ours, theirs))
    return ours == theirs and type(ours) is type(theirs)


HOLE_WORDS = sorted(set(HOLE.replace(",", " , ").split(" ")))
PLAYER_WORDS = sorted(set(PLAYER.replace(",", " , ").split(" ")))
relaxed = settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@relaxed
@given(st.binary(max_size=200))
@example(b"\xef\xbb\xbf")
@example(b"a: \xc2\x85b")
def test_any_bytes(tmp_path, content):
    path = tmp_path / "f.yaml"
    path.write_bytes(content)
    with pytest.raises(BadFile):
        check_file(path)


@relaxed
@given(st.text(max_size=60))
@example("%YAML 9.9\n---\n a")
@example('a: "\\ud800"')
@example("--- >\n")
def test_any_text_gives_data_or_bad_file(text):
    with contextlib.suppress(BadFile):
        parse(text, "f")


@relaxed
@given(st.data())
def test_a_file_spoilt_at_random_gives_a_record_or_bad_file(data):
    text, words, read = data.draw(
        st.sampled_from([(HOLE, HOLE_WORDS, hole_of), (PLAYER, PLAYER_WORDS, player_of)])
    )
    for _ in range(data.draw(st.integers(1, 3))):
        start = data.draw(st.integers(0, len(text)))
        length = data.draw(st.integers(0, 30))
        insert = data.draw(
            st.sampled_from(words) | st.sampled_from(["[", "]", "{", "}", "-1", "1e9", "~", "[[]]", "{}"])
        )
        text = text[:start] + insert + text[start + length :]
    assert all(fault.expected and fault.line for fault in _faults(lambda: read(parse(text, "f"))))


@relaxed
@given(
    st.dictionaries(
        st.sampled_from(["name", "par", "tees", "pins", "areas", "spots", "bag", "lies", "touch"]), data
    )
)
def test_any_data_under_known_keys(values):
    for read in (hole_of, player_of):
        with pytest.raises(BadFile):
            read(Document("f", values, {}))


@relaxed
@given(
    st.lists(st.lists(st.floats(-2000, 2000) | st.integers(-5, 5), min_size=2, max_size=2), max_size=9),
    st.booleans(),
)
def test_any_outline(points, smooth):
    document = parse(HOLE, "f")
    document.data["areas"][1] |= {"outline": points, "smooth": smooth}
    assert all(fault.line in (7, 12, 19) for fault in _faults(lambda: hole_of(document)))
