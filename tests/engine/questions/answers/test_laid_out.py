"""Many verdicts as plain lists: nothing left out, and one `except` at the most."""

from __future__ import annotations

import re

import pytest
from abluent.engine.base.contract import (
    ACTS,
    MAY_ACT,
    PUTS_BACK,
    READING,
    UNREAD_LINE,
    YIELDS,
)
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.account import claims_by_agent
from abluent.engine.questions.answers.because import telling_end
from abluent.engine.questions.answers.laid_out import laid_out
from abluent.engine.questions.answers.lists import Block, Why
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.shell.pages.answer import answer_page
from shown import demo as asked

ONE_FILM = 'which washes clear "Dimethicone"'
ONE_WASH = "which silicones do not build up"
PAIRS = 'which washes clear everything from "Harbour Cream"'
BY_RULE = "is it true that every silicone builds up"
BY_FILM = 'what does "Tideline Wash" clear'
QUESTIONS = (ONE_FILM, ONE_WASH, PAIRS, BY_RULE, BY_FILM)


def verdicts(question: str) -> list[Verdict]:
    answer = asked(question)
    return [r for r in (*answer.rows, *answer.others) if isinstance(r, Verdict)]


def blocks(question: str) -> list[Block]:
    return laid_out(verdicts(question), by_film=asked(question).by_film)


@pytest.mark.slow
@pytest.mark.parametrize("question", QUESTIONS)
def test_every_verdict_stands_in_one_list(question: str) -> None:
    """And every line is told of a verdict of its list."""
    told = [id(row) for block in blocks(question) for row in block.rows]
    assert sorted(told) == sorted(map(id, verdicts(question)))
    for block in blocks(question):
        assert len(block.items) == len(block.known) > 0
        assert {id(row) for row in block.known} <= {id(row) for row in block.rows}


@pytest.mark.parametrize("question", QUESTIONS)
def test_a_line_has_one_exception_at_the_most(question: str) -> None:
    """What is left out leaves out nothing, so that it can be read aloud."""
    page = answer_page(asked(question), 80)
    assert "but not" not in page
    for block in blocks(question):
        for line in re.split(r"; |, ", " ".join(block.items)):
            assert line.count("except") <= 1


def test_those_that_take_most_come_first() -> None:
    """Of one film by the verdict; of several washes, those sure of every film."""
    heads = [block.head for block in blocks(ONE_FILM)]
    most = "Best chance (likely take most, perhaps not all in one wash)"
    assert heads[0] == most
    assert heads[-1] == "Take at most part, if any"
    first = blocks(PAIRS)[0]
    assert first.head == "Takes some of every one"
    assert first.items == ("Tideline Wash",)


def test_a_class_is_told_with_what_is_known_best_of_it() -> None:
    """By the number of its names, and not the first by the alphabet."""
    (volatile,) = [b for b in blocks(ONE_WASH) if b.head.startswith("No wash")]
    assert volatile.items == ("volatile silicones, as Cyclopentasiloxane",)


LISTS = (
    *QUESTIONS,
    "which washes clear amodimethicone",
    "which washes clear Polyquaternium-11",
    "which washes clear minerals",
    "which washes clear waxes",
    "which surfactants clear amodimethicone",
    "what do sulfosuccinates clear",
    "what do glucosides clear",
    'what does "Backwater Cream Cleanser" not clear',
    'does "Lamp Room Clarifying Wash" clear everything from "Tarred Rope Pomade"',
)
"""A question of every form that is answered by lists."""
CLAIM = "is it true that only sulfates clear waxes"


MIXED = "^The others|^It depends|an unknown amount"
"""Heads of lists that no one reason bounds."""


@pytest.mark.slow
@pytest.mark.parametrize(
    "question", [*LISTS, pytest.param(CLAIM, marks=pytest.mark.long)]
)
def test_a_reason_stands_in_a_proof_of_all_it_is_told_of(question: str) -> None:
    """A reason that holds of none, or of some, of its group is impossible."""
    for block in blocks(question):
        told = [row for why in block.whys for row in why.rows]
        assert not told or set(map(id, told)) == set(map(id, bounded(block)))
        gone = all(row.gone for row in block.rows)
        mixed = re.search(MIXED, block.head)
        assert told or block.apart or gone or mixed, block.head
        for why in block.whys:
            assert why.names or block.apart
            for row in why.rows[:: 1 + len(why.rows) // 8]:
                told = why.because, *why.also
                assert any(holds_of(row, why._replace(because=b)) for b in told)


def bounded(block: Block) -> list[Verdict]:
    """The verdicts of a list that need a reason; of washes those that tell how far."""
    if not block.apart:
        return [*block.rows]
    needing = [row for row in block.rows if not row.gone]
    return [row for row in needing if telling_end(row)] or needing


def holds_of(row: Verdict, why: Why) -> bool:
    """Whether a reason stands in what shows an end of a verdict."""
    if why.because is None:
        less = ENDS[row.role][0] is Role.NONE_OF_IT
        return less if why.words.startswith("Nothing here shows") else not why.words
    what, (wash, film, product, _) = why.because.what, row.goal[1]
    model, base = row.case.model, row.case.world.base
    grades = [grade for *_, grade in model.match(READING, (film, product, None))]
    if what == PUTS_BACK:
        return any(model.holds(PUTS_BACK, (wash, grade)) for grade in grades)
    if what not in base:
        return any(model.match(UNREAD_LINE, (wash, None)))
    only = base.record(base.record(what).link("ofWash") or what).links("actsOnlyBy")
    acting = [str(agent) for _, agent in model.match(MAY_ACT, (wash, None))]
    if only and not all(set(only) & set(base.classes_of(agent)) for agent in acting):
        return False
    if what in row.claims:
        return True
    return any(what in claims for claims in by_its_agents(row))


def by_its_agents(row: Verdict) -> list[list[str]]:
    """The claims by which each agent at work takes part of a film."""
    wash, film, product, _ = row.goal[1]
    model, prover = row.case.model, row.case.prover
    if ENDS[row.role][0] is Role.NONE_OF_IT:
        return []
    agents = [agent for _, agent in model.match(ACTS, (wash, None))]
    grades = [grade for *_, grade in model.match(READING, (film, product, None))]
    found = [
        prover.prove(YIELDS, fact)
        for agent in agents
        for grade in grades
        for fact in model.match(YIELDS, (agent, grade, None, None))
    ]
    return [claims for proof in found for _, claims in claims_by_agent(row, proof)]


@pytest.mark.parametrize("question", QUESTIONS)
def test_no_reason_is_told_twice_of_a_list(question: str) -> None:
    """And the largest group is told first."""
    for block in blocks(question):
        said = [why.words for why in block.whys if why.words]
        assert block.apart or len(set(said)) == len(said)
        sizes = [len(why.rows) for why in block.whys if why.words]
        assert block.apart or sizes == sorted(sizes, reverse=True)


def test_what_a_wash_leaves_itself_is_its_reason() -> None:
    """And no claim on washes without what it holds."""
    (own,) = [b for b in blocks(ONE_FILM) if b.head.startswith("Put")]
    assert "Gullwing Silk Wash (Dimethicone)" in own.items[0]
    assert not own.whys
    assert all(row.at_most and row.role is not Role.CLEARED for row in own.rows)


def test_part_and_at_least_part_stand_together() -> None:
    """In an order that was asked for; of which no more goes is told below."""
    question = f"{ONE_FILM} strongest first"
    first = laid_out(verdicts(question), order=asked(question).order)[0]
    assert first.head == "Take some, strongest first"
    assert len({row.wash for row in first.rows}) == 4
    roles = {row.role for row in first.rows}
    assert roles == {Role.PARTLY_CLEARED, Role.AT_LEAST_PARTLY}
    capped = "Not all in one wash: Lamp Room Clarifying Wash and Plover Mild Wash."
    assert first.beside == (capped,)


def test_what_nothing_bounds_has_no_reason() -> None:
    lists = blocks("is it true that no silicone builds up")
    assert not any(block.whys for block in lists if block.rows[0].gone)
