"""A wash of water and one ingredient alone, by which an ingredient is judged."""

from __future__ import annotations

from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.world.labels import Product
from abluent.engine.questions.world.world import WATER, World

_ALONE = " alone"


def alone(world: World, symbol: str) -> Product:
    """The wash of water and one ingredient; it stands on no shelf."""
    base = world.base
    kind = base.label(_sold_as(base, symbol))
    title = base.label(symbol)
    text = f"{base.label(world.known.water_symbol)}, {title}"
    return Product(f"{title}{_ALONE}", kind, "", text)


def _sold_as(base: Base, symbol: str) -> str:
    """What kind of product an ingredient alone makes: as its class says, or a wash."""
    kinds = base.classes_of(symbol) if symbol in base else ()
    told = (base.record(kind).link("usedAs") for kind in kinds)
    return next(filter(None, told), "") or base.term(Role.WASH)


def agent_of(world: World, wash: str) -> str:
    """The ingredient that a wash of one alone is made of; empty for any other wash."""
    if wash == WATER:
        return world.known.water_symbol
    symbol = world.base.lookup(wash.removesuffix(_ALONE))
    if not wash.endswith(_ALONE) or symbol is None:
        return ""
    return symbol if world.products.get(wash) == alone(world, symbol) else ""
