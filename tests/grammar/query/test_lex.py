"""Query text to words."""

import pytest
from abluent.grammar.query.lex import lex
from hypothesis import given
from hypothesis import strategies as st

KINDS = [
    ("which washes clear gums?", "WHICH WORD CLEAR WORD"),
    ("WHICH Washes CLEARS gums .", "WHICH WORD CLEAR WORD"),
    ('does "A" clear “B” from «C»', "DOES QUOTED CLEAR QUOTED FROM QUOTED"),
    ("does 'Nana's Balm' clear \u2018B\u2019", "DOES QUOTED CLEAR QUOTED"),
    ("Nana's l'eau", "WORD WORD"),
    ('"an ""odd"" name"', "QUOTED"),
    ('"open', "STRAY WORD"),
    ("on my shelf", "ON_MY_SHELF"),
    ("on my mind", "WORD WORD WORD"),
    ("is it  true   that", "IT_IS_TRUE"),
    ("is it true", "IT_IS_TRUE"),
    ("at 5 %", "AT NUMBER PERCENT"),
    ("at 1.5-2%", "AT NUMBER TO NUMBER PERCENT"),
    ("at 1 to 2 percent", "AT NUMBER TO NUMBER PERCENT"),
    ("oil of roses to go at home", "WORD WORD WORD WORD WORD WORD WORD"),
    ("at least 2 of gums", "AT_LEAST NUMBER OF WORD"),
    ("first 3", "FIRST NUMBER"),
    ("first wash", "WORD WORD"),
    ("polysorbate 20", "WORD NUMBER"),
    ("1,2-hexanediol", "WORD"),
    ("peg-12, gums", "WORD COMMA WORD"),
    ("clear a and b", "CLEAR ARTICLE AND WORD"),
    ("gums and leave soap", "WORD AND_ALSO LEAVE WORD"),
    ("gums or not leave soap", "WORD OR_ELSE NOT LEAVE WORD"),
    ("gums and not soap", "WORD AND NOT WORD"),
    ("gums and (not (clear soap))", "WORD AND_ALSO LPAR NOT LPAR CLEAR WORD RPAR RPAR"),
    ("gums, leave soap", "WORD AND_ALSO LEAVE WORD"),
    ("gums, and soap", "WORD AND WORD"),
    ("gums, mildest first", "WORD MILDEST"),
    ("gums; soap", "WORD STRAY WORD"),
    ("", ""),
    (" ?! ", ""),
]


@pytest.mark.parametrize(("text", "kinds"), KINDS)
def test_kinds_of_word(text: str, kinds: str) -> None:
    """Each word has its kind, by its spelling and the words beside it."""
    assert " ".join(word.kind for word in lex(text)) == kinds


@given(text=st.text(max_size=40))
def test_words_stand_where_they_say(text: str) -> None:
    """Spans are in order, do not overlap, and hold what the words spell."""
    end = 0
    for word in lex(text):
        assert word.start >= end
        assert text[word.start : word.end] == word.text
        end = word.end


def test_the_end_of_an_unfinished_text_is_kept() -> None:
    """While a question is being typed, no mark at its end is dropped."""
    assert [word.text for word in lex("gums ?", whole=False)] == ["gums", "?"]
