"""Query text to syntax tree, or the word and the state in which reading stuck.

`parse` is the same with messages for people.
"""

from __future__ import annotations

from functools import lru_cache
from typing import cast

from abluent.grammar.common.errors import Span
from abluent.grammar.common.lalr import Stack, Tables
from abluent.grammar.common.lalr_tables import tables
from abluent.grammar.query.build import Misread
from abluent.grammar.query.forms import Builder
from abluent.grammar.query.lex import lex
from abluent.grammar.query.tree import Query
from abluent.grammar.query.words import grammar_text

START = "query"
DEEPEST = 100
"""How many brackets, clauses and denials a question may have: each can be inside
the one before, and what walks the tree walks as deep."""
_NESTING = frozenset({"LPAR", "THAT", "NOT", "DOESNT", "DOES", "EXCEPT"})


@lru_cache(maxsize=1)
def query_tables() -> Tables:
    """The parse tables of the query language."""
    return tables(grammar_text(), START)


def read_query(text: str) -> Query:
    """Read one query.

    Raises:
        Stuck: a word cannot stand where it does.
        Misread: the words are in an order that means nothing.
    """
    words = lex(text)
    nested = [word for word in words if word.kind in _NESTING]
    if len(nested) > DEEPEST:
        deep = nested[DEEPEST]
        raise Misread(
            f"A question may have {DEEPEST} brackets and clauses; name a part of it "
            "with `let`.",
            Span(deep.start, deep.end),
        )
    stack = Stack(query_tables(), Builder())
    for word in words:
        stack.feed(word)
    return cast(Query, stack.finish())
