"""Many verdicts as plain lists: nothing left out, and one `except` at the most."""

from __future__ import annotations

import re
from functools import cache

import pytest
from abluent.engine.questions.answers.group import grounds, reasons
from abluent.engine.questions.answers.laid_out import Block, laid_out
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.shell.pages.answer import answer_page
from abluent.shell.session.answer_face import ShownAnswer
from abluent.shell.session.session import Session

ONE_FILM = 'which washes clear "Dimethicone"'
ONE_WASH = "which silicones do not build up"
PAIRS = 'which washes clear everything from "Harbour Cream"'
BY_RULE = "is it true that every silicone builds up"
BY_FILM = 'what does "Tideline Wash" clear'
QUESTIONS = (ONE_FILM, ONE_WASH, PAIRS, BY_RULE, BY_FILM)


@cache
def asked(question: str) -> ShownAnswer:
    return session().ask(question)


@cache
def session() -> Session:
    return Session.open()


def verdicts(question: str) -> list[Verdict]:
    answer = asked(question)
    return [r for r in (*answer.rows, *answer.others) if isinstance(r, Verdict)]


def blocks(question: str) -> list[Block]:
    return laid_out(verdicts(question), by_film=asked(question).by_film)


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
    assert heads[0].startswith("Takes at least part")
    assert heads[-1].startswith("Take at most part, if any")
    first = blocks(PAIRS)[0]
    assert first.head == "Tideline Wash"
    assert first.items == ("part of Cetyl Esters; at least part of the rest",)


def test_a_class_is_told_with_what_is_known_best_of_it() -> None:
    """By the number of its names, and not the first by the alphabet."""
    (volatile,) = [b for b in blocks(ONE_WASH) if b.head.startswith("No wash")]
    assert volatile.items == ("volatile silicones, as Cyclopentasiloxane",)


@pytest.mark.parametrize("question", QUESTIONS)
def test_why_has_a_reason_for_every_list(question: str) -> None:
    """A claim or a rule, told once where all lines share it."""
    for block in blocks(question):
        steps = list(grounds(block))
        assert steps
        assert len({step.text for step in steps}) == len(steps)


@pytest.mark.parametrize("question", QUESTIONS)
def test_no_reason_is_told_of_two_lists(question: str) -> None:
    """And each is what a claim says that bounds a verdict of its list."""
    lists = blocks(question)
    told = reasons(lists)
    assert len(told) == len(lists)
    assert any(told) or all(row.gone for block in lists for row in block.rows)
    said = [each for each in told if each]
    assert len(set(said)) == len(said)
    for block, why in zip(lists, told, strict=True):
        record = block.rows[0].case.world.base.record
        own = {record(c).text("statement") for row in block.rows for c in row.claims}
        assert not why or why.partition(": ")[2] in own


def test_what_nothing_bounds_has_no_reason() -> None:
    lists = blocks("is it true that no silicone builds up")
    dry = [why for b, why in zip(lists, reasons(lists), strict=True) if b.rows[0].gone]
    assert not any(dry)
