"""Pages of a group and of a field: texts stand free, rows and pages are all there, with long names and failures too."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from small_groups import player, three

from simcaddie.charts.labels import clipped, overlaps, shown_texts
from simcaddie.charts.pages import write_pages
from simcaddie.course.course import Course
from simcaddie.features.field.analysis import (
    Allocation,
    Difference,
    Estimate,
    Field,
    FieldHole,
    FieldRequest,
    Group,
    Plan,
)
from simcaddie.features.field.figure import field_pages
from simcaddie.features.field.golfers import Golfers
from simcaddie.features.field.present import field_csv, field_data, present
from simcaddie.features.squad.analysis import Differs, Member, Squad, SquadHole, SquadRequest
from simcaddie.features.squad.figure import overview_pages
from simcaddie.io.members import FieldMember
from simcaddie.scoring.allocation import asked_of, places, proposed_indexes
from simcaddie.scoring.pmf import Pmf


def course(holes: int) -> Course:
    made = tuple(replace(three()[number % 3], name=f"The Old Kettle Works {number}", stroke_index=number + 1)
                 for number in range(holes))  # fmt: skip
    return Course("The Old Kettle Works and District Golf Course", made, tuple(f"{n}.yaml" for n in range(holes)))


def squad(players: int, holes: int) -> Squad:
    found = []
    for number in range(players):
        one = player(f"A pupil with rather a long name, number {number}", (150.0, 100.0, 60.0))
        law = Pmf(4 * holes + number % 7, np.full(12, 1 / 12))
        clubs = [SquadHole(("driver", "half sand wedge")[n % 2], "driver", 0.0, 4, Pmf(4, np.ones(1)), 0.01)
                 for n in range(holes)]  # fmt: skip
        failed = number == 1
        found.append(
            Member(
                one,
                "white",
                0.8,
                20,
                (None, *clubs[1:]) if failed else tuple(clubs),
                None if failed else law,
                0.1,
                None,
            )
        )
    differs = Differs(1, "white", "driver", players - 1, ((found[0].player.name, "half sand wedge"),))
    return Squad(course(holes), SquadRequest(), tuple(found), (differs,))


@pytest.mark.parametrize(("players", "holes", "pages"), [(30, 3, 2), (2, 18, 1)])
def test_a_group_has_a_row_a_player(players, holes, pages, tmp_path):
    made = list(overview_pages(squad(players, holes)))
    assert len(made) == pages
    assert write_pages(iter(made), tmp_path / "a.png") == pages
    words = []
    for page in made:
        assert overlaps(page) == []
        assert clipped(page) == []
        words += [text.get_text() for text, _ in shown_texts(page)]
    assert words.count("½SW") == players * (holes // 2)
    assert sum(word.startswith("A pupil") for word in words) == players
    assert words.count("–") == 1
    assert "Rule 4.3" in " ".join(words)


def field(holes: int, *, indexed: bool = True) -> Field:
    values = [2.0 - 0.1 * ((7 * hole) % holes) for hole in range(holes)]
    indexes = tuple(range(1, holes + 1))
    made = [Estimate(value, 0.01, 0.03) for value in values]
    groups = tuple(Group(title, (0,)) for title in ("under 10", "10 to 20", "20 to 30", "30 and over", "all"))
    scores = tuple(
        FieldHole(tuple(Estimate(4.0 + value / (5 - g), 0.01) for g in range(5)), (made[0],) * 5) for value in values
    )
    proposed = proposed_indexes(values)
    allocation = Allocation(
        tuple(made), places(values), tuple((max(1, r - 2), r) for r in places(values)), indexes if indexed else None,
        proposed, asked_of(proposed, values), asked_of(indexes, values) if indexed else (),
    )  # fmt: skip
    pairs = tuple((Estimate(value / 9 - 0.15, 0.01, 0.04), Estimate(-0.01, 0.01, 0.02)) for value in values)
    changed = Difference("pin back instead of middle", pairs[:1] * 5, pairs)
    day = {"wind": 0.0}
    plan = Plan(("white",), Golfers(((9.0, 200.0),), (((0, 1.0),),)), (("white", None),), ((0,),))
    made_course = course(holes)
    if not indexed:
        made_course = replace(made_course, holes=tuple(replace(hole, stroke_index=None) for hole in made_course.holes))
    members = (FieldMember("1", 9.0, 200.0),)
    return Field(made_course, FieldRequest(day), members, plan, groups, scores, allocation, (changed,), ())


@pytest.mark.parametrize(("holes", "indexed"), [(2, False), (18, True)])
def test_a_field_has_a_row_a_hole_and_a_page_a_difference(holes, indexed):
    answer = field(holes, indexed=indexed)
    made = list(field_pages(answer))
    assert len(made) == 2
    for page in made:
        assert overlaps(page) == []
        assert clipped(page) == []
        words = [text.get_text() for text, _ in shown_texts(page)]
        assert sum("The Old Kettle Works" in word for word in words) == holes + 1
    assert len(field_csv(answer).splitlines()) == holes + 1
    assert len(field_data(answer)["holes"]) == holes
    told = " ".join(str(block) for block in present(answer))
    assert ("no stroke index" in told) != indexed
    assert ("The Rules of Handicapping" in told) == (holes == 18)
