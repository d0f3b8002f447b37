"""`how much I does P contain`: the level that a label allows, line by line."""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.forms.question import Unanswerable, ask
from abluent.engine.questions.world.labels import Product
from abluent.engine.questions.world.world import World
from abluent.grammar.query.parse import parse_query

_LABEL = "Aqua, Cetearyl Alcohol, Dimethicone, Amodimethicone (0.3%), Zzyzx"
_WASH = "Aqua, Sodium Laureth Sulfate, Acrylates Copolymer, Parfum, Disodium EDTA"


@cache
def world() -> World:
    shelf = Product("Reed Cream", "conditioner", "EU", _LABEL)
    bare = Product("Moor Cream", "conditioner", "EU", "Aqua, Glycerin")
    wash = Product("Fen Wash", "wash", "EU", _WASH)
    return World(Base.load(), load_rulebook(), [shelf, bare, wash])


def answer(text: str) -> Answer:
    return ask(parse_query(text), world())


def test_one_line_is_told_with_its_place_and_proved() -> None:
    told = answer('how much "Dimethicone" does "Reed Cream" contain')
    assert told.sentence.startswith("Dimethicone: above 0 and at most 2.7 % of Reed")
    assert "likely, as the trade usually puts in" in told.sentence
    assert "number 3 of " in told.sentence
    assert "no more than Cetearyl Alcohol, unless both are 1 %" in told.sentence
    assert len(told.rows) == 1
    assert any("The maker can be asked" in note for note in told.notes)


def test_every_line_of_a_class_is_told_in_order() -> None:
    told = answer('how much silicones does "Reed Cream" contain')
    (levels,) = told.findings
    assert [each.partition(":")[0] for each in levels.items] == [
        "Dimethicone",
        "Amodimethicone",
    ]
    assert "0.3 %" in levels.items[1]


def test_what_is_not_listed_is_none_but_for_what_was_not_read() -> None:
    bare = answer('how much "Dimethicone" does "Moor Cream" contain')
    assert bare.sentence == "None: the label of Moor Cream lists no Dimethicone."
    unread = answer('how much beeswax does "Reed Cream" contain')
    assert unread.sentence.endswith("1 name on it was not understood.")


def test_what_a_line_does_is_told_by_class_place_and_work() -> None:
    """A chelant among the traces guards the product; EDTA means its salts too."""
    told = answer('what does EDTA do in "Fen Wash"')
    assert told.sentence.startswith("Disodium EDTA, number 5 of Fen Wash, is a chelant")
    assert "stands among the traces of Fen Wash" in told.sentence
    cleans = answer('what does "Sodium Laureth Sulfate" do in "Fen Wash"')
    assert "It is one of what cleans there." in cleans.sentence
    left = answer('what does "Dimethicone" do in "Reed Cream"')
    assert "Reed Cream leaves Dimethicone" in left.sentence
    assert answer('does "Fen Wash" contain EDTA').truth == "yes"


def test_what_repeated_washing_means_is_told() -> None:
    told = answer(
        'what does "Fen Wash" not clear from "Reed Cream" over repeated washes'
    )
    assert any("levels off" in note for note in told.notes)
    once = answer('what does "Fen Wash" not clear from "Reed Cream"')
    assert not any("levels off" in note for note in once.notes)


def test_what_is_not_listed_does_nothing_there() -> None:
    told = answer('what does EDTA do in "Moor Cream"')
    assert told.sentence == "None: the label of Moor Cream lists no EDTA."
    with pytest.raises(Unanswerable):
        answer("what does EDTA do in water")


def test_films_are_put_in_order_by_the_washes_that_are_named() -> None:
    pair = 'which of "Amodimethicone" and "Dimethicone" hardest first'
    told = answer(f'{pair} under "Fen Wash"')
    assert {row.wash for row in told.rows} == {"Fen Wash"}  # type: ignore[union-attr]
    none = answer(f'{pair} under "Moor Cream"')
    assert "Fen Wash" not in none.sentence


def test_the_last_place_is_that_of_the_label() -> None:
    assert (
        "Glycerin"
        in answer('what does "Moor Cream" contain at the last place').sentence
    )
    moved = 'suppose "Reed Cream" had "Cetearyl Alcohol" at the last place: '
    told = answer(f'{moved}does "Reed Cream" contain "Cetearyl Alcohol" at place 5')
    assert told.truth == "yes"


def test_water_has_no_label() -> None:
    with pytest.raises(Unanswerable):
        answer('how much "Dimethicone" does water contain')
