"""What the base advises about a kind, or else about the nearest kind above it.

Advice is a sentence to be said aloud beside an answer: what to look for on a label,
what to do on wash day, what no label tells, what a kind does. It proves nothing, and
is proven by nothing; it has a standing and sources as everything else has.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis

LABEL_CUE = "labelCue"
"""What to look for on a label."""

LABEL_SILENCE = "labelSilence"
"""What no label tells, and what yet matters."""

LOOSENED = "loosenedBy"
"""What loosens a film from hair."""

MOST = "mostBy"
"""Which cleansers are counted on to take most of a film in one wash."""

STAYS = "staysBy"
"""What holds a film on hair."""

TOLD_AT = "toldAt"
"""Where an answer tells of films of a kind."""

WASH_DAY = "washDayAdvice"
"""What to do on wash day."""

WHAT_IT_DOES = "whatItDoes"
"""What a kind does, in the bottle or on hair."""

TRIED_WITH = "triedWith"
"""By whose wash it is told how far a kind of film goes."""

_LAST = 99
"""After every place that the base gives."""


class Advice(NamedTuple):
    """One sentence of advice.

    Args:
        symbol: the record that says it.
        about: the kind, or the thing itself, that it is said of.
        text: the sentence.
        basis: its standing, its sources, and whether it is from memory.
    """

    symbol: str
    about: str
    text: str
    basis: Basis


def advice_on(
    base: Base,
    matter: str,
    symbol: str,
    *,
    side: Role | None = None,
    kinds: Iterable[str] = (),
) -> Advice | None:
    """The advice on a kind or thing that is nearest to it, if there is any.

    Args:
        base: what is known.
        matter: one of the properties above, such as `WASH_DAY`.
        symbol: a class, or a thing of the base.
        side: look among the kinds of this alone: a conditioning agent is advised on
            as a film where it is to be washed off, and else as what cleans.
        kinds: the classes of a thing that the base does not list.
    """
    own = [symbol] if symbol in base and not base.is_class(symbol) else []
    for each in [*own, *_nearest(base, symbol, side, kinds)]:
        told = base.record(each).link(matter)
        if told is not None:
            record = base.record(told)
            text = record.text("statement") or base.label(told)
            return Advice(told, each, text, record.basis)
    return None


def takes_most(
    base: Base, film: str, agents: Iterable[str], kinds: Iterable[str] = ()
) -> bool:
    """Whether one of some agents is counted on to take most of a film in one wash."""
    of = _nearest(base, film, Role.FILM, kinds)
    wanted = next(filter(None, (set(base.record(e).links(MOST)) for e in of)), set())
    return any(wanted & {e, *base.classes_of(e)} for e in agents if e in base)


def told_at(base: Base, film: str, kinds: Iterable[str] = ()) -> int:
    """Where an answer tells of a film, the least first.

    First come films that hold most firmly and that people ask about most.
    """
    for each in _nearest(base, film, Role.FILM, kinds):
        place = base.record(each).number(TOLD_AT)
        if place is not None:
            return int(place)
    return _LAST


def tried_with(base: Base, symbol: str, kinds: Iterable[str] = ()) -> list[str]:
    """The ingredients by whose washes it is told how far a film goes."""
    kinds_ = _nearest(base, symbol, Role.FILM, kinds)
    told = (base.record(each).links(TRIED_WITH) for each in kinds_)
    return next(filter(None, told), [])


def _nearest(
    base: Base, symbol: str, side: Role | None, kinds: Iterable[str]
) -> list[str]:
    """The kinds of a thing that the base describes, the nearest first."""
    found = {*kinds}
    if base.is_class(symbol):
        found.add(symbol)
    elif symbol in base:
        found.update(base.classes_of(symbol))
    above = {each: base.ancestors(each) for each in found}
    above = {up: base.ancestors(up) for ups in above.values() for up in ups}
    if side is not None:
        top = base.term(side)
        above = {each: ups for each, ups in above.items() if top in ups}
    ordered = sorted(above, key=lambda kind: (-len(above[kind]), kind))
    return [each for each in ordered if each in base]
