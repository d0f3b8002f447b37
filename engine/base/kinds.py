"""What a product is sold as and where, and which kinds of product are washed with."""

from __future__ import annotations

from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base


def product_kind(words: str, base: Base) -> str:
    """The kind that some words of the base mean; the other kind if they mean none."""
    kind = base.find_value(words, base.term(Role.PRODUCT_KIND))
    return kind or base.term(Role.OTHER_KIND)


def cleaning_kinds(base: Base) -> frozenset[str]:
    """The kinds that are sold to clean."""
    kinds = base.instances(base.term(Role.PRODUCT_KIND))
    return frozenset(kind for kind in kinds if base.record(kind).truth("meantToClean"))


def market(words: str, base: Base) -> str | None:
    """The market that some words of the base mean, if they mean one."""
    kinds = base.terms(Role.MARKET) if words else ()
    return next(filter(None, (base.find_value(words, kind) for kind in kinds)), None)
