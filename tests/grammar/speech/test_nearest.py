"""What is said of a line that no frame of speech reads."""

from __future__ import annotations

import pytest
from abluent.grammar.phrase.book import nothing_known
from abluent.grammar.phrase.pieces import Sense
from abluent.grammar.speech.nearest import is_speech, read_nearest
from abluent.grammar.speech.read import read_speech
from few_names import FewNames

_NAMES = {
    "quay wash": Sense("Quay Wash", frozenset({"product", "wash", "agent"})),
    "tar": Sense("Tar", frozenset({"ingredient", "film"})),
    "pitch": Sense("Pitch", frozenset({"ingredient", "film"})),
    "resin": Sense("resins", frozenset({"class", "film"}), "resin"),
    "wash": Sense("washes", frozenset({"kind", "wash", "agent"}), "wash"),
}
_LEXICON = FewNames(_NAMES)


@pytest.mark.parametrize(
    ("text", "offered"),
    [
        ("bleached hair and tar on the lengths, any study", 'clear "Tar"'),
        ("quay wash every wash on blonde hair", '"Quay Wash"'),
    ],
)
def test_what_is_named_is_asked_of(text: str, offered: str) -> None:
    """As a guess, which is never answered at once."""
    found = read_nearest(text, _LEXICON)
    assert any(offered in each.question for each in found.readings)
    assert not any(each.sure for each in found.readings)


@pytest.mark.parametrize(
    "text",
    [
        "tar of tuesday sings under a ladder",
        "purple the under of because gravel",
        "who left the spoon in the bucket",
    ],
)
def test_a_senseless_line_gets_one_sentence(text: str) -> None:
    """With a name in it or without: what is known here, and no question."""
    found = read_nearest(text, _LEXICON)
    assert not found.readings
    assert found.unsettled == nothing_known()


def test_the_matter_that_most_words_tell_is_said_first() -> None:
    """`company` may stand anywhere, a press office is no matter of a label."""
    found = read_nearest("which company has the friendliest press office", _LEXICON)
    assert found.unsettled.startswith("What people like, trust")


def test_a_chance_word_does_not_hide_what_is_asked() -> None:
    """`daily`, by itself, is no plan."""
    found = read_speech("daily i ask: does quay wash get tar off", _LEXICON)
    assert not found.unsettled
    assert found.readings[0].question == 'does "Quay Wash" clear "Tar"'


@pytest.mark.parametrize(("text", "said"), [("does of of", False), ("", False)])
def test_a_few_words_are_no_speech(text: str, said: bool) -> None:
    """They keep the error of the language."""
    assert is_speech(text) is said
    assert is_speech("is it worth the fuss")


@pytest.mark.parametrize(
    ("text", "first"),
    [
        (
            "is it true tar just builds up, cause it's a resin but sticky",
            '"Tar" build',
        ),
        ("tar or pitch, both wash out the same, my boss says", "hardest first"),
        ("any paper on quay wash against tar on swatches", "who says"),
    ],
)
def test_the_plain_question_is_offered_first(text: str, first: str) -> None:
    """A claim before its ground, what is compared, and the form for evidence."""
    found = read_speech(text, _LEXICON).readings
    assert first in found[0].question


def test_no_film_is_set_against_a_wash() -> None:
    """Nor against itself."""
    for text in ("is tar harder to shift than a wash", "tar is worse than tar"):
        found = read_speech(text, _LEXICON).readings
        assert not any("harder to clear" in each.question for each in found)
