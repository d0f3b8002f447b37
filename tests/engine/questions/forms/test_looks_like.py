"""What a label lists that only sounds like what was asked for."""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.world.world import Product, World
from abluent.grammar.query.parse import parse_query

SALT = "Aqua, Decyl Glucoside, Sodium Sulfate"
SALTS = "Aqua, Decyl Glucoside, Sodium Sulfate, Magnesium Sulfate"
QUAT = "Aqua, Behentrimonium Methosulfate"
UNREAD = "Aqua, Quillowax Base, Sodium Sulfate"
NONE = "contains no sulfate surfactant"
BUILT = "It is built on Decyl Glucoside, an alkyl glucoside."


@cache
def base() -> tuple[Base, object]:
    return Base.load(), load_rulebook()


def said(label: str, question: str) -> str:
    known, rules = base()
    world = World(known, rules, [Product("A", "wash", "EU", label)])  # type: ignore[arg-type]
    return ask(parse_query(question.format('"A"')), world).sentence


@pytest.mark.slow
@pytest.mark.parametrize(
    ("label", "question", "told"),
    [
        (
            SALT,
            "does {} contain a sulfate",
            f"No: A {NONE} (3 names read). {BUILT} Its Sodium Sulfate is a salt "
            "and no cleanser.",
        ),
        (
            SALTS,
            "does {} contain no sulfates",
            f"Yes: A {NONE} (4 names read). {BUILT} Its Magnesium Sulfate and "
            "Sodium Sulfate are salts and no cleansers.",
        ),
        (
            QUAT,
            "does {} contain a sulfate",
            f"No: A {NONE} (2 names read). It is built on Behentrimonium "
            "Methosulfate, a monoalkyl quat.",
        ),
        (
            UNREAD,
            "does {} contain a sulfate",
            f"Cannot tell: A {NONE} among the names that were understood (2 names "
            "read, 1 more not understood). Its Sodium Sulfate is a salt and no "
            "cleanser.",
        ),
    ],
)
def test_a_word_on_the_label_that_is_none_of_the_class(
    label: str, question: str, told: str
) -> None:
    """The trade means the surfactant; a salt of the name is told apart in a breath."""
    assert said(label, question) == told


def test_one_that_is_there_is_named() -> None:
    told = said(
        "Aqua, Sodium Laureth Sulfate, Sodium Sulfate", "does {} contain a sulfate"
    )
    assert told == "Yes: A contains Sodium Laureth Sulfate."
