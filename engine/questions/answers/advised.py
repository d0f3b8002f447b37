"""The one line of advice that stands below an answer, and what no label tells of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from abluent.engine.base.contract import ISA, LISTED
from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.answer import Answer, Member, NotMember, Row
from abluent.engine.questions.answers.nearest_advice import (
    LABEL_CUE,
    LABEL_SILENCE,
    WASH_DAY,
    Advice,
    advice_on,
)
from abluent.engine.questions.answers.verdicts import Left, Verdict

HEADS = {WASH_DAY: "On wash day", LABEL_CUE: "On labels"}
"""What stands before a line of advice, by what it is about."""


class Line(NamedTuple):
    """A line of advice.

    Args:
        matter: what it is about, one of the keys of `HEADS`.
        advice: what the base advises.
        head: what stands before it.
    """

    matter: str
    advice: Advice
    head: str


def advised(answer: Answer) -> Line | None:
    """What to do on wash day about a film, or what to look for on a label.

    Of several films it is that of which least goes. Nothing where nothing of a film
    stays, for several washes on several films unless a claim is judged by them, and of
    answers about another answer or about an order of washes.
    """
    if answer.aside or answer.findings or answer.compared:
        return None
    rows = answer.rows or answer.others
    if answer.claim and answer.shown:
        rows = answer.shown  # The witness is one of those that a claim is judged by.
    staying = [row for row in _verdicts(rows) if not row.gone]
    several = len({row.wash for row in staying}) > 1
    if several and not answer.claim and len({row.film for row in staying}) > 1:
        return None
    if staying:
        row = min(staying, key=lambda each: VERDICTS.index(each.role))
        lines = {each.film: _line(each, WASH_DAY, each.film) for each in staying}
        told = {line.advice.text if line else "" for line in lines.values()}
        return _line(row, WASH_DAY, row.film, named=len(told) > 1)
    if answer.rows and all(isinstance(row, Left) for row in rows):
        return _of_left(answer.rows)
    return _of_things(answer.rows)


def _of_things(rows: Sequence[Row]) -> Line | None:
    """What to look for on a label for the first of some things."""
    for first in rows[:1]:
        if isinstance(first, Member) and first.goal[0] not in {ISA, LISTED}:
            return None
        if isinstance(first, Member | NotMember):
            return _line(first, LABEL_CUE, first.item.key)
    return None


def _of_left(rows: Sequence[Row]) -> Line | None:
    """What to do on wash day about the first film that one product surely leaves."""
    left = [row for row in rows if isinstance(row, Left) and row.sure]
    if len({row.source for row in left}) != 1:
        return None
    several = len({row.film for row in left}) > 1
    told = (_line(row, WASH_DAY, row.film, named=several) for row in left)
    return next(filter(None, told), None)


def not_on_labels(rows: Iterable[Row]) -> str:
    """What no label tells of the first film of some rows of which it matters."""
    found = [
        row
        for row in rows
        if isinstance(row, Left) or (isinstance(row, Verdict) and not row.gone)
    ]
    several = len({row.film for row in found}) > 1
    for row in found:
        base = row.case.world.base
        told = advice_on(base, LABEL_SILENCE, row.film, side=Role.FILM)
        if told is not None and several:
            return f"{base.label(row.film)}: {told.text[:1].lower()}{told.text[1:]}"
        if told is not None:
            return told.text
    return ""


def _verdicts(rows: Sequence[Row]) -> Iterator[Verdict]:
    return (row for row in rows if isinstance(row, Verdict))


def _line(row: Row, matter: str, symbol: str, *, named: bool = False) -> Line | None:
    base = row.case.world.base
    side = Role.FILM if matter == WASH_DAY else None
    kinds = row.case.world.labels.kinds_of(symbol)
    told = advice_on(base, matter, symbol, side=side, kinds=kinds)
    if told is None:
        return None
    about = f" ({base.label(symbol)})" if named else ""
    return Line(matter, told, f"{HEADS[matter]}{about}")
