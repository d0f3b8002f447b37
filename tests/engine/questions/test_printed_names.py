"""A film that a label shows can be asked about by the name it was printed with."""

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.world.labels import Product
from abluent.engine.questions.world.nouns import UnknownName
from abluent.engine.questions.world.world import World
from abluent.grammar.query.parse import parse_query

WASH = Product("Gull Wash", "wash", "EU", "Aqua, Sodium Laureth Sulfate")
OIL = Product("Gull Oil", "oil", "EU", "Zelkova Serrata Seed Oil, Tocopherol")
WORLD = World(Base.load(), load_rulebook(), [WASH, OIL])


def answer(question: str, world: World = WORLD) -> Answer:
    return ask(parse_query(question), world)


@pytest.mark.slow
@pytest.mark.parametrize("source", ["", ' from "Gull Oil"'])
def test_a_name_that_no_list_has(source: str) -> None:
    """It is read from its parts, and judged as a listed oil is."""
    asked = 'does "Gull Wash" clear "{}"{}'
    printed = answer(asked.format("Zelkova Serrata Seed Oil", source))
    listed = answer(asked.format("Helianthus Annuus Seed Oil", ""))
    assert "Zelkova Serrata Seed Oil" in printed.sentence
    assert "name/" not in printed.sentence
    (row,), (like,) = printed.rows or printed.others, listed.rows or listed.others
    assert row.value == like.value


def test_what_it_is_can_be_asked() -> None:
    """By the facts that its parts told."""
    assert answer('is "Zelkova Serrata Seed Oil" an oil').sentence.startswith("Yes")


def test_a_name_on_no_label_is_unknown() -> None:
    """Nothing is guessed for a name that nobody printed."""
    with pytest.raises(UnknownName):
        answer('does "Gull Wash" clear "Nova Aurea Seed Oil"')
