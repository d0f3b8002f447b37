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
    ("washes", "film", "head", "by_one"),
    [
        (
            "water",
            "dimethicone",
            "No number of rounds does.",
            "Water takes none of Dimethicone, by common practice.",
        ),
        (
            '"Reed Wash"',
            "beeswax",
            "No number is known: it turns on how much is on the hair, and hardly "
            "anybody has counted.",
            "Reed Wash takes part of Cera Alba, by common practice.",
        ),
        (
            "washes",
            "dimethicone",
            "No number is known: it turns on how much is on the hair, and hardly "
            "anybody has counted.",
            "Reed Wash takes some of Dimethicone, not all in one wash. Moor Wash takes "
            "at most part, if any. None is shown to take all in one wash.",
        ),
        (
            '"Reed Wash"',
            "cyclopentasiloxane",
            "One round is enough.",
            "Cyclopentasiloxane needs no wash, for it evaporates, by the handbooks.",
        ),
    ],
)
def test_what_one_round_does_is_told(
    world: World, washes: str, film: str, head: str, by_one: str
) -> None:
    told = ask(parse_query(f"how many rounds of {washes} clear {film}"), world)
    assert told.sentence == f"{head} By one round: {by_one}"
    assert len(told.rows) + len(told.others) == (2 if washes == "washes" else 1)
