"""`how many rounds of W clear F`: what one round does, as none has counted."""

from __future__ import annotations

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.world.labels import Product
from abluent.engine.questions.world.world import World
from abluent.grammar.query.parse import parse_query


@pytest.fixture(scope="module")
def world() -> World:
    wash = Product("Reed Wash", "wash", "EU", "Aqua, Sodium Laureth Sulfate")
    soft = Product("Moor Wash", "wash", "EU", "Aqua, Coco-Glucoside")
    return World(Base.load(), load_rulebook(), [wash, soft])


@pytest.mark.parametrize(
    ("washes", "film", "head"),
    [
        ("water", "dimethicone", "No number of rounds does. By one round: Water"),
        ('"Reed Wash"', "beeswax", "No number is known"),
        ("washes", "dimethicone", "No number is known"),
    ],
)
def test_what_one_round_does_is_told(
    world: World, washes: str, film: str, head: str
) -> None:
    told = ask(parse_query(f"how many rounds of {washes} clear {film}"), world)
    assert told.sentence.startswith(head)
    assert "By one round" in told.sentence
    assert told.rows or told.others


def test_where_one_is_enough_it_is_said(world: World) -> None:
    told = ask(
        parse_query('how many rounds of "Reed Wash" clear cyclopentasiloxane'), world
    )
    assert "By one round" in told.sentence
