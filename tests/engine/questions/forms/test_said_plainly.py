"""What an answer says in a line beside its yes or no, so that it misleads nobody."""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.faults import CommandError
from abluent.shell.session.session import Session


@cache
def said(question: str) -> str:
    return Session.open().ask(question).sentence


@pytest.mark.parametrize(
    ("question", "told"),
    [
        (
            'is "Behentrimonium Methosulfate" a sulfate surfactant',
            "methosulfate in its name is only the partner that balances its charge.",
        ),
        (
            'is "Sodium Sulfate" a sulfate surfactant',
            "It shares the word sulfate, and cleans nothing.",
        ),
    ],
)
def test_why_it_is_called_so_is_told(question: str, told: str) -> None:
    assert said(question).startswith("No: ")
    assert said(question).endswith(told)


@pytest.mark.parametrize(
    "question",
    [
        'is "Cetrimonium Chloride" a sulfate surfactant',
        'is "Sodium Laureth Sulfate" a sulfate surfactant',
        'is "Glycol Distearate" an anionic surfactant',
    ],
)
def test_nothing_is_told_of_a_name_without_the_word(question: str) -> None:
    assert "in its name" not in said(question)
    assert "shares the word" not in said(question)


def test_who_leaves_something_is_told_with_who_is_not_known_to() -> None:
    told = said("which washes leave anything")
    assert "leave something" in told
    assert "leave anything" not in told


def test_what_goes_in_part_is_no_yes_to_its_not_going() -> None:
    told = said('does "Tideline Wash" not clear "Amodimethicone"')
    assert told.startswith("It does in part: Tideline Wash takes part of ")


def test_an_ingredient_has_no_list_itself() -> None:
    """What stands on its label cannot be asked, and what it is can."""
    with pytest.raises(CommandError, match="no list itself; ask what it is"):
        said('does "Parfum" contain silicones')
