"""Query text to syntax tree."""

from __future__ import annotations

from abluent.grammar._lalr import Stuck
from abluent.grammar.query_ast import Query
from abluent.grammar.query_build import Misread
from abluent.grammar.query_read import read_query


def parse_query(text: str) -> Query:
    """Read one query.

    Raises:
        QueryError: the text is no query; it points at the first word that cannot
            stand where it does, and gives the nearest question.
    """
    try:
        return read_query(text)
    except (Stuck, Misread) as problem:
        from abluent.grammar import query_errors  # noqa: PLC0415 - seldom needed

        if isinstance(problem, Misread):
            error = query_errors.misread(text, str(problem), problem.span)
        else:
            error = query_errors.unreadable(text, problem.word, problem.stack)
        raise error from None
