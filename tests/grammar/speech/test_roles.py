"""What of a text is asked and what is only said."""

from __future__ import annotations

import pytest
from quay import heard


def said(text: str) -> list[str]:
    """What a text only says, as it was typed."""
    return [text[span.start : span.end] for span in heard(text).said]


@pytest.mark.parametrize(
    ("text", "question", "told"),
    [
        (
            "does quay wash build up? it has tar and pitch.",
            'does "Quay Wash" build up',
            ["it has tar and pitch"],
        ),
        (
            "how harsh is quay wash? the bottle lists no lyes, and it is cheap",
            'how mild is "Quay Wash"',
            ["the bottle lists no lyes"],
        ),
        (
            "reed cream has tar in it. does quay wash take it off",
            'does "Quay Wash" clear "Tar" from "Reed Cream"',
            ["reed cream has tar in it"],
        ),
        (
            "both have lyes, so does quay wash take tar off",
            'does "Quay Wash" clear "Tar"',
            ["both have lyes"],
        ),
    ],
)
def test_what_is_asked_comes_first_and_the_rest_is_told(
    text: str, question: str, told: list[str]
) -> None:
    """A fact is not asked before the question, and is never passed over."""
    found = heard(text)
    assert found.readings[0].question == question
    assert [each for each in said(text) if each in told] == told


@pytest.mark.parametrize(
    "text",
    [
        "quay wash has lye so it takes tar off?",
        "my boss says tar never builds up. is that so",
        "tar builds up. pitch does not",
        "why does quay wash take tar off but reed wash does not",
        "quay wash takes tar off, doesn't it",
        "tar does build up and quay wash will take it off",
    ],
)
def test_a_claim_is_not_only_said(text: str) -> None:
    """A step, what somebody says, and a text that asks nothing are judged."""
    assert not said(text)


def test_a_fact_is_welded_to_no_question() -> None:
    """What is asked is not judged together with what is only said."""
    found = heard("does quay wash build up? it has tar and pitch.")
    assert not any("and also" in each.question for each in found.readings)


def test_no_part_says_less_than_another() -> None:
    """Two parts of an offer are two questions, and none the other with less in it."""
    found = heard("will quay wash take tar off, or do I have to get tar off reed cream")
    parts = [each.question for each in found.readings[: found.parts]]
    assert 'does "Quay Wash" clear "Tar"' not in parts[1:]


@pytest.mark.parametrize(
    ("text", "question"),
    [
        (
            "reed cream flakes. does water wash it out or do I need shampoo",
            'does water clear everything from "Reed Cream"',
        ),
        (
            "does quay wash take tar off, or only reed wash?",
            'which of "Quay Wash" and "Reed Wash" clear "Tar"',
        ),
        (
            "will quay wash take tar off or do I need reed wash",
            'which of "Quay Wash" and "Reed Wash" clear "Tar"',
        ),
        (
            "does quay wash take tar off or just the pitch",
            'which of "Tar" and "Pitch" does "Quay Wash" clear',
        ),
        (
            "why would quay wash take tar off but reed wash not, reed wash has lye too",
            'why does "Quay Wash" clear "Tar" unlike "Reed Wash"',
        ),
        (
            "why does quay wash take tar off when it has no lye, and reed wash, also "
            "without lye, can't",
            'why does "Quay Wash" clear "Tar" unlike "Reed Wash"',
        ),
        (
            "reed cream leaves my hair coated. what is the coat?",
            'what does "Reed Cream" leave',
        ),
        (
            "which is harsher, the quay one or the reed wash one, given that only one "
            "has lye in it?",
            'rank "Quay Wash" and "Reed Wash"',
        ),
        (
            "does each quay wash take tar off",
            'does "Quay Wash" clear "Tar"',
        ),
        (
            "quay wash has lye, that's why it takes tar off",
            'is it true that "Quay Wash" contains "Lye", so that "Quay Wash" clears '
            '"Tar"',
        ),
    ],
)
def test_the_second_half_of_a_question_is_heard(text: str, question: str) -> None:
    """It adds nothing, another wash or another film, and is no fact of its own."""
    asked = [each.question for each in heard(text).readings]
    assert asked[:1] == [question]


def test_what_is_rinsed_out_is_taken_off_too() -> None:
    """A mask that is named is what is left, if it does nothing itself."""
    found = heard("does lye in reed mask get its own tar off")
    assert found.readings[0].question == 'does "Lye" clear "Tar" from "Reed Mask"'


def test_an_exact_question_is_answered_though_something_is_said() -> None:
    """What is only said is told as not used; of two things `it` is asked about."""
    text = "reed cream flakes. does water wash it out or do I need shampoo"
    first = heard(text).readings[0]
    assert first.sure
    assert first.unused == ("reed cream flakes",)
    assert not heard("reed cream has tar. does water wash it out").readings[0].sure
    assert not any(
        each.sure for each in heard("my water is 320 ppm. which wash").readings
    )


@pytest.mark.parametrize(
    ("text", "question"),
    [
        ("tar builds up like crazy", 'is it true that "Tar" builds up'),
        ("how mild is quay wash exactly", 'how mild is "Quay Wash"'),
        ("rank my five shampoos from mild to harsh", "rank washes"),
    ],
)
def test_words_that_say_no_more_leave_nothing_aside(text: str, question: str) -> None:
    """A number of all that there are, and what only stresses, is no matter."""
    first = heard(text).readings[0]
    assert (first.question, first.unread) == (question, ())


def test_a_cry_for_help_is_no_claim() -> None:
    """It is not answered as whether nothing helps."""
    found = heard("reed cream won't come out of my hair help").readings
    assert not any(each.sure for each in found)
