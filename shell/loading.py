"""The world of a session, made from what is installed and what is on its shelf."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from abluent.engine.labels import ReadLabel
from abluent.engine.program import Program
from abluent.engine.rulebook import load_rulebook
from abluent.engine.store import Base
from abluent.engine.world import Product, World
from abluent.shell.shelf import Shelf


class WatchedWorld(World):
    """A world that calls somebody for each label it is about to read."""

    def __init__(
        self,
        base: Base,
        program: Program,
        products: Iterable[Product],
        water: str,
        watch: Callable[[], None],
    ) -> None:
        """Set up a world as `World` does; `watch` is called once for each label."""
        super().__init__(base, program, products, water)
        self._watch = watch
        self._begun: set[str] = set()

    def read(self, name: str) -> ReadLabel:
        """Return the label of a product, read."""
        if name not in self._begun:
            self._begun.add(name)
            self._watch()
        return super().read(name)


def load_world(shelf: Shelf, watch: Callable[[], None] | None = None) -> World:
    """Bring the base, its rules and a shelf together.

    Args:
        shelf: the products.
        watch: called for each label that is about to be read.

    Raises:
        BaseError: a file of the base cannot be read, or is refused.
        ProgramError: a rule is refused.
    """
    base, program = Base.load(), load_rulebook()
    if watch is None:
        return World(base, program, products(shelf), shelf.water)
    return WatchedWorld(base, program, products(shelf), shelf.water, watch)


def moved(world: World, shelf: Shelf) -> World:
    """Return a world with the same base and rules, on another shelf."""
    return World(world.base, world.program, products(shelf), shelf.water)


def products(shelf: Shelf) -> list[Product]:
    """Return the labels of a shelf as the engine takes them."""
    return [Product(x.product, x.kind, x.market, x.text) for x in shelf.labels]
