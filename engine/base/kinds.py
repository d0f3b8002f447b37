"""The kinds that names mean: of products, of those that clean, and of ingredients."""

from __future__ import annotations

from collections.abc import Iterable

from abluent.engine.base.countries import country
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base


def product_kind(words: str, base: Base) -> str:
    """The kind that some words of the base mean; the other kind if they mean none."""
    kind = base.find_value(words, base.term(Role.PRODUCT_KIND))
    return kind or base.term(Role.OTHER_KIND)


def kind_words(base: Base, *, cleaning: bool = False) -> list[tuple[str, ...]]:
    """The words in which a shelf writes each kind, the ordinary wash first.

    Args:
        base: what is known.
        cleaning: only of the kinds that are sold to clean.

    The first word of each is the one that is written. The other kind comes last. A
    kind that has no `abl:word` is none that a shelf can be of.
    """
    first, last = base.term(Role.WASH), base.term(Role.OTHER_KIND)
    kinds = base.instances(base.term(Role.PRODUCT_KIND))
    ordered = [first, *(k for k in kinds if k not in (first, last)), last]
    if cleaning:
        ordered = [k for k in ordered if k in cleaning_kinds(base)]
    return [words for kind in ordered if (words := _words_of(base, kind))]


def _words_of(base: Base, kind: str) -> tuple[str, ...]:
    words = tuple(base.record(kind).texts("word"))
    return tuple(sorted(words, key=lambda word: word != base.label(kind)))


def cleaning_kinds(base: Base) -> frozenset[str]:
    """The kinds that are sold to clean."""
    kinds = base.instances(base.term(Role.PRODUCT_KIND))
    return frozenset(kind for kind in kinds if base.record(kind).truth("meantToClean"))


def taking_kinds(base: Base) -> frozenset[str]:
    """The kinds that are no washes and are used to take something off all the same."""
    kinds = base.instances(base.term(Role.PRODUCT_KIND))
    return frozenset(
        kind for kind in kinds if base.record(kind).truth("meantToTakeOff")
    )


def market(words: str, base: Base) -> str | None:
    """The market that some words mean: one of the base, or a country.

    A country whose law the base knows is the market of that law; any other goes by its
    name, and no law is known there.
    """
    if not words.strip():
        return None
    found = _market(words, base)
    if found is None and (known := country(words)) is not None:
        found = _market(known.name, base) or known.law or known.name
    return found


def _market(words: str, base: Base) -> str | None:
    kinds = base.terms(Role.MARKET)
    return next(filter(None, (base.find_value(words, kind) for kind in kinds)), None)


def ingredient_classes(base: Base) -> frozenset[str]:
    """The classes of ingredients that people have a phrase for."""
    top = base.term(Role.INGREDIENT)
    called = {kind for kinds in base.phrases.values() for kind in kinds}
    return frozenset(
        kind for kind in called if base.is_class(kind) and top in base.ancestors(kind)
    )


def telling(kinds: Iterable[str], base: Base) -> list[str]:
    """Classes of one thing, those first that tell a reader most of what it is.

    Last are those that only say what a label shows by it, which are `abl:aside`.
    """
    kinds = list(kinds)
    asides = {kind for kind in kinds if base.record(kind).truth("aside")}
    return sorted(kinds, key=lambda kind: not asides.isdisjoint(base.ancestors(kind)))


def rinsed_off(words: str, base: Base) -> bool:
    """Whether products of a kind, in the words of a shelf, are rinsed out of hair."""
    kind = product_kind(words, base)
    return kind in base and base.record(kind).truth("rinsedOff")
