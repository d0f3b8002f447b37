"""What may not lawfully stand in a product, by market, kind and day.

Two things are told of a line: that its ingredient is forbidden in such a product, and
that the share which the label states for it is above a limit. A level that is only
worked out breaks no limit here, as the limit went into working it out. What a rule
means for one product is for whoever applies it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Literal, NamedTuple, TypeAlias

from abluent.engine.amounts._law import _binding, _Figure, _Figures
from abluent.engine.amounts._rows import Item
from abluent.engine.amounts.label_levels import LabelFacts
from abluent.engine.base.store import Base
from abluent.engine.logic.terms import Interval
from abluent.engine.reading.readings import ReadLabel

Breach: TypeAlias = Literal["forbidden", "above the limit"]
LOCAL = "Local rules, and whoever applies them, come first."
"""What is told beside all that law says."""
WRONG = {"forbidden": "is forbidden", "above the limit": "is above a limit"}
"""What is said of a line, by what is wrong."""
Rules: TypeAlias = Sequence[_Figure]


class Unlawful(NamedTuple):
    """What law says against a line of a label.

    Args:
        place: the place of the line.
        ingredient: the symbol of its ingredient.
        breach: what is wrong.
        rule: the symbol of the ban or limit.
        sold_until: the day before which older stock may still be sold; empty if none.
        in_part: whether the rule takes in only some products of the kind.
    """

    place: int
    ingredient: str
    breach: Breach
    rule: str
    sold_until: str = ""
    in_part: bool = False


_OTHER_LAW = ("LabelRule", "ContentLimit")
"""What law says besides that a label may break."""


class Lawful(NamedTuple):
    """What was found of one label, and under which law.

    Args:
        on: the day, as `2026-01-31`.
        market: the symbol of the market; `None` if nobody said where it is sold.
        found: what may not stand there, in order of place.
        elsewhere: ingredients that some market forbids, where none was named.
        known: whether the base knows any law of that market.
    """

    on: str
    market: str | None
    found: tuple[Unlawful, ...]
    elsewhere: tuple[str, ...] = ()
    known: bool = True


def lawful(read: ReadLabel, base: Base, on: str = "") -> Lawful:
    """What may not lawfully stand in a product, by its label.

    Args:
        read: the label, with the facts of its kind and its market.
        base: the base.
        on: the day on which it is sold, as `2026-01-31`; today if empty.
    """
    facts = LabelFacts(read.facts, base, on)
    bans = [
        _Figure(base, base.record(symbol), Fraction(0), {})
        for symbol in base.instances("Prohibition")
    ]
    if facts.market is None:
        named = (i.symbol for i in facts.items if i.symbol and _named(i, bans, facts))
        return Lawful(facts.on, None, (), tuple(dict.fromkeys(named)), known=False)
    rules = [*bans, *_Figures.of(base).limits]
    here = [e for e in rules if e.holds_in(facts.market) and _starts(e) <= facts.on]
    found = [told for item in facts.items for told in _against(item, here, facts)]
    other = [base.record(e) for kind in _OTHER_LAW for e in base.instances(kind)]
    every = [*(rule.record for rule in rules), *other]
    known = any(facts.market in record.links("market") for record in every)
    return Lawful(facts.on, facts.market, tuple(sorted(found)), known=known)


def rules_on(base: Base, ingredient: str) -> list[str]:
    """The symbols of all bans and limits that name an ingredient, of any market."""
    bans = [
        _Figure(base, base.record(symbol), Fraction(0), {})
        for symbol in base.instances("Prohibition")
    ]
    kinds = base.classes_of(ingredient)
    rules = [*bans, *_Figures.of(base).limits]
    found = [each.record.symbol for each in rules if each.names(ingredient, kinds)]
    return list(dict.fromkeys(found))


def _starts(rule: _Figure) -> str:
    """The first day of a rule; one without a day has always held."""
    record = rule.record
    return record.text("inForceFrom") or record.text("offMarketFrom") or ""


def _named(item: Item, rules: Iterable[_Figure], facts: LabelFacts) -> list[_Figure]:
    symbol = item.symbol
    if symbol is None:
        return []
    return [each for each in rules if each.names(symbol, facts.listed[symbol])]


def _broken(item: Item, symbol: str, limits: Sequence[_Figure], kind: str) -> Rules:
    """Of the limits on an ingredient, those that bind it and that its share exceeds.

    Where it may be there for another use than that of a limit, that one binds not.
    """
    stated = item.stated
    if stated is None or isinstance(stated, Interval):
        return []
    return [e for e in _binding(symbol, limits, kind) if stated > e.level_of(symbol)]


def _against(
    item: Item, rules: Iterable[_Figure], facts: LabelFacts
) -> Iterator[Unlawful]:
    named, symbol = _named(item, rules, facts), item.symbol
    if symbol is None:
        return
    bans = [e for e in named if not e.high and e.covers(facts.kind) is not False]
    bounds = [each for each in named if each.high]
    broken = _broken(item, symbol, bounds, facts.kind)
    told: list[tuple[Breach, Rules]] = [
        ("forbidden", bans),
        ("above the limit", broken),
    ]
    for breach, against in told:
        for rule in against:
            until = rule.record.text("offMarketFrom") or ""
            yield Unlawful(
                item.place,
                symbol,
                breach,
                rule.record.symbol,
                until if facts.on < until else "",
                rule.covers(facts.kind) is None,
            )
