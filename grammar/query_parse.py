"""Query text to syntax tree; the only query module that touches Lark."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any, cast

from abluent.grammar.errors import GrammarError, Span
from abluent.grammar.query_ast import Query
from abluent.grammar.query_build import Misread
from abluent.grammar.query_forms import Builder
from abluent.grammar.query_lex import lex
from abluent.grammar.query_words import grammar_text
from lark import Lark, Token
from lark.common import LexerConf
from lark.exceptions import UnexpectedToken
from lark.lexer import Lexer


def parse_query(text: str) -> Query:
    """Read one query.

    Raises:
        GrammarError: the text is no query; it points at the first word that
            cannot stand where it does.
    """
    try:
        return cast(Query, _parser().parse(text))
    except UnexpectedToken as problem:
        start = len(text) if problem.token.type == "$END" else problem.token.start_pos
        end = start + len(problem.token)
        raise GrammarError("not understood", text, Span(start, end)) from None
    except Misread as problem:
        raise GrammarError(str(problem), text, problem.span) from None


class _Words(Lexer):
    """The language's own lexer in the shape that Lark asks for."""

    __future_interface__ = 2

    def __init__(self, conf: LexerConf) -> None:
        pass

    def lex(self, lexer_state: Any, parser_state: Any) -> Iterator[Token]:
        for word in lex(lexer_state.text.text):
            yield Token(word.kind, word.text, word.start, end_pos=word.end)


@lru_cache(maxsize=1)
def _parser() -> Lark:
    return Lark(
        grammar_text(),
        parser="lalr",
        lexer=_Words,
        start="query",
        keep_all_tokens=True,
        maybe_placeholders=False,
        transformer=Builder(),
    )
