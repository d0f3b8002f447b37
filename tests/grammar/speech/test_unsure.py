"""What is left aside, asked about first, or never offered at all."""

from __future__ import annotations

import pytest
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer import print_query
from hypothesis import given
from hypothesis import strategies as st
from quay import NAMES, heard


def test_what_is_left_aside_is_marked() -> None:
    """Nothing that matters is dropped in silence, and then nothing is sure."""
    text = "purple quay wash removes tar"
    (reading, *_) = heard(text).readings
    assert [text[s.start : s.end] for s in reading.unread] == ["purple"]
    assert not reading.sure


@pytest.mark.parametrize("text", ["tar - whats in it", "what's in there - tar"])
def test_what_is_in_a_thing_is_not_what_it_is(text: str) -> None:
    """What an ingredient is made of is no question here: what it is, is asked about."""
    (reading, *_) = heard(text).readings
    assert reading.question == 'what is "Tar"'
    assert not reading.sure


@pytest.mark.parametrize("text", ["resinz build up", "the pomade builds up"])
def test_a_slip_or_a_narrower_word_is_not_sure(text: str) -> None:
    """What was mended or widened is asked about before it is answered."""
    (reading, *_) = heard(text).readings
    assert not reading.sure


@pytest.mark.parametrize(
    "text",
    [
        "at most quay wash removes tar",
        "quay wash removes tar except in summer",
        "quay wash removes less tar",
        "quay wash removes most tar",
        "two products contain tar",
    ],
)
def test_a_word_that_turns_the_sense_is_never_passed_over(text: str) -> None:
    """What no frame takes of quantity, exception or degree stays in sight."""
    assert not any(reading.sure for reading in heard(text).readings)


def test_a_condition_that_is_lacking_is_not_stated() -> None:
    """`without hard water` is no `in hard water`."""
    (reading, *_) = heard("without hard water quay wash removes tar").readings
    assert "hard water" not in reading.question
    assert reading.unread


@pytest.mark.parametrize(
    "text",
    ["", "?", "purple monday spoons", "tar", "for i in range(10): print(i)", "wash"],
)
def test_a_senseless_line_is_refused(text: str) -> None:
    """What says nothing of what is known is not made to say something."""
    assert not any(each.sure for each in heard(text).readings)


_WORDS = st.lists(
    st.one_of(
        st.sampled_from(sorted(NAMES)),
        st.sampled_from(
            "removes leaves builds up off without no never only every than so but "
            "because , . ? : which what why is harder better in 2 % -cone".split()
        ),
        st.text(max_size=5),
    ),
    max_size=14,
).map(" ".join)


@pytest.mark.slow
@given(_WORDS)
def test_whatever_is_offered_is_a_question(text: str) -> None:
    """It is read back as the same, and its marks lie within the text."""
    for reading in heard(text).readings:
        assert print_query(parse_query(reading.question)) == reading.question
        assert all(0 <= s.start < s.end <= len(text) for s in reading.unread)


@pytest.mark.parametrize("text", ["is there tar in reed cream", "lye without lye wash"])
def test_nothing_is_offered_that_cannot_be(text: str) -> None:
    """No product stands on a label, and nothing is with and without the same."""
    for reading in heard(text).readings:
        assert 'with "Reed Cream"' not in reading.question
        assert 'with "Lye" without "Lye"' not in reading.question
