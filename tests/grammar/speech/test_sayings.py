"""Sayings are heard by their words, whichever way round a text has them."""

from __future__ import annotations

import pytest
from abluent.grammar.phrase.pieces import HeardSaying
from abluent.grammar.phrase.reading import Heard
from abluent.grammar.query import tree as q
from abluent.grammar.speech.read import read_speech
from abluent.grammar.speech.sayings import groups
from few_names import FewNames
from quay import NAMES

TIDE = HeardSaying(
    "tide water bakes pitch on",
    ("tide* & bake* | baking & !moon & ?<ingredient>", "tide* & <film> & forever"),
    ("which washes clear resins",),
)
LEXICON = FewNames(NAMES, sayings=(TIDE,))
SAYING = q.Saying(q.Name(TIDE.said))


def heard(text: str) -> Heard:
    """What a text comes to where one saying is known."""
    return read_speech(text, LEXICON)


@pytest.mark.parametrize(
    "text",
    [
        "does the tide bake it on",
        "my nan swears tides are not baking anything",
        "tide, pitch, is it there forever",
        "does the tide bake tar on",
    ],
)
def test_a_saying_is_heard_and_answered(text: str) -> None:
    """By every group of one pattern; what it tells is so either way round."""
    first = heard(text).readings[0]
    assert first.query == SAYING
    assert first.sure


@pytest.mark.parametrize(
    "text", ["the tide is in", "they bake bread", "the tide bakes at full moon"]
)
def test_a_group_that_lacks_or_is_barred_hears_nothing(text: str) -> None:
    """One group is not enough, and a barred word means something else."""
    assert SAYING not in [each.query for each in heard(text).readings]


def test_a_thing_that_it_does_not_speak_of_is_left_aside() -> None:
    """So it is asked, and what can be asked after it stands beside it."""
    found = heard("does the tide bake quay wash on")
    first, *rest = found.readings
    assert (first.query, first.sure) == (SAYING, False)
    assert [(span.start, span.end) for span in first.unread] == [(19, 28)]
    assert "which washes clear resins" in [each.question for each in rest]


def test_what_is_asked_for_is_not_answered_with_a_saying() -> None:
    """`which` asks for things of the shelf."""
    assert not heard("which stuff is good if the tide bakes it on").readings[0].sure


def test_an_exact_question_stands_before_a_saying() -> None:
    """It is answered as without the saying."""
    text = "does quay wash remove tar"
    also = HeardSaying("wash takes tar", ("wash & tar",))
    alone = read_speech(text, FewNames(NAMES))
    both = read_speech(text, FewNames(NAMES, sayings=(also,)))
    assert alone.readings[0].sure
    assert both == alone


def test_a_pattern_without_words_is_refused() -> None:
    """An empty way would be heard in everything."""
    with pytest.raises(ValueError, match="no words"):
        groups("tide & | bake")


def test_a_clear_wash_is_one_that_is_seen_through() -> None:
    """It takes nothing off by being clear."""
    first = heard("does a clear shampoo leave tar").readings[0]
    assert first.question == 'is it true that washes leave "Tar"'
    assert [(span.start, span.end) for span in first.unread] == [(7, 12)]


def test_what_is_asked_of_a_product_stands_beside_the_saying() -> None:
    """The saying speaks of none, so the two together are what is asked."""
    found = heard("quay wash takes tar off, and the tide bakes it, mostly, I mean")
    assert found.parts == 2
    assert found.readings[0].query == SAYING
    assert '"Quay Wash"' in found.readings[1].question
    assert not found.readings[0].unread


def test_a_word_of_a_products_name_tells_no_saying() -> None:
    """`Tide Bake` is a wash, and nothing is baked on."""
    names = {**NAMES, "tide bake": NAMES["quay wash"]}
    lexicon = FewNames(names, sayings=(TIDE,))
    found = read_speech("purple tide bake, the tar on it, well", lexicon).readings
    assert SAYING not in [each.query for each in found]
    assert any('"Quay Wash"' in each.question for each in found)


def test_two_sayings_that_share_no_word_are_asked_about() -> None:
    """Neither is answered at once, for which is meant is not certain."""
    star = HeardSaying("a star dries pitch", ("star & dries",))
    text = "tide bakes it on, or a star dries it"
    both = read_speech(text, FewNames(NAMES, sayings=(TIDE, star)))
    plain = read_speech("tides bake it on", FewNames(NAMES, sayings=(TIDE, star)))
    assert not any(each.sure for each in both.readings)
    assert plain.readings[0].sure


def test_a_class_that_only_a_pattern_has_is_left_aside() -> None:
    """What is known of the saying must speak of what is named."""
    loose = HeardSaying("tide water bakes on", ("tide* & resins | bake*",))
    found = read_speech("do tides love resins", FewNames(NAMES, sayings=(loose,)))
    first = found.readings[0]
    assert first.query == q.Saying(q.Name(loose.said))
    assert not first.sure
