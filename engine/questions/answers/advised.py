"""The lines that stand below an answer: why films stay, what to do, what is not told.

Why a film stays and what loosens it the base says of kinds, as advice; what loosens one
is left out where a claim that the answer tells already says it of such a kind.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple, TypeVar

from abluent.engine.base.contract import ISA, LISTED
from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.account import deciding
from abluent.engine.questions.answers.answer import Answer, Member, NotMember, Row
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.nearest_advice import (
    LABEL_CUE,
    LABEL_SILENCE,
    LOOSENED,
    STAYS,
    WASH_DAY,
    Advice,
    advice_on,
    told_at,
)
from abluent.engine.questions.answers.verdicts import Left, Verdict

HEADS = {WASH_DAY: "On wash day", LABEL_CUE: "On labels"}
"""What stands before a line of advice, by what it is about."""

_R = TypeVar("_R", bound=Row)
_KINDS, _NAMED = 2, 3
"""Of so many kinds of film it is told, and so many films of each are named."""


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

    Of several films it is that of which least goes, and that holds most firmly. Nothing
    where nothing of a film stays, and of answers about another answer or about an order
    of washes.
    """
    if answer.aside or answer.findings or answer.compared:
        return None
    rows = answer.rows or answer.others
    if answer.claim and answer.shown:
        rows = answer.shown  # The witness is one of those that a claim is judged by.
    staying = leading([row for row in _verdicts(rows) if not row.gone])
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
    left = leading([row for row in rows if isinstance(row, Left) and row.sure])
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
    for row in leading(found):
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


def leading(rows: Sequence[_R]) -> list[_R]:
    """Rows in the order in which an answer tells of their films."""

    def place(row: Row) -> int:
        if not isinstance(row, Left | Verdict):
            return 0
        world = row.case.world
        return told_at(world.base, row.film, world.labels.kinds_of(row.film))

    return sorted(rows, key=place)


def holding(rows: Sequence[Row], told: str = "") -> Iterator[str]:
    """Why the films of some rows stay and what loosens them, the first kinds alone.

    Args:
        rows: the rows.
        told: what the answer has told by then, which is not told again.
    """
    found: dict[str, list[Left | Verdict]] = {}
    for row in leading(rows):
        if isinstance(row, Left) or (isinstance(row, Verdict) and not row.gone):
            if stays := _advice(row, STAYS):
                found.setdefault(stays.symbol, []).append(row)
    for mine in list(found.values())[:_KINDS]:
        base = mine[0].case.world.base
        names = listed(list(dict.fromkeys(base.label(e.film) for e in mine)), _NAMED)
        who = f" ({names})" if len(found) > 1 else ""
        parts = [
            f"{head}{who}: {each.text}"
            for head, each in _said_of(mine)
            if each.text not in told
        ]
        if parts:
            yield " ".join(
                [parts[0], *(part.replace(who, "", 1) for part in parts[1:])]
            )


def _said_of(rows: Sequence[Left | Verdict]) -> Iterator[tuple[str, Advice]]:
    """What is told of films of one kind, each with what stands before it."""
    if stays := _advice(rows[0], STAYS):
        yield "Why it stays", stays
    loosened = _advice(rows[0], LOOSENED)
    if loosened and not all(_said(row, loosened) for row in rows):
        yield "What loosens it", loosened


def loosening(row: Verdict) -> str:
    """What loosens the film of a verdict, where no claim that it rests on says it."""
    told = None if row.gone else _advice(row, LOOSENED)
    return "" if told is None or _said(row, told) else f"What loosens it: {told.text}"


def _advice(row: Left | Verdict, matter: str) -> Advice | None:
    kinds = row.case.world.labels.kinds_of(row.film)
    base = row.case.world.base
    return advice_on(base, matter, row.film, side=Role.FILM, kinds=kinds)


def _said(row: Left | Verdict, told: Advice) -> bool:
    """Whether a claim that a verdict rests on says what loosens such a kind."""
    if not isinstance(row, Verdict):
        return False
    base = row.case.world.base
    none = base.term(Role.NONE_OF_IT)
    claims = [base.record(each) for each in deciding(row)]
    loosening = [each for each in claims if each.link("atLeast") not in {None, none}]
    spoken = [kind for each in loosening for kind in each.links("film")]
    kinds = {
        c for k in spoken for c in ([k] if base.is_class(k) else base.classes_of(k))
    }
    return any(told.about in base.ancestors(kind) for kind in kinds)
