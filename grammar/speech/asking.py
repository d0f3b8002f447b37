"""A reading of a clause as a question of the language."""

from __future__ import annotations

from abluent.grammar.common.record import Record, replace
from abluent.grammar.frames.clause import Said
from abluent.grammar.query import tree as q


class Offer(Record):
    """A question, the places it is read from, and what speaks against it.

    `guess` tells that no verb of the text says so much.
    """

    query: q.Query
    used: frozenset[int]
    doubt: float
    guess: bool = False


def statement_of(each: Said) -> q.Statement:
    """The statement of a reading that makes one."""
    assert each.subject is not None
    assert each.predicate is not None
    return q.Statement(each.subject, each.predicate)


_ASPECTS = (
    ("sure", q.Aspect.SURE),
    ("change", q.Aspect.CHANGE),
    ("evidence", q.Aspect.SOURCES),
)


def as_query(each: Said, asks: frozenset[str]) -> q.Query:
    """A question for what one clause says.

    Args:
        each: what it says.
        asks: how the text asks, by the keys of its words.
    """
    if each.asked is not None:
        return each.asked
    statement = statement_of(each)
    about = next((aspect for key, aspect in _ASPECTS if key in asks), None)
    if about is not None:
        return q.About(about, _claim(statement))
    if "why" in asks:
        return _why(each, statement)
    asking = bool(asks & {"whether", "question"})
    if asking and each.single:
        return q.Whether(statement)
    return _claim(statement)


def _claim(statement: q.Statement) -> q.Claim:
    return q.Claim(statement)


def _why(each: Said, statement: q.Statement) -> q.Query:
    negative = isinstance(each.predicate, q.Not)
    if negative and isinstance(each.predicate, q.Not):
        statement = replace(statement, predicate=each.predicate.part)
    return q.About(q.Aspect.WHY, _matter(each, statement), negative)


def _matter(each: Said, statement: q.Statement) -> q.Whether | q.Claim:
    return q.Whether(statement) if each.single else q.Claim(statement)
