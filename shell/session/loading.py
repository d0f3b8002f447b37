"""The world of a session, made from what is installed and what is on its shelf."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from abluent.engine.base.conditions import by_words
from abluent.engine.base.rulebook import load_rulebook, require_known
from abluent.engine.base.store import Base
from abluent.engine.questions.world.labels import Labels, Product
from abluent.engine.questions.world.world import World
from abluent.engine.reading.readings import ReadLabel
from abluent.engine.teach.layer import of_kind
from abluent.shell.session.grounds import grounds, load_base
from abluent.shell.shelf.shelf import Shelf

if TYPE_CHECKING:
    from pathlib import Path


class WatchedLabels(Labels):
    """Labels of which somebody is called for each that is about to be read."""

    def __init__(
        self, base: Base, products: Mapping[str, Product], watch: Callable[[], None]
    ) -> None:
        """Set up labels as `Labels` does; `watch` is called once for each."""
        super().__init__(base, products)
        self._watch = watch
        self._begun: set[str] = set()

    def read(self, name: str) -> ReadLabel:
        """Return the label of a product, read."""
        self.begun(name)
        return super().read(name)

    def begun(self, name: str) -> None:
        """Tell that the label of a product is looked at, once for each."""
        if name not in self._begun:
            self._begun.add(name)
            self._watch()


def load_world(
    shelf: Shelf,
    knowledge: Sequence[Path] = (),
    watch: Callable[[], None] | None = None,
    base: Base | None = None,
    instead: Path | None = None,
) -> World:
    """Bring the base, its rules and a shelf together.

    Args:
        shelf: the products.
        knowledge: the user's own Turtle and rule files, or folders of them.
        watch: called for each label that is about to be read.
        base: what is known, where it was read already.
        instead: a folder that holds a base of one's own.

    Raises:
        CommandError: one of the user's files is not there, or is neither.
        BaseError: a file of the base cannot be read, or is refused.
        ProgramError: a rule is refused.
    """
    base = base or load_base(knowledge, instead)
    folder, layers = grounds(knowledge, instead)
    program = load_rulebook(of_kind(layers, ".rules"), instead=folder)
    require_known(program, base)
    world = World(base, program, products(shelf), by_words(base, shelf.conditions))
    if watch is None:
        return world
    return world.with_labels(WatchedLabels(base, world.products, watch))


def moved(world: World, shelf: Shelf) -> World:
    """Return a world with the same base and rules, on another shelf."""
    said = by_words(world.base, shelf.conditions)
    made = World(world.base, world.program, products(shelf), said)
    made.amounts.practice = world.amounts.practice
    return made


def products(shelf: Shelf) -> list[Product]:
    """Return the labels of a shelf as the engine takes them."""
    return [Product(x.product, x.kind, x.market, x.text, x.said) for x in shelf.labels]
