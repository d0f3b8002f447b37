"""Text that cannot move a cursor, turn a line round or break a page."""

from __future__ import annotations

import json
import re
import unicodedata

import pytest
from abluent.grammar.common.text import (
    code,
    escaped,
    one_line,
    unmoving,
    visible,
    wrapped,
)
from hypothesis import given
from hypothesis import strategies as st


@given(st.text())
def test_nothing_unseen_reaches_the_terminal(text: str) -> None:
    assert all(
        unicodedata.category(c) not in {"Cc", "Cf", "Cs", "Zl", "Zp"}
        for c in visible(text)
    )


def test_an_unseen_character_is_written_out() -> None:
    assert visible("a\x1b[2Jb\u202ec\n") == r"a\x1b[2Jb\u202ec\n"
    assert visible("a\nb", keep="\n") == "a\nb"
    assert one_line(" Aqua,\n\tParfum ") == "Aqua, Parfum"


@given(st.text(), st.integers(10, 120))
def test_lines_fit_and_words_are_kept(text: str, width: int) -> None:
    page = wrapped(text, width, "1. ")
    assert all(len(line) <= max(24, width) for line in page.split("\n"))
    assert "".join(page.split()).removeprefix("1.") == "".join(one_line(text).split())


def test_a_hyphened_name_is_not_broken() -> None:
    page = wrapped("it leaves a film of PEG-12 Dimethicone on hair", 24)
    assert "PEG-12" in page
    assert "PEG-\n" not in page


MARKS = "\\`*_[]<>#|~&$@"


@given(st.text(st.sampled_from(MARKS + "a1 \n-+.=")))
def test_every_mark_of_markdown_is_escaped(text: str) -> None:
    page = escaped(text)
    assert re.sub(r"\\(.)", r"\1", page) == one_line(text)
    bare = re.sub(r"\\.", "", page)
    assert not set(bare) & set(MARKS)
    assert not re.match(r"[-+=]|\d\d?[.)]", page)


def test_bare_addresses_do_not_become_links() -> None:
    page = escaped("http://a.example www.b.example c@d.example")
    assert page == r"http\://a.example www\.b.example c\@d.example"


def test_prose_stays_readable() -> None:
    said = "place 3 (1.5 %, PEG-12 Dimethicone) stands below the 1 % line."
    assert escaped(said) == said


@pytest.mark.parametrize(
    ("text", "page"),
    [
        ("Aqua", "`Aqua`"),
        ("a`b", "``a`b``"),
        ("`a``", "``` `a`` ```"),
        ("a\n|b", "`a |b`"),
        ("", "`  `"),
    ],
)
def test_code_holds_any_back_quotes(text: str, page: str) -> None:
    assert code(text) == page


@given(st.text())
def test_json_says_the_same_with_every_unseen_character_unmoving(text: str) -> None:
    """C1 controls, marks that turn text around, and what is beyond four digits."""
    shown = unmoving(json.dumps(text, ensure_ascii=False))
    assert json.loads(shown) == text
    assert visible(shown) == shown


def test_turtle_writes_what_is_beyond_four_digits_in_eight() -> None:
    assert unmoving('"\x9b\U000e0001"', "\\U{:08x}") == '"\\u009b\\U000e0001"'
