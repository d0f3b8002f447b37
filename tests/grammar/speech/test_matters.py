"""What nothing here settles: it is told, with what can be asked instead."""

from __future__ import annotations

import pytest
from abluent.grammar.phrase.book import general_asks, topics
from abluent.grammar.phrase.pieces import Sense
from abluent.grammar.query.parse import parse_query
from abluent.grammar.speech.read import read_speech
from few_names import FewNames
from quay import NAMES, heard


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("is quay wash worth the money", "costs"),
        ("how long should i leave quay wash on", "How long"),
        ("give me a wash plan for tar twice a week", "routine"),
        ("how many washes until tar is gone with quay wash", "counted"),
    ],
)
def test_what_nothing_settles_is_said(text: str, word: str) -> None:
    """With what can be asked instead of it, and no answer at once."""
    found = heard(text)
    assert word in found.unsettled
    assert found.readings
    assert not any(reading.sure for reading in found.readings)


def test_every_question_to_ask_instead_can_be_read() -> None:
    """Each template of the book, its slots filled, is a question of the language."""
    slots = dict.fromkeys(
        ("wash", "product", "film", "agent", "ingredient", "class"), '"Some Name"'
    )
    asks = [*general_asks(), *(ask for topic in topics() for ask in topic.ask)]
    assert len(asks) > 30
    for ask in asks:
        assert parse_query(ask.format(**slots))


def test_what_cannot_be_settled_is_said() -> None:
    """With what can be asked instead."""
    found = heard("is quay wash worth it")
    assert found.unsettled
    assert found.readings


def test_a_matter_of_law_leads_to_what_tells_of_it() -> None:
    """The question that tells which law names a thing stands before all others."""
    found = heard("is tar banned in shampoo over there or still legal in europe")
    assert "bans and limits of law" in found.unsettled
    assert found.readings[0].question == 'what is "Tar"'
    assert not found.readings[0].sure


def test_a_word_of_a_matter_may_go_on() -> None:
    """`recycl*` is told by `recycling`, and by no other word."""
    assert "rivers and soil" in heard("is the tar bottle good for recycling").unsettled
    assert "rivers and soil" not in heard("does quay wash clear tar").unsettled


def test_a_plan_of_what_is_to_be_avoided_is_asked_about() -> None:
    """No plan is made of a film that is named as not wanted; what clears it can be."""
    found = heard("routine without tar")
    assert "worked out by `routine`" in found.unsettled
    assert found.readings[0].question == 'which washes clear "Tar"'


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("does tar build up on itself", "upon a layer of itself"),
        ("does one go with quay wash beat two with reed wash", "not set against one"),
        ("tar at 0.5% vs 3%, does the higher one leave more", "leaves more"),
    ],
)
def test_what_no_label_settles_is_told(text: str, says: str) -> None:
    """Layers, counts of washes set against each other, and doses."""
    assert says in heard(text).unsettled


def test_a_word_of_a_full_name_sets_off_no_matter() -> None:
    """A product may be called Copper Wash; nothing is asked of copper then."""
    names = {"copper wash": Sense("Copper Wash", NAMES["quay wash"].kinds), **NAMES}
    text = "is the copper wash any good on tar"
    assert "copper" not in read_speech(text, FewNames(names)).unsettled
    names["copper wash"] = Sense("washes with copper", frozenset({"wash", "agent"}))
    assert "copper" in read_speech(text, FewNames(names)).unsettled


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("does tar suffocate hair", "does not breathe"),
        ("will tar make my hair fall out", "grows in the skin"),
        ("does quay wash make my scalp make more oil", "is not shown"),
        ("my hair squeaks after quay wash", "proves neither"),
        ("does quay wash take the green out after the pool", "copper from the water"),
        ("does flat ironing melt tar into hair", "sets a film for good"),
        ("what is parfum hiding besides tar", "need not be named"),
        ("the float test says low porosity so tar sits on top", "does not show it"),
        ("tar is self-limiting", "limits itself is not shown"),
        ("quay wash says ph balanced", "how acid"),
    ],
)
def test_what_people_believe_is_answered(text: str, says: str) -> None:
    """With a fact or a clear limit, and not by a doctor where none is called for."""
    told = heard(text).unsettled
    assert says in told
    assert "doctor" not in told or "fall out" in text


@pytest.mark.parametrize(
    ("text", "not_said"),
    [
        ("does quay wash with a flat iron clear tar", "well water"),
        ("does quay wash clear tar in a minute", "left on"),
        ("do you trust that quay wash clears tar", "What people like"),
    ],
)
def test_a_chance_word_sets_off_no_matter(text: str, not_said: str) -> None:
    assert not_said not in heard(text).unsettled


def test_what_is_told_can_be_said_aloud() -> None:
    """Each ends as a sentence does, and is no longer than a breath or two."""
    for topic in topics():
        assert topic.says.endswith((".", ")")), topic.says
        assert len(topic.says) <= 320, topic.says
