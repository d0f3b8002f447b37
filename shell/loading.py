"""The world of a session, made from what is installed and what is on its shelf."""

from __future__ import annotations

from abluent.engine.rulebook import load_rulebook
from abluent.engine.store import Base
from abluent.engine.world import Product, World
from abluent.shell.shelf import Shelf


def load_world(shelf: Shelf) -> World:
    """Bring the base, its rules and a shelf together.

    Raises:
        BaseError: a file of the base cannot be read, or is refused.
        ProgramError: a rule is refused.
    """
    return World(Base.load(), load_rulebook(), products(shelf), shelf.water)


def moved(world: World, shelf: Shelf) -> World:
    """Return a world with the same base and rules, on another shelf."""
    return World(world.base, world.program, products(shelf), shelf.water)


def products(shelf: Shelf) -> list[Product]:
    """Return the labels of a shelf as the engine takes them."""
    return [Product(x.product, x.kind, x.market, x.text) for x in shelf.labels]
