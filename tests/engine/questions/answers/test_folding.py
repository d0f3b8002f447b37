"""Many verdicts told by what they have in common, exactly."""

from __future__ import annotations

from collections import Counter

import pytest
from abluent.engine.base.contract import ISA
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.described import Term
from abluent.engine.questions.answers.folding import (
    Folding,
    film_key,
    folded,
    same_standing,
    same_verdict,
    wash_key,
)
from abluent.engine.questions.answers.laid_out import laid_out
from abluent.engine.questions.answers.lists import Why
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.shell.pages.answer import answer_page
from abluent.shell.pages.answer_data import answer_json
from shown import demo as asked
from shown import demo_session as session

SURFACTANTS = "which surfactants remove Amodimethicone"
SULFATES = "what do sulfates remove"
POMADE = 'which washes clear everything from "Tarred Rope Pomade"'


def verdicts(question: str) -> list[Verdict]:
    answer = asked(question)
    return [r for r in (*answer.rows, *answer.others) if isinstance(r, Verdict)]


def meant(base: Base, terms: tuple[Term, ...], rows: list[Verdict]) -> set[str]:
    """What a description says, by the base and by what its rules add to a class."""
    found: set[str] = set()
    for term in terms:
        own = set(base.instances(term.symbol)) if term.whole else {term.symbol}
        for row in rows if term.whole else ():
            if row.case.model.holds(ISA, (wash_key(row), term.symbol)):
                own.add(wash_key(row))
        found |= own - meant(base, term.but, rows)
    return found


def exact(found: tuple[Folding, ...], rows: list[Verdict]) -> None:
    """Every row is in a folding, and every folding holds rows that are alike."""
    told = Counter(id(row) for each in found for row in each.members)
    assert set(told) == {id(row) for row in rows}
    for each in found:
        assert len(each.members) == len(each.washes.keys) * len(each.films.keys)
        assert {wash_key(row) for row in each.members} == set(each.washes.keys)
        assert {film_key(row) for row in each.members} == set(each.films.keys)


@pytest.mark.slow
@pytest.mark.parametrize("question", [SURFACTANTS, SULFATES, POMADE])
def test_a_folding_is_exact(question: str) -> None:
    """Each row is told, under its own verdict."""
    rows = verdicts(question)
    found = folded(rows)
    exact(found, rows)
    for each in found:
        assert {same_verdict(row) for row in each.members} == {same_verdict(each.first)}


def test_a_class_is_named_only_if_all_of_it_was_judged() -> None:
    """What the base holds of the classes is what the rows are of."""
    rows = verdicts(SURFACTANTS)
    base = rows[0].case.world.base
    for each in folded(rows):
        assert meant(base, each.washes.terms, rows) == set(each.washes.keys)


def test_hundreds_of_rows_take_few_names() -> None:
    """826 surfactants are three sorts, told in less than thirty names."""
    rows = verdicts(SURFACTANTS)
    found = folded(rows)
    assert len(rows) > 800
    assert len(found) == len({same_verdict(row) for row in rows})
    assert sum(each.length for each in found) < 30


@pytest.mark.slow
def test_rows_that_stand_otherwise_are_told_apart() -> None:
    """Where standing counts, no folding mixes two."""
    rows = verdicts(POMADE)
    found = folded(rows, same_standing)
    exact(found, rows)
    for each in found:
        stands = {same_standing(row) for row in each.members}
        assert stands == {same_standing(each.first)}


@pytest.mark.slow
@pytest.mark.parametrize(
    "question", [SURFACTANTS, pytest.param(SULFATES, marks=pytest.mark.long)]
)
def test_many_rows_fit_a_screen(question: str) -> None:
    """The classes are shown, each with why; the rows are one word away."""
    answer = asked(question)
    page = answer_page(answer, 80)
    assert len(page.splitlines()) < 15
    assert any(why.words in " ".join(page.split()) for why in reasons(answer))
    whole = answer_page(answer, 80, whole=True)
    assert len(whole.splitlines()) > len(verdicts(question))


def reasons(answer: Answer) -> list[Why]:
    found = [r for r in (*answer.rows, *answer.others) if isinstance(r, Verdict)]
    lists = laid_out(found, by_film=answer.by_film)
    return [why for block in lists for why in block.whys if why.words]


def test_data_has_the_folding_with_its_members_and_every_row() -> None:
    """What is folded stands beside the rows and replaces none."""
    data = answer_json(asked(POMADE), POMADE)
    rows = data["answers"] + data["others"]
    members = [m for each in data["folded"] for m in each["members"]]
    told = {(m["wash"], m["film"], m["from"]) for m in members}
    assert told == {(row["wash"], row["film"], row["from"]) for row in rows}
    for each in data["folded"]:
        assert each["verdict"] in each["says"]
        mine = [
            row
            for row in rows
            if {k: row[k] for k in ("wash", "film", "from")} in each["members"]
        ]
        assert {row["verdict"] for row in mine} == {each["verdict"]}
        assert {row["standing"] for row in mine} == {each["standing"]}
        assert {row["at_least"]["standing"] for row in mine} == {
            each["at_least"]["standing"]
        }


def test_nothing_folds_to_nothing() -> None:
    """No rows, no foldings."""
    assert folded([]) == ()


def test_a_notebook_shows_the_classes_too() -> None:
    """One folding serves every face."""
    answer = session().ask("which sulfates at least partly clear Dimethicone")
    rows = [row for row in answer.rows if isinstance(row, Verdict)]
    assert len(rows) > 12
    assert answer._repr_html_().count("<li>") == len(folded(rows))
    assert answer._repr_markdown_().count("\n- ") == len(folded(rows))


def test_the_reasons_of_a_row_tell_of_no_third_product() -> None:
    """That a film is at hand may be shown by any label, and is told of none."""
    names = set(session().world.products)
    for row in verdicts(POMADE)[::7]:
        others = names - {row.wash, row.source}
        assert not [t for t in row.reasons if any(name in t for name in others)]
