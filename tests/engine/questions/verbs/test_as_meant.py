"""Claims of what takes a film off, told with the part that goes."""

from __future__ import annotations

import re
from functools import cache

import pytest
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.shell.session.answer_face import ShownAnswer
from abluent.shell.session.session import Session


@cache
def asked(claim: str) -> ShownAnswer:
    return Session.open().ask(f"is it true that {claim}")


@pytest.mark.parametrize(
    ("claim", "head"),
    [
        ("only sulfates clear waxes", "False"),
        ("no washes without sulfates clear waxes", "Not so as said"),
        ("waxes need a sulfate", "Not so as said"),
    ],
)
def test_a_witness_takes_part_of_every_film_and_lacks_what_is_named(
    claim: str, head: str
) -> None:
    found = asked(claim)
    assert found.sentence.startswith(f"{head}: ")
    first = found.sentence.split(". ")[0]
    rows = [row for row in found.shown or () if isinstance(row, Verdict)]
    named = {row.wash for row in rows if row.wash in first}
    assert named == {
        "Tideline Wash",
        "Lamp Room Clarifying Wash",
        "Plover Mild Wash",
    }
    for row in rows:
        text = row.case.world.products[row.wash].text
        assert not re.search(r"(Laureth|Lauryl|Coco|Myreth|Trideceth)[ -]Sulfate", text)
        if row.wash in named and row.role is not Role.NO_WASH_NEEDED:
            assert ENDS[row.role][0] is not Role.NONE_OF_IT


def test_what_is_true_in_it_is_told_too() -> None:
    found = asked("only sulfates clear waxes").sentence
    _, _, true = found.partition("What is true in it: ")
    assert true.startswith(
        "that Shallows Wash, Dune Grass Wash, Sandpiper Wash and 3 more take any of "
        "Cera Alba and Cera Microcristallina is not shown. "
    )


def test_a_claim_begins_with_true_or_false() -> None:
    assert asked("all sulfate-free washes are mild").sentence.startswith("False: ")
    assert " is built on " in asked("all sulfate-free washes are mild").sentence
