"""Names of speech that a shelf decides: the only mask at hand, gentle washes."""

from __future__ import annotations

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.world.labels import Product
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.only_one import the_only
from abluent.engine.questions.world.vocabulary import Vocabulary
from abluent.engine.questions.world.world import World

_SHELF = (
    Product("Quay Wash", "wash", "EU", "Aqua, Sodium Laureth Sulfate"),
    Product("Reed Loaf", "wash", "EU", "Sodium Olivate, Sodium Cocoate, Aqua"),
    Product("Tern Cream", "leave-in", "EU", "Aqua, Dimethicone"),
    Product("Sedge Balm", "conditioner", "EU", "Aqua, Cetearyl Alcohol"),
    Product("Fen Silk", "conditioner", "EU", "Aqua, Cera Alba", "treatment"),
    Product("Moor Honey", "other", "EU", "Aqua, Cera Alba"),
    Product("Holm Tin", "oil", "EU", "Aqua, Cera Alba"),
)


@pytest.fixture(scope="module")
def nouns() -> Nouns:
    """The nouns of a small shelf."""
    return Nouns(World(Base.load(), load_rulebook(), _SHELF), {})


@pytest.mark.parametrize(
    ("sort", "meant"),
    [
        ("leave-in", "Tern Cream"),
        ("conditioner", "Sedge Balm"),
        ("treatment", "Fen Silk"),
        ("mask", "Moor Honey"),
        ("soap", "Reed Loaf"),
        ("wash", ""),
        ("shampoo", ""),
        ("gel", "Moor Honey"),
        ("ladder", ""),
    ],
)
def test_one_of_its_sort(nouns: Nouns, sort: str, meant: str) -> None:
    """The only one of a kind, of no known kind, or made of a class of cleansers."""
    assert the_only(sort, nouns) == meant


def test_an_article_tells_that_one_is_meant(nouns: Nouns) -> None:
    """`the soap` is a product, and `soap` a class; the guess is marked."""
    known = Vocabulary(nouns)
    one, every = known.find(("the", "soap")), known.find(("soap",))
    assert one is not None
    assert every is not None
    assert (one.text, one.loose) == ("Reed Loaf", True)
    assert "class" in every.kinds


@pytest.mark.parametrize(
    ("words", "meant"),
    [
        ("honey mask", "Moor Honey"),
        ("the honey", "Moor Honey"),
        ("loafs", "Reed Loaf"),
        ("tin", "Holm Tin"),
    ],
)
def test_a_product_by_a_word_of_its_own(nouns: Nouns, words: str, meant: str) -> None:
    """Also where the word means an ingredient by itself, or stands in the genitive."""
    found = Vocabulary(nouns).find(tuple(words.split()))
    assert found is not None
    assert (found.text, found.loose) == (meant, True)


@pytest.mark.parametrize("words", ["gentle shampoos", "mild wash", "soft washes"])
def test_washes_by_how_they_clean(nouns: Nouns, words: str) -> None:
    """Washes with such a word are a sort of wash of the language."""
    found = Vocabulary(nouns).find(tuple(words.split()))
    assert found is not None
    assert found.text == "mild washes"
    assert nouns.knows(found.text)
