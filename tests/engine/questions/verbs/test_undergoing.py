"""What is cleared by a wash, or left by a product, said of the film."""

from __future__ import annotations

import pytest
from abluent.engine.faults import CommandError
from abluent.shell.session.session import Session


@pytest.fixture(scope="module")
def session() -> Session:
    """The demo shelf."""
    return Session.open()


def members(session: Session, question: str) -> set[str]:
    """The names of the members of an answer."""
    return {item.key for item in session.ask(question).members}


@pytest.mark.slow
def test_what_is_left_and_not_cleared_is_both(session: Session) -> None:
    """It is among what the product leaves, and among what the wash does not take."""
    left = members(session, 'what is left by "Harbour Cream"')
    both = members(
        session, 'what is left by "Harbour Cream" and is not cleared by "Shallows Wash"'
    )
    assert both
    assert both < left
    gone = members(session, 'what is cleared by "Shallows Wash"')
    assert not both & gone


def test_it_says_of_the_film_what_is_said_of_the_wash(session: Session) -> None:
    """The verdict is the same from either side."""
    passive = session.ask('is "Dimethicone" cleared by "Tideline Wash"')
    active = session.ask('does "Tideline Wash" clear "Dimethicone"')
    assert [row.role for row in passive.rows] == [row.role for row in active.rows]


def test_none_is_the_denial_of_some(session: Session) -> None:
    """`by no wash` is so of none that some wash clears."""
    none = members(session, "which silicones are cleared by no washes")
    some = members(session, "which silicones are cleared by some washes")
    assert some
    assert not none & some


def test_only_films_are_cleared(session: Session) -> None:
    """A wash is not."""
    with pytest.raises(CommandError, match="only films"):
        session.ask('is "Tideline Wash" cleared by water')
