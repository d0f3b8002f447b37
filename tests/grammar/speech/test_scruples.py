"""Words that carry the sense: said by the question, or marked and asked about."""

from __future__ import annotations

import pytest
from abluent.grammar.phrase.pieces import Sense
from abluent.grammar.phrase.reading import Heard, Reading
from abluent.grammar.speech.read import read_speech
from few_names import FewNames

_WASH = frozenset({"kind", "wash", "agent"})
NAMES = {
    "quay wash": Sense("Quay Wash", frozenset({"product", "wash", "agent"})),
    "reed wash": Sense("Reed Wash", frozenset({"product", "wash", "agent"})),
    "fen wash": Sense("Fen Wash", frozenset({"product", "wash", "agent"})),
    "reed cream": Sense("Reed Cream", frozenset({"product"})),
    "wash": Sense("washes", _WASH, "wash"),
    "washes": Sense("washes", _WASH, "wash"),
    "cream": Sense("creams", frozenset({"kind", "agent"}), "cream"),
    "creams": Sense("creams", frozenset({"kind", "agent"}), "cream"),
    "tar": Sense("Tar", frozenset({"ingredient", "film"})),
    "resins": Sense("resins", frozenset({"class", "film"}), "resin"),
    "resin": Sense("resins", frozenset({"class", "film"}), "resin"),
    "lyes": Sense("lyes", frozenset({"class", "agent"}), "lye salt"),
    "lye": Sense("Lye", frozenset({"ingredient", "agent"})),
    "keen": Sense("with lyes without resins", frozenset({"sort"})),
}
LEXICON = FewNames(NAMES)


def heard(text: str) -> Heard:
    """What a saying comes to."""
    return read_speech(text, LEXICON)


def first(text: str) -> Reading:
    """The first reading of a saying."""
    return heard(text).readings[0]


def left(text: str) -> list[str]:
    """What the first reading of a saying leaves aside."""
    return [text[span.start : span.end] for span in first(text).unread]


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("tar does not build up on itself", "on itself"),
        ("half of the resins build up", "half of the"),
        ("what does reed cream never leave after 7 washes", "after 7 washes"),
        ("what can wash off the resins that I have", "that I have"),
        ("which of the resins on my shelf build up", "on my shelf"),
        ("which of my creams come off with quay wash", "which of"),
    ],
)
def test_a_weighty_word_that_no_question_says_is_marked(text: str, word: str) -> None:
    """It stands among what was left aside, and nothing is answered at once."""
    assert any(word in each for each in left(text))
    assert not first(text).sure


def test_a_condition_told_with_ive_is_left_aside_by_its_name() -> None:
    """`I've` is no more than `with`: what is marked is the condition alone."""
    assert left("I've hard water, does quay wash get tar off") == ["hard water"]


def test_what_a_sort_of_wash_is_taken_for_is_told() -> None:
    """`keen` is told as what a label shows, and asked about."""
    reading = first("keen washes clear tar")
    assert reading.taken == (("keen", "with lyes without resins"),)
    assert not reading.sure


@pytest.mark.parametrize(
    ("text", "question"),
    [
        (
            "because tar is a resin, quay wash cannot remove it",
            'is it true that "Tar" is a resin, so that "Quay Wash" does not clear '
            '"Tar"',
        ),
        ("lye cannot remove any resin", 'is it true that "Lye" clears no resins'),
        ("half of the creams contain lye", 'how many creams contain "Lye"'),
        ("there is no cream without lye", 'is it true that all creams contain "Lye"'),
        (
            "anything with lye but no resins in it",
            'which products contain "Lye" and contain no resins',
        ),
        (
            "quay wash is milder than reed wash and stronger than fen wash",
            'is it true that "Quay Wash" is milder than "Reed Wash", and also that '
            '"Quay Wash" is stronger than "Fen Wash"',
        ),
        (
            "quay wash is not as mild as reed wash",
            'is it true that "Reed Wash" is milder than "Quay Wash"',
        ),
        (
            "quay wash is not as strong as reed wash",
            'is it true that "Reed Wash" is stronger than "Quay Wash"',
        ),
        (
            "quay wash is not as harsh as reed wash",
            'is it true that "Quay Wash" is milder than "Reed Wash"',
        ),
        (
            "every resin stays with lyes only",
            "is it true that no washes with only lyes clear some resins",
        ),
        (
            "creams leave a film unless lye is present",
            'is it true that creams without "Lye" leave anything',
        ),
        (
            "there are no resins in reed cream",
            'is it true that "Reed Cream" contains no resins',
        ),
        ("is quay wash gentle enough for daily use", 'how mild is "Quay Wash"'),
        (
            "all resins are sticky and they never come off",
            "is it true that no washes clear some resins",
        ),
        ("lyes leave tar alone", 'is it true that no lyes clear "Tar"'),
        ("is tar third on the label", 'which products contain "Tar" at place 3'),
        (
            "does quay wash clear tar after 7 washes",
            'does "Quay Wash" clear "Tar" after 7 rounds',
        ),
        ("which resins are in reed cream", 'which resins does "Reed Cream" contain'),
        ("which of the four washes clear tar", 'which washes clear "Tar"'),
    ],
)
def test_what_carries_the_sense_is_read(text: str, question: str) -> None:
    """The first reading says it."""
    assert first(text).question == question


def test_each_number_of_washes_is_offered() -> None:
    """`after 3, after 10` is asked with the one and with the other."""
    asked = [
        each.question
        for each in heard("does quay wash clear tar after 3 washes, after 10").readings
    ]
    assert 'does "Quay Wash" clear "Tar" after 3 rounds' in asked
    assert 'does "Quay Wash" clear "Tar" after 10 rounds' in asked


def test_of_two_questions_neither_is_answered_alone() -> None:
    """The one leaves the other aside."""
    found = heard("what are resins and which resins are in reed cream")
    assert not any(each.sure for each in found.readings)


def test_what_the_first_could_mean_too_stands_beside_it() -> None:
    """Of all and of some; with its condition and without."""
    asked = [each.question for each in heard("purple washes clear tar").readings]
    assert asked[0] == 'is it true that washes clear "Tar"'
    assert 'is it true that some washes clear "Tar"' in asked


def test_what_is_told_of_my_own_is_no_claim_about_all() -> None:
    """`my cream has tar in it` is asked about; a product that has a name is one."""
    assert "my" in left("my cream has tar in it")
    assert not first("my cream has tar in it").sure
    assert left("my reed cream has tar in it") == []
    assert first("my reed cream has tar in it").sure


def test_what_would_be_without_something_is_asked_about() -> None:
    """`would it … without X` supposes another label, which the reading does not."""
    reading = heard("would quay wash still be resin free without the lye").readings[0]
    assert not reading.sure


@pytest.mark.parametrize(
    ("text", "never"),
    [
        ("quay wash only, no cream: dull after all", "creams"),
        ("does reed cream leave anything behind itself", "not"),
        ("is reed cream free of build-up because it has no resin", "so that"),
    ],
)
def test_no_reading_turns_the_sense_round(text: str, never: str) -> None:
    """What is denied is not asserted, and nothing is denied that was not."""
    questions = [each.question for each in heard(text).readings]
    assert all(never not in each.split() for each in questions) or never == "so that"
    assert not any("so that" in each and "builds up" in each for each in questions)


def test_an_exact_reading_is_not_asked_back() -> None:
    """The others leave something aside; with a step or a denial it is asked."""
    text = "does quay wash take the tar of reed cream off, and the resin too?"
    assert heard(text).readings[0].sure
    assert not heard("so tar is no resin, does quay wash take tar off").readings[0].sure


def test_nothing_else_is_no_denial_of_it() -> None:
    """`Only lye, nothing else takes tar off` does not say that lye takes nothing."""
    found = heard("only use lye because nothing else takes tar off").readings
    assert not any("nothing" in each.question for each in found)


def test_why_is_asked_first_and_of_both() -> None:
    """`but reed wash not`: what sets the two apart; what asks no why stands last."""
    found = first("why does quay wash take tar off but reed wash doesn't")
    assert found.question == 'why does "Quay Wash" clear "Tar" unlike "Reed Wash"'
    assert not found.unread


def test_what_is_hard_to_wash_out_is_not_said_to_go() -> None:
    """No statement that a wash takes it off is offered; which do can be asked."""
    found = heard("is reed cream hard to wash out").readings
    assert found
    assert not any(each.question.startswith("is it true") for each in found)
