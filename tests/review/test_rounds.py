"""Rounds looked back on: the ledger from words, what repeats, what is said; and files with faults."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from helpers import busy_hole, club_golfer, lane
from rounds_played import remembered

from simcaddie.base.errors import BadFile
from simcaddie.charts.labels import clipped, overlaps
from simcaddie.console.terminal import plain
from simcaddie.course.course import Course
from simcaddie.decision.ledger import total
from simcaddie.decision.options import Option
from simcaddie.decision.walk import Walk, walk_round
from simcaddie.features.review.analysis import Review, review, shrunk
from simcaddie.features.review.figure import review_pages
from simcaddie.features.review.present import present, review_data
from simcaddie.fitting.rounds import RoundRow
from simcaddie.io.round import read_round

COURSE = Course("Two (invented)", (busy_hole(), lane()), ("1.yaml", "2.yaml"))


@cache
def walk() -> Walk:
    return Walk(COURSE, club_golfer())


def rows(*lines: str) -> list[RoundRow]:
    """Return the strokes of hole 1 as "club; aim; finish; drop"."""
    cells = [[cell.strip() for cell in f"{line};;;".split(";")] for line in lines]
    return [RoundRow(n, 1, c[0], c[1], c[2], c[3]) for n, c in enumerate(cells, start=2)]


GOOD = ("driver;; fairway 170", "5 wood; pin; right rough 30", "touch;; green 12 ft", "putter;; 2 putts")


@cache
def rounds(count: int, reckless: bool = False) -> Review:
    """Return rounds of the player himself, or of one who aims every tee shot far to the right."""
    rng = np.random.default_rng([count, reckless])

    def choose(place, number):
        return (Option(0, 14.0), "14° right") if reckless and number == 0 else None

    played = []
    for n in range(count):
        strokes = [row for hole in (1, 2) for row in remembered(walk().reckoner(hole), hole, rng, choose=choose)]
        played.append((f"round-{n}.csv", strokes))
    return review(walk(), played)


def test_a_round_adds_up_and_says_what_its_strokes_were_worth():
    (ledger,) = walk_round(walk(), "r.csv", rows(*GOOD)).ledgers
    assert ledger.score == 5
    assert sum(ledger.parts) == pytest.approx(ledger.score - ledger.expected, abs=1e-12)
    before, after = zip(*((entry.best, entry.came - entry.added) for entry in ledger.entries), strict=True)
    assert before[1:] == pytest.approx(after[:-1], abs=1e-12)


def test_the_plan_costs_nothing_and_another_choice_what_it_is_looked_ahead_to_cost():
    plan = walk().reckoner(1).best(walk().reckoner(1).start)[0]
    title = club_golfer().swings[plan.swing].title
    (ledger,) = walk_round(walk(), "r.csv", rows(f"{title};; fairway 180", *GOOD[1:])).ledgers
    assert ledger.entries[0].choice == 0.0
    (other,) = walk_round(walk(), "r.csv", rows("sand wedge;; rough 290", "driver;; fairway 120", *GOOD[1:])).ledgers
    first = other.entries[0]
    assert first.choice == pytest.approx(walk().reckoner(1).chosen(first.place, first.option) - first.best)
    assert first.choice > 0.3


def test_rounds_of_the_player_himself_cost_no_choice_and_nothing_on_average():
    """Told in words, to five yards: execution and luck keep the mean 0, but for what words are too wide."""
    parts = np.array([ledger.parts for ledger in rounds(6).ledgers])
    apart = [sum(ledger.parts) - (ledger.score - ledger.expected) for ledger in rounds(6).ledgers]
    assert np.abs(apart).max() < 1e-12
    assert np.abs(parts[:, 0]).max() < 0.05  # the place is told to five yards, and the plan may be another there
    for column in (1, 2):
        assert abs(parts[:, column].mean()) < 3 * parts[:, column].std() / math.sqrt(len(parts)) + 0.03


@pytest.mark.slow
def test_many_rounds_in_words_cost_next_to_nothing_on_average():
    """Words are wider than what they were made of, so that luck comes out up to 0.04 strokes a hole too good."""
    parts = np.array([ledger.parts for ledger in rounds(300).ledgers])
    for column in (1, 2, 3):
        assert abs(parts[:, column].mean()) < 3 * parts[:, column].std() / math.sqrt(len(parts)) + 0.03


def test_a_reckless_line_comes_back_as_choice_and_stands_first_among_the_dearest():
    answer = rounds(2, reckless=True)
    tee = [entry for ledger in answer.ledgers for entry in ledger.entries[:1]]
    assert min(entry.choice for entry in tee) > 0.05
    assert answer.dearest[0].entry in tee
    text = plain(present(answer))
    assert "more than the plan" in " ".join(text.split())
    for group, other in ((answer.kinds, answer.clubs),):
        sums = [sum(getattr(one, part) for one in group) for part in ("choice", "execution", "luck")]
        assert sums == pytest.approx(
            [sum(getattr(one, part) for one in other) for part in ("choice", "execution", "luck")]
        )
        choice, execution, luck, putts = total(answer.ledgers)
        assert sums == pytest.approx([choice, execution + putts, luck])


def test_three_bunkers_are_not_a_weakness_and_thirty_are():
    few, many = shrunk([0.5] * 3, [0.5] * 3, 1), shrunk([0.5] * 300, [0.5] * 300, 10)
    assert (few.repeats, many.repeats) == (False, True)
    assert abs(few.mean) < 0.2 * abs(few.counted)
    assert abs(many.mean) > 0.5 * abs(many.counted)
    assert few.low < 0.0 < few.high


def test_the_shrunken_interval_holds_the_truth_nine_times_in_ten():
    """Truths drawn from the prior, strokes from the truths: a normal mean with a normal prior."""
    rng, inside, sds = np.random.default_rng(8), 0, [0.6] * 40
    for _ in range(2000):
        truth = rng.normal(0.0, 0.05)
        told = shrunk(list(truth + 0.6 * rng.standard_normal(40)), sds, 1)
        inside += told.low <= 40 * truth <= told.high
    assert inside / 2000 == pytest.approx(0.9, abs=0.02)


def test_strokes_gained_on_oneself_are_what_the_parts_say_and_a_better_golfer_gains():
    strokes = [(card.name, rows(*GOOD)) for card in rounds(6).cards[:1]]
    own = review(walk(), strokes, walk())
    assert own.gained.total == pytest.approx(own.ledgers[0].expected - own.ledgers[0].score)
    better = replace(club_golfer(), name="Better (invented)").with_swings(
        lambda s: replace(s, carry_sd=0.5 * s.carry_sd, side_sd=0.5 * s.side_sd, fat=0.0, thin=0.01)
    )
    assert review(walk(), strokes, Walk(COURSE, better)).gained.total < own.gained.total - 0.2


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (("nine wood;; fairway 170",), "r.csv:2: club: expected"),
        (("driver; the moon; fairway 170",), "r.csv:2: aim: expected a target such as"),
        (("driver;; fareway 170",), "r.csv:2: finish: expected a place such as"),
        (("driver;; fairway 500",), "r.csv:2: finish: expected ground that Busy"),
        (GOOD[:2], "r.csv:3: finish: expected hole 1 to end"),
        ((*GOOD, "driver;; fairway 100"), "r.csv:6: hole: expected no stroke after the hole was over"),
        ((*GOOD[:3], "driver;; holed"), "r.csv:5: club: expected the putter on the green"),
    ],
)
def test_faults_are_told_with_their_line(lines, told):
    with pytest.raises(BadFile) as caught:
        walk_round(walk(), "r.csv", rows(*lines))
    assert str(caught.value).startswith(told)


def test_putts_one_by_one_or_beside_the_stroke_or_picked_up():
    one = [*GOOD[:3], "putter;; green 2 ft", "putter;; holed"]
    assert walk_round(walk(), "r.csv", rows(*one)).ledgers[0].putted.taken == 2
    beside = rows(*GOOD[:3])
    beside[2] = beside[2]._replace(putts=3)
    assert walk_round(walk(), "r.csv", beside).ledgers[0].strokes == 6
    (picked,) = walk_round(walk(), "r.csv", rows(*GOOD[:2], "-;; picked up")).ledgers
    assert picked.left > 1.0
    assert sum(picked.parts) == pytest.approx(picked.score - picked.expected, abs=1e-12)


def test_the_answer_fits_eighty_columns_and_its_data_add_up(monkeypatch):
    monkeypatch.setattr("simcaddie.console.terminal.PLAIN_WIDTH", 80)
    for answer in (rounds(2, reckless=True), review(walk(), [("r.csv", rows(*GOOD))], walk())):
        text = plain(present(answer, details=True))
        assert max(map(len, text.splitlines())) <= 80
        assert "…" not in text
        data = review_data(answer)
        assert data["schema"] == "review/1"
        holes = [hole for one in data["rounds"] for hole in one["holes"]]
        apart = sum(data["parts"].values()) - sum(hole["score"] - hole["expected"] for hole in holes)
        assert apart == pytest.approx(0.0, abs=1e-9)


def test_pages_have_no_texts_that_overlap_or_stick_out():
    pages = list(review_pages(review(walk(), [("r.csv", [*rows(*GOOD), *_second()])])))
    assert len(pages) == 3
    for page in pages:
        assert clipped(page) == []
        assert overlaps(page) == []


def _second() -> list[RoundRow]:
    return [row._replace(line=20 + n, hole=2) for n, row in enumerate(rows(
        "driver;; left heather 120", "7 iron; pin; green 20 ft", "putter;; 2 putts"
    ))]  # fmt: skip


# ─── Files ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_file_is_read_whatever_its_separator(tmp_path):
    path = tmp_path / "r.csv"
    for separator in (",", ";", "\t"):
        lines = ["# invented", "hole,club,aim,finish,putts", "1,driver,mill,fairway 150,", ",7 iron,,green 20 ft,2"]
        path.write_text("\n".join(lines).replace(",", separator), "utf-8")
        assert read_round(path, 2) == (
            RoundRow(3, 1, "driver", "mill", "fairway 150"), RoundRow(4, 1, "7 iron", "", "green 20 ft", "", 2),
        )  # fmt: skip


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "r.csv:1: expected a header line that names hole, club and finish, found an empty file"),
        ("hole,finish\n1,holed\n", "r.csv:1: club: expected a header line"),
        ("hole,club,finish\n", "r.csv: expected strokes below the header line, found none"),
        ("hole,club,finish\n9,driver,holed\n", "r.csv:2: hole: expected a hole from 1 to 2, found '9'"),
        (
            "hole,club,finish\n,driver,holed\n",
            "r.csv:2: hole: expected a hole from 1 to 2, or a row above that has one",
        ),
        ("hole,club,finish\n1,,holed\n", "r.csv:2: club: expected a club, found nothing"),
        ("hole,club,finish\n1,driver,\n", "r.csv:2: finish: expected where the ball finished, found nothing"),
        ("hole,club,finish,puts\n1,driver,holed,1\n", "did you mean `putts`?"),
        ("hole,club,finish,putts\n1,driver,holed,many\n", "r.csv:2: putts: expected a number of putts from 0 to 9"),
    ],
)
def test_files_with_faults_are_refused(tmp_path, monkeypatch, text, told):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "r.csv").write_text(text, "utf-8")
    with pytest.raises(BadFile) as caught:
        read_round("r.csv", 2)
    assert told in str(caught.value)
