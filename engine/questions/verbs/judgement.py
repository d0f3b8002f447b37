"""What came of judging one thing, and how such judgements are joined."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple, TypeAlias

from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.world.items import Item
from abluent.engine.questions.world.nouns import UnknownName
from abluent.grammar.query import tree as q
from abluent.grammar.query.meaning import quantity


class Judged(NamedTuple):
    """What came of one thing: whether it is so, and the rows that show it."""

    truth: bool | None
    rows: tuple[Row, ...] = ()


Judgements: TypeAlias = Mapping[Item, Judged]


class Unanswerable(UnknownName):
    """A question that cannot be asked of these things; the message says why."""

    def __init__(self, message: str, span: object = None) -> None:
        super().__init__("", "", (), span)
        self.args = (message,)


class NothingBefore(Unanswerable):
    """A question about an answer before it, of which there is none."""


def all_true(truths: Sequence[bool | None]) -> bool | None:
    """False if one is, open if one is, else true."""
    if any(truth is False for truth in truths):
        return False
    return None if None in truths else True


def any_true(truths: Sequence[bool | None]) -> bool | None:
    """True if one is, open if one is, else false."""
    if any(truths):
        return True
    return None if None in truths else False


def all_of(parts: Sequence[Judged]) -> Judged:
    """Every part, with the rows of all."""
    rows = tuple(row for part in parts for row in part.rows)
    return Judged(all_true([part.truth for part in parts]), rows)


def any_of(parts: Sequence[Judged]) -> Judged:
    """Some part, with the rows of all."""
    rows = tuple(row for part in parts for row in part.rows)
    return Judged(any_true([part.truth for part in parts]), rows)


def negated(judged: Judged) -> Judged:
    """The opposite; what is open stays open."""
    truth = None if judged.truth is None else not judged.truth
    return Judged(truth, judged.rows)


def enough(said: q.Predicate, count: int, whole: int | None) -> bool:
    """Whether so many of a verb's objects are what its quantity asks for.

    Args:
        said: the verb.
        count: for how many it is so.
        whole: of how many, for `every`; not needed for the others.
    """
    asked = getattr(getattr(said, "object", None), "count", None) or 0
    match quantity(said):
        case q.Quantity.AT_LEAST:
            return count >= asked
        case q.Quantity.AT_MOST:
            return count <= asked
        case q.Quantity.EXACTLY:
            return count == asked
        case q.Quantity.EVERY if whole is not None:
            return count == whole
        case _:
            return count > 0
