"""Colouring never changes what was typed."""

from __future__ import annotations

from abluent.shell.talk.colours import QuestionLexer, styled
from hypothesis import given
from hypothesis import strategies as st
from prompt_toolkit.document import Document


@given(st.text(st.characters(exclude_characters="\r\n")))
def test_the_pieces_join_to_the_line(line: str) -> None:
    assert "".join(piece[1] for piece in styled(line)) == line


def test_words_of_the_language_and_names_are_told_apart() -> None:
    pieces = styled('does "Tideline Wash" clear Dimethicone')
    assert ("class:word", "does") in pieces
    assert ("class:name", '"Tideline Wash"') in pieces
    assert ("class:word", "clear") in pieces
    assert ("", "Dimethicone") in pieces


def test_an_order_is_one_word() -> None:
    assert styled("trace last to which.md")[0] == ("class:word", "trace")


def test_a_pasted_label_stays_plain() -> None:
    line_of = QuestionLexer().lex_document(Document("Aqua,\nwhich"))
    assert line_of(1) == [("", "which")]
