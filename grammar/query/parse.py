"""Query text to syntax tree."""

from __future__ import annotations

from abluent.grammar.common.lalr import Stuck
from abluent.grammar.query.build import Misread
from abluent.grammar.query.read import read_query
from abluent.grammar.query.tree import Query


def query_in(text: str) -> Query | None:
    """The query that a text is, or nothing; no message is made."""
    try:
        return read_query(text)
    except (Stuck, Misread):
        return None


def parse_query(text: str) -> Query:
    """Read one query.

    Raises:
        QueryError: the text is no query; it points at the first word that cannot
            stand where it does, and gives the nearest question.
    """
    try:
        return read_query(text)
    except (Stuck, Misread) as problem:
        from abluent.grammar.query import errors  # noqa: PLC0415 - seldom needed

        if isinstance(problem, Misread):
            error = errors.misread(text, str(problem), problem.span)
        else:
            error = errors.unreadable(text, problem.word, problem.stack)
        raise error from None
