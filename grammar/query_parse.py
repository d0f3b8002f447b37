"""Query text to syntax tree."""

from __future__ import annotations

from functools import lru_cache
from typing import cast

from abluent.grammar._lalr import Stack, Stuck, Tables
from abluent.grammar._lalr_tables import tables
from abluent.grammar.errors import GrammarError, Span
from abluent.grammar.query_ast import Query
from abluent.grammar.query_build import Misread
from abluent.grammar.query_forms import Builder
from abluent.grammar.query_lex import lex
from abluent.grammar.query_words import grammar_text

START = "query"


@lru_cache(maxsize=1)
def query_tables() -> Tables:
    """The parse tables of the query language."""
    return tables(grammar_text(), START)


def parse_query(text: str) -> Query:
    """Read one query.

    Raises:
        GrammarError: the text is no query; it points at the first word that
            cannot stand where it does.
    """
    stack = Stack(query_tables(), Builder())
    try:
        for word in lex(text):
            stack.feed(word)
        return cast(Query, stack.finish())
    except Stuck as problem:
        stuck = problem.word
        span = Span(stuck.start, stuck.end) if stuck else Span(len(text), len(text))
        raise GrammarError("not understood", text, span) from None
    except Misread as problem:
        raise GrammarError(str(problem), text, problem.span) from None
