"""The world a question is asked in: a base, its rules and a shelf of products.

    World
    ├── known     the base and its rules, and what is worked out about them once
    ├── labels    the products of the shelf, each read when it is first needed
    ├── amounts   how much the labels can mean
    └── stated    the conditions under which hair is washed

A world is not changed; whoever supposes something makes another, which shares what
still holds. A question does not evaluate all of it: see `case`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, MutableMapping, Sequence
from typing import TYPE_CHECKING, Any

from abluent.engine.base import conditions
from abluent.engine.base.contract import CIRCUMSTANCE
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.program import Program
from abluent.engine.logic.terms import Term
from abluent.engine.questions.world.amounts import Amounts
from abluent.engine.questions.world.known import ASKED, WATER, Known
from abluent.engine.questions.world.labels import Labels, Product
from abluent.engine.questions.world.settings import special_facts
from abluent.engine.reading.readings import ReadLabel

if TYPE_CHECKING:
    from abluent.engine.questions.world.glances import Glances

__all__ = ["WATER", "Product", "World"]


class World:
    """A base, its rules and a shelf; labels are read when they are first needed.

    Args:
        base: the base.
        program: its rules.
        products: the shelf, in its own order; of two of one name the last counts.
        stated: what the shelf says of how hair is washed, in words of the base
            such as `hard`, or `on damaged hair`.

    Attributes:
        weighs: whether how much a label can mean is worked out at all; without that
            a first look at many labels is quick.
        cases: where whoever judges keeps what came of it, by what was asked; None
            where nothing is kept.
        glances: what was seen of labels at a glance, if any was.

    Raises:
        ConditionError: a word states no condition, or two exclude one another.
    """

    def __init__(
        self,
        base: Base,
        program: Program,
        products: Iterable[Product] = (),
        stated: str | Iterable[str] = (),
    ) -> None:
        self.known = Known(base, program)
        self.labels = Labels(base, {each.name: each for each in products})
        self.amounts = Amounts(self.known, self.labels)
        words = (stated,) if isinstance(stated, str) else stated
        self._said = dict.fromkeys(conditions.stated(base, words), "the shelf")
        self.weighs = True
        self.cases: MutableMapping[tuple[Fact, ...], Any] | None = None
        self.glances: Glances | None = None

    # -- at hand -----------------------------------------------------------------

    @property
    def base(self) -> Base:
        """The base."""
        return self.known.base

    @property
    def program(self) -> Program:
        """Its rules."""
        return self.known.program

    @property
    def products(self) -> Mapping[str, Product]:
        """The products of the shelf, by name."""
        return self.labels.products

    def read(self, name: str) -> ReadLabel:
        """The label of a product, read.

        Raises:
            KeyError: no product of the shelf is called that.
        """
        return self.labels.read(name)

    def symbol(self, name: str) -> str:
        """The symbol of a product, or of water, by its name."""
        return self.known.symbol(name)

    def name(self, symbol: Term) -> str:
        """The name of a product, or of water, by its symbol; empty for any product."""
        return self.known.name(symbol)

    # -- at a glance -------------------------------------------------------------

    @property
    def can_glance(self) -> bool:
        """Whether labels say what they were read as and nothing was supposed."""
        return not self.labels.retyped

    def glance(self, names: Iterable[str], *, balance: bool = False) -> Iterator[Fact]:
        """What some labels say, without grounds; with their balances if asked.

        Raises:
            KeyError: no product of the shelf is called that.
        """
        from abluent.engine.questions.world.glances import Glances  # noqa: PLC0415

        names = list(names)
        changed = self.labels.changed
        if self.glances is None:
            practice = self.amounts.practice
            self.glances = Glances(self.base, self.labels, practice=practice)
        self.glances.look((n for n in names if n not in changed), balance=balance)
        for name in names:
            if name not in changed:
                yield from self.glances.facts(name, balance=balance)
                continue
            yield from self.read(name).facts
            if balance:
                yield from self.amounts.balance(name)

    # -- what is stated ----------------------------------------------------------

    @property
    def stated(self) -> Sequence[str]:
        """The conditions that hold unless a question says otherwise, by symbol."""
        return tuple(self._said)

    def circumstances(self, words: Iterable[str]) -> Iterator[Fact]:
        """What is stated of how hair is washed: by the question, then by the shelf.

        Raises:
            ConditionError: a word states no condition, or two exclude one another.
        """
        asked = conditions.stated(self.base, words)
        held = conditions.laid_over(self.base, self._said, asked)
        for each in held:
            basis = ASKED if each in asked else Basis(origin=self._said[each])
            yield Fact(CIRCUMSTANCE, (each,), basis)
        yield from special_facts(self.base, held)

    # -- other worlds ------------------------------------------------------------

    def with_products(self, more: Iterable[Product]) -> World:
        """This world with more products on its shelf, or others of the same names."""
        more = list(more)
        return self.with_labels(
            self.labels.with_products(more), but=[each.name for each in more]
        )

    def with_facts(
        self, name: str, facts: Sequence[Fact], read: ReadLabel | None = None
    ) -> World:
        """This world with other facts read off the label of one product.

        `read` is the label as it was read, where that is known already.
        """
        return self.with_labels(self.labels.with_facts(name, facts, read), but=[name])

    def with_type(self, symbol: str, fact: Fact) -> World:
        """This world with an ingredient of another class."""
        labels = self.labels.with_type(symbol, fact)
        return self.with_labels(labels, but=list(self.products))

    def under(self, words: Iterable[str], origin: str) -> World:
        """This world under conditions that stand above those of the shelf.

        Args:
            words: the conditions, in words of the base.
            origin: who says so, as a proof is to tell it.

        Raises:
            ConditionError: a word states no condition, or two exclude one another.
        """
        asked = conditions.stated(self.base, words)
        world = self.with_labels(self.labels)
        kept = conditions.laid_over(self.base, self._said, asked)
        world._said = {each: self._said.get(each, origin) for each in kept}
        world._said |= dict.fromkeys(asked, origin)
        return world

    def remembering(self) -> World:
        """This world, whose cases those of worlds made from it begin with.

        Whoever asks one question of a world and of a few like it saves work by that;
        a world that lives long would keep too much.
        """
        world = self.with_labels(self.labels)
        world.amounts = self.amounts  # it is the same shelf
        world.cases = {}
        return world

    def with_labels(self, labels: Labels, but: Sequence[str] = ()) -> World:
        """This world with other labels; those named in `but` are new."""
        world = World.__new__(World)
        # What was worked out about the base and its rules holds for any shelf.
        world.__dict__.update(self.__dict__)
        world.labels = labels
        world.amounts = self.amounts.moved(labels, but)
        world.glances = None
        return world
