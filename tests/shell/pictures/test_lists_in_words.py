"""Pictures of lists and comparisons: each wash once, by how well it does."""

from __future__ import annotations

import re

import pytest
from abluent.engine.questions.answers.account import acting
from abluent.shell.told.groups import verdicts_among
from abluent.shell.told.reasons import reasons_of
from abluent.shell.told.telling import told_of
from hard_pictures import (
    EVERY,
    SIDES,
    WHICH,
    card,
    texts,
    told,
)
from shown import LONG, answered, demo, session


@pytest.mark.parametrize("shape", ["16:9", "9:16", "1:1"])
def test_a_list_has_every_row(shape: str) -> None:
    """A question for at least a part lists what takes less under words of its own."""
    answer = demo(WHICH)
    shown = " ".join(texts(card(answer, WHICH, shape)))
    rows = [*answer.rows, *answer.others]
    assert len(rows) == 12
    named = [row.wash for row in rows if row.wash in shown]  # type: ignore[union-attr]
    counted = [int(each) for each in re.findall(r"and (\d+) more", shown)]
    assert len(named) + sum(counted) == 12
    # A picture that is broad has room for few words; a phone held upright for each.
    assert shape == "16:9" or not counted
    assert "at least" not in shown


def test_what_is_compared_stands_side_by_side_and_is_all_there() -> None:
    table = told(SIDES).table
    assert table is not None
    assert table.columns == ("Tideline Wash", "Shallows Wash")
    assert told(SIDES).claim.startswith("For silicones, Tideline Wash is a better bet")
    shown = " ".join(texts(card(demo(SIDES), SIDES, "9:16")))
    for film, cells in table.rows:
        assert film.split(",")[0].split(" ")[0] in shown
        assert all(cells)
    assert "more films" not in shown


def test_of_three_the_one_is_named_that_is_ahead_of_each() -> None:
    asked = 'compare "Tideline Wash", "Shallows Wash" and "Fog Bank Wash" for silicones'
    said = told(asked).claim
    assert said == "For silicones, Tideline Wash is the best bet of these three."
    assert "more film" not in " ".join(texts(card(demo(asked), asked, "9:16")))
    even = 'compare "Shallows Wash" and "Dune Grass Wash" for silicones'
    assert "bet" not in told(even).claim


def test_many_washes_on_films_of_one_kind_are_told_by_most_and_none_is_left_out() -> (
    None
):
    """What lays such a film down itself stands apart, what goes otherwise is told."""
    said = told(EVERY)
    assert sum(group.many for group in said.groups) == 12
    assert said.groups[0].word == "Well"
    (apart,) = (g for g in said.groups if g.word == "Takes off and puts on")
    assert "on hair itself" in apart.why
    assert any("less well than the rest" in each for each in said.reasons)
    assert "No wash is needed for" in said.reasons[-1]


def test_each_of_what_a_product_leaves_is_told_by_the_hardest() -> None:
    said = told('which washes clear everything from "Tarred Rope Pomade"')
    assert "Well" not in [group.word for group in said.groups]
    assert any(each.startswith("Hardest to take off:") for each in said.reasons)


def test_a_question_about_washes_is_answered_in_words() -> None:
    two = 'which washes clear "Dimethicone" or "Amodimethicone"'
    assert told(two).claim == (
        "Tideline Wash and Breakwater Wash take off Dimethicone or Amodimethicone, "
        "but only in part."
    )
    none = "None is known to take all of it off in one wash."
    assert told(two).reasons[0] == none
    assert none not in told(WHICH).reasons
    best = "Tideline Wash and Breakwater Wash take Dimethicone off well."
    assert told(WHICH).claim == best
    for question in (two, WHICH, EVERY):
        assert not told(question).claim.endswith("?"), question


def test_a_table_of_one_row_says_what_is_in_each() -> None:
    said = told('compare "Breakwater Wash" and "Dune Grass Wash" for waxes')
    assert said.table is not None
    heads = [film for film, _ in said.table.rows]
    assert heads == ["cleans with", heads[1], "leaves itself"]
    assert [g.names for g in said.else_groups] == [
        ("Breakwater Wash",),
        ("Dune Grass Wash",),
    ]


def test_no_reason_speaks_of_another_wash() -> None:
    """That no anionic cleanser is at work is said only of a wash in which none is."""
    base = session().world.base
    anionic = base.find_class("anionic surfactants")
    question = 'which washes clear "Amodimethicone"'
    told_of_none = 0
    for row in verdicts_among(demo(question).others):
        if any("no anionic" in each.text for each in reasons_of(row)):
            _, at_work = acting(row)
            kinds = [base.classes_of(each.symbol) for each in at_work]
            assert all(anionic not in each for each in kinds), row.wash
            told_of_none += 1
    assert told_of_none


def test_a_group_of_a_list_has_its_reason() -> None:
    groups = told('which washes clear "Dimethicone"').groups
    assert [group.word for group in groups if not group.why] == ["Hardly"]
    for group in groups:
        assert group.why or all(" (" in name for name in group.names), group
    whys = [group.why for group in groups if group.why]
    assert len({*whys}) == len(whys) == 3


def test_a_long_name_of_a_wash_is_no_sentence() -> None:
    question = "which washes clear Dimethicone"
    said = told_of(answered(question), question)
    assert LONG in [name for group in said.groups for name in group.names]
    assert not said.claim.endswith("?")


def test_which_washes_list_a_thing_is_answered_by_name() -> None:
    said = told("which washes contain sulfate surfactants")
    assert said.claim == (
        "3 of 12 washes contain a sulfate cleanser: Breakwater Wash, Gullwing Silk "
        "Wash and Ferryman Dandruff Wash."
    )
    assert any("is no sulfate cleanser: it is a" in each for each in said.reasons)
    assert said.sure == "Read off the labels, all names known."
    assert said.advice


def test_the_mildest_stand_first_and_numbered() -> None:
    said = told('which washes clear everything from "Tarred Rope Pomade" mildest first')
    assert said.claim == (
        "Lamp Room Clarifying Wash, then Plover Mild Wash: the mildest that take off "
        "part of everything that Tarred Rope Pomade leaves."
    )
    assert said.groups[0].names[0].startswith("1. ")
    assert "kind of cleanser" in said.note


def test_one_film_is_compared_by_what_helps_against_it() -> None:
    sides = 'compare "Tideline Wash" and "Shallows Wash" for "Hard-Water Minerals"'
    said = told(sides)
    assert len(set(said.reasons)) == len(said.reasons) > 1
    assert "if any" not in said.claim


def test_two_washes_in_all_are_told_by_what_each_leaves() -> None:
    said = told('compare "Tideline Wash" and "Gullwing Silk Wash"')
    assert said.claim.startswith("Gullwing Silk Wash leaves films on hair; Tideline")
    assert said.table is not None
    assert said.table.columns == ("Tideline Wash", "Gullwing Silk Wash")
    (cleans, kinds), (leaves, left) = said.table.rows
    assert (cleans, leaves) == ("cleans with", "leaves itself")
    assert all(cell and "sulfate" in cell.word for cell in kinds)
    assert left[0] is not None
    assert left[0].word == "nothing known"
    assert [g.word for g in said.else_groups] == [*said.table.columns]


def test_why_all_is_so_is_told_once() -> None:
    said = told('which washes clear "Cera Alba"')
    whys = [group.why for group in said.groups if group.why]
    wax = "Wax is still solid in a warm wash: one wash works on its surface only."
    assert (*whys, *said.reasons).count(wax) == 1


def test_a_list_of_some_washes_says_of_which() -> None:
    said = told("which washes without sulfate surfactants at least partly clear waxes")
    assert said.claim == (
        "Of washes without sulfate surfactants: Tideline Wash, Lamp Room Clarifying "
        "Wash and Plover Mild Wash take off waxes, but only in part."
    )


def test_washes_over_everything_are_a_grid_of_kinds() -> None:
    said = told("what do washes clear")
    assert said.table is not None
    assert said.bare
    assert "silicones" in said.table.columns
    assert not said.claim.endswith("?")
