"""Washes by how far each goes: every wash once, by its bounds and no further."""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.base.contract import PUTS_BACK, STRONGER_ON
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.because import telling_end
from abluent.engine.questions.answers.folding import film_key, wash_key
from abluent.engine.questions.answers.graded import (
    SURELY,
    Grade,
    Kind,
    families,
    foremost,
    graded,
    reasons,
)
from abluent.engine.questions.answers.graded_words import said_aloud
from abluent.engine.questions.answers.laid_out import laid_out
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.shell.pages.answer import answer_page
from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf, ShelfLabel
from shown import demo as asked
from shown import demo_session as session

QUESTIONS = (
    'which washes clear "Dimethicone"',
    "which washes clear amodimethicone",
    "which washes clear minerals",
    "which washes clear waxes",
    'which washes clear everything from "Harbour Cream" mildest first',
    'which washes clear "Amodimethicone" first 1 mildest first',
)


@cache
def grades(question: str) -> list[Grade]:
    return graded(verdicts(question))


def verdicts(question: str) -> list[Verdict]:
    shown = asked(question).shown
    assert shown
    return [row for row in shown if isinstance(row, Verdict)]


@pytest.mark.parametrize("question", QUESTIONS)
def test_every_wash_stands_in_one_group(question: str) -> None:
    """And what its group says of it is what its bounds say."""
    washes = [wash for each in grades(question) for wash in each.washes]
    assert len(washes) == len(set(washes))
    assert set(washes) == set(map(wash_key, verdicts(question)))
    for each in grades(question):
        for row in each.rows:
            if row.role is Role.NO_WASH_NEEDED:
                continue
            least, most = ENDS[row.role]
            if each.kind in SURELY:
                assert least is not Role.NONE_OF_IT
            if each.kind is Kind.ALL:
                assert least is Role.ALL_OF_IT
            if each.kind in {Kind.HARDLY, Kind.UNKNOWN}:
                assert least is Role.NONE_OF_IT
            if each.kind is Kind.NONE:
                assert most is Role.NONE_OF_IT


@pytest.mark.parametrize("question", QUESTIONS)
def test_every_wash_at_hand_is_told_of(question: str) -> None:
    """On the screen each stands once in the lists, or is left out by name."""
    page = answer_page(asked(question), 80)
    for name, product in session().world.products.items():
        if product.kind == "wash":
            assert name in " ".join(page.split()), name


@pytest.mark.parametrize("question", QUESTIONS)
def test_none_is_called_best_that_another_of_the_group_is_stronger_than(
    question: str,
) -> None:
    for each in grades(question):
        if each.kind is not Kind.BEST:
            continue
        case = each.rows[0].case
        symbols = {row.wash: row.goal[1][0] for row in verdicts(question)}
        best, weaker = foremost(verdicts(question))
        assert not best & weaker
        kinds = {kind for row in each.rows for kind in families(case, row)}
        for one in each.washes:
            for other in weaker:
                pair = symbols[other], symbols[one]
                assert not all(
                    case.model.holds(STRONGER_ON, (*pair, kind)) for kind in kinds
                )


@pytest.mark.parametrize("question", QUESTIONS)
def test_who_puts_such_a_film_on_hair_stands_apart(question: str) -> None:
    for each in grades(question):
        if each.kind is not Kind.BACK:
            continue
        assert len(each.own) == len(each.washes)
        for row in filter(telling_end, each.rows):
            holds, wash = row.case.model.holds, row.goal[1][0]
            assert any(holds(PUTS_BACK, (wash, grade)) for grade in row.grades)


@pytest.mark.parametrize("question", QUESTIONS)
def test_no_reason_for_less_holds_of_any_wash_whatever(question: str) -> None:
    """It would stop the best as well as the worst."""
    told, base = grades(question), session().base
    for each in told:
        if each.kind in SURELY:
            continue
        for why in [b for found in reasons(each, told) for b in found.because]:
            if why.what in base and (kind := base.record(why.what).link("ofWash")):
                assert base.record(kind).links("actsOnlyBy"), why.what


def test_films_that_stay_are_said_to_stay_under_each_wash_of_the_group() -> None:
    """Where groups are joined it is one or more of them, one wash not as another."""
    question = 'which washes clear everything from "Harbour Cream"'
    head = "Take some, but perhaps none of "
    told = [b for b in laid_out(verdicts(question)) if b.head.startswith(head)]
    joined = [block for block in told if "one or more of" in block.head]
    assert len(told) > len(joined) == 1
    for block in told:
        mine: dict[str, set[str]] = {wash_key(row): set() for row in block.rows}
        for row in filter(telling_end, block.rows):
            mine[wash_key(row)].add(film_key(row))
        films = set(map(frozenset, mine.values()))
        assert (len(films) == 1) is (block not in joined), block.head


def test_the_one_film_that_needs_a_wash_is_named() -> None:
    """And not one that evaporates, though it is looked at first."""
    told = asked('which washes clear "Cyclopentasiloxane" or "Dimethicone"').shown
    rows = [row for row in told or () if isinstance(row, Verdict)]
    rows.sort(key=lambda row: row.role is not Role.NO_WASH_NEEDED)
    assert rows[0].role is Role.NO_WASH_NEEDED
    said = said_aloud(rows, "these 2 films", whole=False)
    assert said.startswith(
        "Best for Dimethicone: Tideline Wash and Breakwater Wash, likely most of it, "
        "perhaps not all in one wash. "
    )


def test_an_order_shows_its_steps() -> None:
    """And what stands outside it."""
    answer = asked('which washes clear "Dimethicone" mildest first')
    page = " ".join(answer_page(answer, 80).split())
    assert answer.order
    for number, step in enumerate(answer.order.steps, 1):
        assert f"{number}. {step[0]}" in page
    assert answer.order.how in page


def test_what_would_help_and_stands_late_is_named() -> None:
    """A chelant among the traces guards the formula, and is no mineral treatment."""
    tail = "Phenoxyethanol, Parfum, Disodium EDTA, Citric Acid"
    lather = "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine"
    labels = {
        "Plain Lather": f"{lather}, Glycerin, {tail}",
        "Stone Lather": f"{lather}, Tetrasodium EDTA, Glycerin, Phenoxyethanol, Parfum",
        "Bare Lather": f"{lather}, Glycerin, Phenoxyethanol",
    }
    made = (ShelfLabel(name, "wash", "EU", text) for name, text in labels.items())
    found = Session(Shelf("three", tuple(made))).ask(
        'which washes clear "Hard-Water Minerals"'
    )
    page = " ".join(answer_page(found, 80).split())
    assert "Plain Lather (Disodium EDTA, number 7) lists what would help" in page
    assert "Bare Lather (" not in page
