"""What a product is not known to leave is not said to be taken off."""

from __future__ import annotations

import pytest
from abluent.shell.session.answer_face import ShownAnswer
from abluent.shell.session.session import Session

_SESSION: list[Session] = []


def asked(question: str) -> ShownAnswer:
    if not _SESSION:
        _SESSION.append(Session.open())
    return _SESSION[0].ask(question)


@pytest.mark.parametrize(
    "asks",
    [
        "which washes clear {}",
        "which washes do not clear {}",
        'does "Tideline Wash" clear {}',
    ],
)
def test_a_film_that_is_not_there_is_said_to_be_none(asks: str) -> None:
    answer = asked(asks.format('"Petrolatum" from "Harbour Cream"'))
    assert answer.sentence == (
        "Harbour Cream is not known to leave Petrolatum, "
        "so there is none of it to take off."
    )
    assert not answer.rows
    assert not answer.members


def test_a_mixture_that_holds_it_is_named() -> None:
    answer = asked('which washes clear "Cetyl Alcohol" from "Harbour Cream"')
    assert "by itself; it leaves Cetearyl Alcohol, which holds it" in answer.sentence
    again = asked('which washes clear "Cetearyl Alcohol" from "Harbour Cream"')
    assert len(again.others) + len(again.rows) == len(asked("which washes").members)
