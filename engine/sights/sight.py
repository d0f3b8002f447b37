"""What a label comes to, without its product: all that judging many labels needs.

Two products of one label, kind and market have the same sight, so it is kept by
these and not by the name of a product. Where it stands on the label is left out; a
proof reads the label again.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple, TypeAlias

from abluent.engine.amounts.charge_balance import excess_terms
from abluent.engine.amounts.charges import has_both_charges
from abluent.engine.amounts.label_levels import LabelFacts
from abluent.engine.base import contract as c
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.term_data import from_plain, to_plain
from abluent.engine.logic.terms import Term
from abluent.engine.reading.labels import label_facts
from abluent.engine.reading.plain import PlainReader

_NOBODY = "sight"
Args: TypeAlias = tuple[Term, ...]


class Seen(NamedTuple):
    """A label that is to be looked at."""

    kind: str
    market: str
    text: str


class Sight(NamedTuple):
    """What a label comes to.

    Args:
        facts: facts of the label: the predicate, and the terms but for the product.
        told: facts about what only its name tells, such as its class.
        unread: the places that were not understood, as printed.
        balance: what it holds of one charge beyond the other, if that was asked and
            both stand on it: the last terms of such facts.
    """

    facts: tuple[tuple[str, Args], ...]
    told: tuple[tuple[str, Args], ...]
    unread: tuple[tuple[int, str], ...]
    balance: tuple[Args, ...] | None

    def plain(self) -> Any:
        """The sight as tuples, texts and numbers."""
        facts = tuple((name, to_plain(args)) for name, args in self.facts)
        told = tuple((name, to_plain(args)) for name, args in self.told)
        balance = None if self.balance is None else tuple(map(to_plain, self.balance))
        return facts, told, self.unread, balance

    @classmethod
    def of_plain(cls, plain: Any) -> Sight:
        """The sight that `plain` gave."""
        facts, told, unread, balance = plain
        return cls(
            tuple((name, from_plain(args)) for name, args in facts),
            tuple((name, from_plain(args)) for name, args in told),
            unread,
            None if balance is None else tuple(map(from_plain, balance)),
        )


def look(label: Seen, base: Base, *, balance: bool, practice: bool = True) -> Sight:
    """Look at a label.

    Args:
        label: the label.
        base: what it is read against.
        balance: whether to work out what it holds of one charge beyond the other.
        practice: whether what the trade usually puts in may narrow that.
    """
    plain = PlainReader.of(base).read(*label)
    if plain is None:
        return _looked_at(label, base, balance=balance, practice=practice)
    found: tuple[Args, ...] | None = None
    if balance:
        given = [Fact(name, (_NOBODY, *args)) for name, args in plain.facts]
        found = _balance([*given, *plain.told], base, practice)
    told = tuple((fact.predicate, fact.args) for fact in plain.told)
    return Sight(plain.facts, told, plain.unread, found)


def _looked_at(label: Seen, base: Base, *, balance: bool, practice: bool) -> Sight:
    """Look at a label that may be of any form."""
    read = label_facts(_NOBODY, *label, base)
    facts: list[tuple[str, Args]] = []
    told: list[tuple[str, Args]] = []
    for fact in read.facts:
        if fact.args[0] == _NOBODY:
            facts.append((fact.predicate, fact.args[1:]))
        else:
            told.append((fact.predicate, fact.args))
    places = {args[0] for name, args in facts if name == c.UNREAD_LINE}
    unread = tuple(
        (item.place, " ".join(item.printed.split()))
        for item in (read.label.items if places else ())
        if item.place in places
    )
    return Sight(
        tuple(facts),
        tuple(told),
        unread,
        _balance(read.facts, base, practice) if balance else None,
    )


def _balance(facts: Iterable[Fact], base: Base, practice: bool) -> tuple[Args, ...]:
    given = tuple(facts)
    if not has_both_charges(given, base):
        return ()
    found = excess_terms(LabelFacts(given, base), practice=practice)
    return tuple(terms[1:] for terms in found)
