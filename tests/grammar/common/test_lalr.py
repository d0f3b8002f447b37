"""The table runner takes exactly the texts that Lark's own parser takes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from abluent.grammar.common import lalr_tables
from abluent.grammar.common.lalr import END, Stack, Stuck
from abluent.grammar.query.lex import Lexeme, lex
from abluent.grammar.query.read import START, query_tables
from abluent.grammar.query.words import grammar_text, spellings
from hypothesis import given, settings
from hypothesis import strategies as st
from lark import Lark, Token
from lark.exceptions import UnexpectedToken
from lark.lexer import Lexer

CASES = Path(__file__).parents[2] / "cases" / "queries.txt"
LINES = [
    line for line in CASES.read_text("utf-8").splitlines() if line and line[0] != "#"
]
GRAMMAR = """
start: greeting NAME mark?
greeting: HELLO | GOOD DAY -> day
_twice: NAME NAME
?mark: STOP | STOP STOP -> double
HELLO: "hello"
GOOD: "good"
DAY: "day"
NAME: "name"
STOP: "!"
"""


class _Kinds(Lexer):
    """Reads a text that is a row of kinds of word."""

    __future_interface__ = 2

    def __init__(self, conf: Any) -> None:
        pass

    def lex(self, lexer_state: Any, parser_state: Any) -> Iterator[Token]:
        for kind in lexer_state.text.text.split():
            yield Token(kind, kind)


LARK = Lark(grammar_text(), parser="lalr", lexer=_Kinds, start=START)


def _lark_takes(kinds: list[str]) -> bool:
    try:
        LARK.parse(" ".join(kinds))
    except UnexpectedToken:
        return False
    return True


def _taken(kinds: list[str]) -> bool:
    stack = Stack(query_tables())
    try:
        for kind in kinds:
            stack.feed(Lexeme(kind, kind, 0, 0))
        stack.finish()
    except Stuck:
        return False
    return True


KINDS = sorted([*spellings(), "QUOTED", "WORD", "NUMBER", "AND_ALSO", "OR_ELSE"])
ROWS = st.builds(
    lambda line, at, kinds, cut: (
        [word.kind for word in lex(line)][:at]
        + kinds
        + [word.kind for word in lex(line)][at + cut :]
    ),
    st.sampled_from(LINES),
    st.integers(0, 12),
    st.lists(st.sampled_from(KINDS), max_size=2),
    st.integers(0, 2),
)


@pytest.mark.slow
@given(kinds=ROWS)
@settings(max_examples=400, deadline=None)
def test_takes_what_lark_takes(kinds: list[str]) -> None:
    """Questions with words put in, taken out or put in the place of others."""
    assert _taken(kinds) == _lark_takes(kinds)


@pytest.mark.slow
@given(kinds=ROWS)
@settings(max_examples=60, deadline=None)
def test_foretells_the_next_word(kinds: list[str]) -> None:
    """What is said to be accepted is exactly what can be fed."""
    stack = Stack(query_tables())
    for at, kind in enumerate(kinds):
        accepted = stack.accepts()
        for other in KINDS:
            twin = stack.copy()
            if other in accepted:
                twin.feed(Lexeme(other, other, 0, 0))
            else:
                with pytest.raises(Stuck):
                    twin.feed(Lexeme(other, other, 0, 0))
        if kind not in accepted:
            assert END not in accepted or _taken(kinds[:at])
            return
        stack.feed(Lexeme(kind, kind, 0, 0))


class Greeter:
    """Builds what the small grammar reads."""

    def start(self, parts: list[Any]) -> tuple[Any, ...]:
        return tuple(getattr(part, "text", part) for part in parts)

    def greeting(self, parts: list[Any]) -> str:
        return "hello"

    def day(self, parts: list[Any]) -> str:
        return "by day"

    def double(self, parts: list[Any]) -> str:
        return "!!"


@pytest.mark.parametrize(
    ("text", "built"),
    [
        ("HELLO NAME", ("hello", "NAME")),
        ("GOOD DAY NAME STOP", ("by day", "NAME", "STOP")),
        ("HELLO NAME STOP STOP", ("hello", "NAME", "!!")),
    ],
)
def test_builds_as_the_grammar_says(text: str, built: tuple[str, ...]) -> None:
    """Aliases, optional parts and single parts come out as in Lark."""
    stack = Stack(lalr_tables.compile_tables(GRAMMAR, "start"), Greeter())
    for kind in text.split():
        stack.feed(Lexeme(kind, kind, 0, 0))
    assert stack.finish() == built


def test_tables_are_kept_and_recalled(tmp_path: Path) -> None:
    """The second time, the tables come from the file, and are the same."""
    made = lalr_tables.tables(GRAMMAR, "start", str(tmp_path))
    (kept,) = tmp_path.iterdir()
    assert lalr_tables._recall(str(kept), GRAMMAR) == made
    assert lalr_tables.tables(GRAMMAR, "start", str(tmp_path)) == made


@pytest.mark.parametrize("spoiled", [b"", b"what\never", None])
def test_a_spoiled_file_is_made_anew(tmp_path: Path, spoiled: bytes | None) -> None:
    """A file cut short or changed is not read."""
    made = lalr_tables.tables(GRAMMAR, "start", str(tmp_path))
    (kept,) = tmp_path.iterdir()
    content = kept.read_bytes()
    kept.write_bytes(content[:-9] if spoiled is None else spoiled)
    assert lalr_tables.tables(GRAMMAR, "start", str(tmp_path)) == made
    assert kept.read_bytes() == content


def test_another_grammar_is_not_mistaken_for_it(tmp_path: Path) -> None:
    """Tables belong to one text of the grammar."""
    lalr_tables.tables(GRAMMAR, "start", str(tmp_path))
    changed = GRAMMAR.replace("mark?", "mark")
    tables = lalr_tables.tables(changed, "start", str(tmp_path))
    assert tables == lalr_tables.compile_tables(changed, "start")


def test_a_folder_that_cannot_be_written_is_no_harm(tmp_path: Path) -> None:
    """Without a cache, tables are made each time."""
    blocked = tmp_path / "file"
    blocked.write_text("not a folder", "utf-8")
    made = lalr_tables.tables(GRAMMAR, "start", str(blocked / "below"))
    assert made == lalr_tables.compile_tables(GRAMMAR, "start")
