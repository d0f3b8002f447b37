"""The products of a shelf, and what their labels are read as."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from typing import NamedTuple

from abluent.engine.base.phrases import NAME, product_symbol
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Fact
from abluent.engine.reading.readings import ReadLabel
from abluent.engine.reading.remembered import RememberedLabels


class Product(NamedTuple):
    """One product of a shelf, with its label word for word.

    `said` is the word that the shelf has for its kind: a `mask` is a conditioner.
    """

    name: str
    kind: str
    market: str
    text: str
    said: str = ""


class Labels:
    """The labels of a shelf, each read when it is first needed.

    Args:
        base: what they are read against.
        products: the shelf, in its own order.
        read: the labels that were read already.
        retyped: what is supposed of the class of some ingredients, by symbol.

    Attributes:
        changed: the products whose labels were read before, and of which something
            else may be supposed than what they say.
    """

    def __init__(
        self,
        base: Base,
        products: Mapping[str, Product],
        read: Mapping[str, ReadLabel] | None = None,
        retyped: Mapping[str, Fact] | None = None,
    ) -> None:
        self._base = base
        self.products = products
        self._read = dict(read or {})
        self.retyped: Mapping[str, Fact] = retyped or {}
        self.changed: frozenset[str] = frozenset(read or ())

    def read(self, name: str) -> ReadLabel:
        """The label of a product, read.

        Raises:
            KeyError: no product of the shelf is called that.
        """
        if name not in self._read:
            product = self.products[name]
            self._read[name] = RememberedLabels.of(self._base).read(
                product_symbol(name), product.kind, product.market, product.text
            )
        return self._read[name]

    def begun(self, name: str) -> None:
        """Be told that a label is looked at; for those who watch."""

    def printed(self, symbol: str) -> ReadLabel | None:
        """The first label that prints a name which the reasoner knows by a symbol."""
        for each in self.products:
            read = self.read(each)
            if any(reading.symbol == symbol for reading in read.readings):
                return read
        return None

    def kinds_of(self, symbol: str) -> Sequence[str]:
        """The kinds of an ingredient, or of a name that a label prints."""
        read = self.printed(symbol) if symbol.startswith(NAME) else None
        if read is None:
            return self._base.classes_of(symbol)
        return next(r.classes for r in read.readings if r.symbol == symbol)

    def find(self, name: str) -> str | None:
        """The product that goes by this name, whatever its case and spacing."""
        return self._by_name.get(_plain(name))

    @cached_property
    def _by_name(self) -> dict[str, str]:
        return {_plain(name): name for name in self.products}

    def with_products(self, more: Iterable[Product]) -> Labels:
        """These labels and more, or others of the same names."""
        added = {each.name: each for each in more}
        read = {name: each for name, each in self._read.items() if name not in added}
        return Labels(self._base, {**self.products, **added}, read, self.retyped)

    def with_facts(
        self, name: str, facts: Sequence[Fact], read: ReadLabel | None
    ) -> Labels:
        """These labels, with other facts read off one of them."""
        changed = (read or self.read(name)).with_facts(tuple(facts))
        read_now = {**self._read, name: changed}
        return Labels(self._base, self.products, read_now, self.retyped)

    def with_type(self, symbol: str, fact: Fact) -> Labels:
        """These labels, with an ingredient of another class."""
        retyped = {**self.retyped, symbol: fact}
        return Labels(self._base, self.products, self._read, retyped)


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()
