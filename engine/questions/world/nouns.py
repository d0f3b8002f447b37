"""What the nouns of a question stand for.

A name is a product of the shelf, an ingredient, a class of ingredients, a kind of
product, a charge, or a set that the reader named. Where it could be more than one,
the place in the sentence decides; where that leaves a choice, the question is
refused with every reading named.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import NamedTuple

from abluent.engine.base.contract import LINE
from abluent.engine.base.fold import fold
from abluent.engine.base.kinds import cleaning_kinds, ingredient_classes, product_kind
from abluent.engine.base.roles import Role
from abluent.engine.errors import EngineError
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.sorts import Sort, sort_called
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.reading.name_rules import fitting

_WHOLES = frozenset({"product", "products", "ingredient", "ingredients"})
_BEGUN = 3
"""How many letters of a name must be typed for it to be meant by them."""
_SHORTEST = 4
"""How many letters of a product's name must be there for it to be meant."""


class UnknownName(EngineError):
    """A name of a question that stands for nothing here.

    Args:
        name: the name as typed.
        wanted: what could stand there, in words.
        near: names that are close to it.
        span: the place of the name in the question.
    """

    def __init__(
        self,
        name: str,
        wanted: str,
        near: Sequence[str] = (),
        span: object = None,
    ) -> None:
        self.name, self.wanted, self.near, self.span = name, wanted, tuple(near), span
        super().__init__(f"there is no {wanted} called `{name}`")


class Noun(NamedTuple):
    """What a name stands for.

    Args:
        name: as typed.
        items: the products or ingredients it names, in order.
        kind: the class, product kind or value, if it names one of these.
        single: it names one thing and not a set.
    """

    name: str
    items: tuple[Item, ...]
    kind: str = ""
    single: bool = False


class Nouns:
    """The nouns of one world, and the sets its reader named."""

    def __init__(self, world: World, sets: Mapping[str, Sequence[Item]]) -> None:
        self.world = world
        self.sets = sets

    def as_products(self, name: str) -> Noun | None:
        """A name where products or washes are expected."""
        product = self.world.labels.find(name)
        if product is not None:
            return Noun(name, (Item(PRODUCT, product),), single=True)
        if fold(name) == WATER:
            return Noun(name, (Item(PRODUCT, WATER),), single=True)
        if fold(name) in self.sets:
            return Noun(name, tuple(self.sets[fold(name)]))
        return self._kind(name) or self._shortened(name) or self._of_sort(name)

    def _shortened(self, name: str) -> Noun | None:
        """The one product whose name begins with these words, if only one does."""
        start = fold(name)
        known = self.world.base.lookup(name) or self.world.base.find_class(name)
        if len(start) < _SHORTEST or known is not None:
            return None
        every = self.world.products
        found = [each for each in every if f"{fold(each)} ".startswith(f"{start} ")]
        if len(found) != 1:
            return None
        return Noun(name, (Item(PRODUCT, found[0]),), single=True)

    def as_ingredients(self, name: str) -> Noun | None:
        """A name where ingredients, films or agents are expected."""
        symbol = self.world.base.lookup(name) or self._as_printed(name)
        if symbol is not None:
            return Noun(name, (Item(INGREDIENT, symbol),), single=True)
        if fold(name) in self.sets:
            return Noun(name, tuple(self.sets[fold(name)]))
        kind = self.world.base.find_class(name)
        if kind is not None and kind in self.ingredient_kinds:
            return Noun(name, tuple(self._of_class(kind)), kind)
        for trait, values in self.trait_values:
            value = self.world.base.find_value(name, values)
            if value is not None:
                return Noun(name, tuple(self._of_value(trait, value)), value)
        return Noun(name, tuple(self.named(name))) if "*" in name else None

    def _as_printed(self, name: str) -> str | None:
        """What a label of the shelf prints under this name, however that was read."""
        if fold(name) in self.sets or self.world.base.find_class(name) is not None:
            return None
        return self._printed.get(fold(name))

    @cached_property
    def _printed(self) -> Mapping[str, str]:
        """What each name that a label prints stands for, where it stands for one."""
        labels = self.world.labels
        readings = (r for each in labels.products for r in labels.read(each).readings)
        return {fold(r.printed): r.symbol for r in readings if r.symbol is not None}

    def near(self, name: str, limit: int = 3) -> list[str]:
        """Names of products, ingredients and classes that look like a name."""
        from difflib import get_close_matches  # noqa: PLC0415 - for an error only

        base = self.world.base
        known = {fold(product): product for product in self.world.products}
        known |= {folded: base.label(of) for folded, (of, _) in base.names.items()}
        known |= {folded: folded for folded in base.phrases}
        typed = fold(name)
        begun = [each for each in known if each.startswith(typed)]
        # A name that is shown so comes before one that is only also called so.
        begun = [e for e in begun if fold(known[e]).startswith(typed)] or begun
        if len(typed) >= _BEGUN and begun:
            # Who typed the beginning of a name meant a name that begins so.
            shown = {known[each]: self._seen_as(known[each]) for each in begun}
            return sorted(shown, key=lambda each: (-shown[each], len(each)))[:limit]
        found = get_close_matches(typed, known, limit, 0.75)
        return list(dict.fromkeys(known[each] for each in found))

    def _seen_as(self, name: str) -> int:
        """How many labels of the shelf list what goes by a name."""
        symbol = self.world.base.lookup(name)
        return 0 if symbol is None else self.seen[symbol]

    def knows(self, name: str) -> bool:
        """Whether a name stands for something; what for is not looked up."""
        if self.world.labels.find(name) or fold(name) == WATER:
            return True
        if fold(name) in self.sets or self.world.base.lookup(name) is not None:
            return True
        if self._kind_called(name) is not None or self._shortened(name) is not None:
            return True
        if self.sort(name) is not None:
            return True
        return self.class_or_value(name) is not None or fold(name) in _WHOLES

    def class_or_value(self, name: str) -> str | None:
        """The class of ingredients, or the value of a trait, that a name means."""
        kind = self.world.base.find_class(name)
        if kind is not None and kind in self.ingredient_kinds:
            return kind
        values = (values for _, values in self.trait_values)
        found = (self.world.base.find_value(name, each) for each in values)
        return next(filter(None, found), None)

    def named(self, pattern: str, among: Iterable[Item] | None = None) -> list[Item]:
        """The ingredients whose INCI name fits a pattern, as in `name_rules`."""
        fits = fitting(pattern)
        items = self.all_ingredients if among is None else among
        return [item for item in items if fits(self.title(item))]

    def title(self, item: Item) -> str:
        """The name of a thing as a reader knows it."""
        if item.kind == PRODUCT:
            return item.key
        return self.world.base.label(item.key)

    @cached_property
    def all_products(self) -> tuple[Item, ...]:
        """Every product of the shelf, in its order."""
        return tuple(Item(PRODUCT, name) for name in self.world.products)

    @cached_property
    def all_ingredients(self) -> tuple[Item, ...]:
        """Every ingredient of the base that a label may print, in order of name."""
        base = self.world.base
        listed = {symbol for symbol, _ in base.names.values()}
        return tuple(Item(INGREDIENT, each) for each in sorted(listed))

    @cached_property
    def cleansers(self) -> tuple[Item, ...]:
        """Every ingredient that a wash may be counted on to clean with."""
        return tuple(self._of_class(self.world.base.term(Role.CLEANSER)))

    @cached_property
    def traits(self) -> tuple[str, ...]:
        """The properties by whose values ingredients are described."""
        base = self.world.base
        found = (base.terms(r) for r in (Role.CHARGE, Role.WATER_SOLUBILITY))
        return tuple(name for names in found for name in names)

    def trait_with(self, value: str) -> str | None:
        """The first trait that may have a value."""
        kinds = self.world.base.record(value).links("type")
        return next((t for t, kind in self.trait_values if kind in kinds), None)

    @cached_property
    def trait_values(self) -> tuple[tuple[str, str], ...]:
        """Each of the traits with the class of its values."""
        ranges = {trait: self.world.base.record(trait) for trait in self.traits}
        return tuple(
            (trait, kind) for trait, r in ranges.items() for kind in r.links("range")
        )

    @cached_property
    def ingredient_kinds(self) -> frozenset[str]:
        """The classes of ingredients that people have a phrase for."""
        return ingredient_classes(self.world.base)

    def _of_class(self, kind: str) -> Iterator[Item]:
        base = self.world.base
        listed = {item.key for item in self.all_ingredients}
        for symbol in base.instances(kind):
            if symbol in listed:
                yield Item(INGREDIENT, symbol)

    def _of_value(self, link: str, value: str) -> Iterator[Item]:
        base = self.world.base
        for item in self.all_ingredients:
            if base.record(item.key).link(link) == value:
                yield item

    def _kind(self, name: str) -> Noun | None:
        """Products by kind; `washes` are all that are meant to clean."""
        if fold(name) in {"product", "products"}:
            return Noun(name, self.all_products, "product")
        kind = self._kind_called(name)
        if kind is None:
            return None
        kinds = self.cleaning if self.is_wash(name) else {kind}
        found = (i for i in self.all_products if self.kind_of(i) in kinds)
        return Noun(name, tuple(found), kind)

    def is_product(self, name: str) -> bool:
        """Whether a name is that of a product, of a kind, or of a set."""
        known = self.world.labels.find(name), self._kind_called(name)
        return any(known) or fold(name) in self.sets

    def sort(self, name: str) -> Sort | None:
        """The sort of wash that a name means, where the rules can tell it."""
        known = self.world.known
        return sort_called(name, self.world.base, known.program.arities)

    def _of_sort(self, name: str) -> Noun | None:
        """The washes that are surely of a sort."""
        from abluent.engine.questions.world.case import Case  # noqa: PLC0415 - seldom

        sort = self.sort(name)
        if sort is None:
            return None
        case = Case.of(self.world, [item.key for item in self.washes])
        symbols = {item: case.world.symbol(item.key) for item in self.washes}
        found = (i for i, s in symbols.items() if case.model.holds(sort.shown_by, (s,)))
        return Noun(name, tuple(found))

    def kind_of(self, item: Item) -> str:
        """The kind of a product, as the base calls it."""
        return product_kind(self.world.products[item.key].kind, self.world.base)

    def is_wash(self, name: str) -> bool:
        """Whether a name means washes, of whatever kind."""
        return self._kind_called(name) == self.world.base.term(Role.WASH)

    @cached_property
    def washes(self) -> tuple[Item, ...]:
        """The products of the shelf that are sold to clean."""
        return tuple(item for item in self.all_products if self.cleans(item))

    def _kind_called(self, name: str) -> str | None:
        base = self.world.base
        return base.find_value(name, base.term(Role.PRODUCT_KIND))

    def cleans(self, item: Item) -> bool:
        """Whether a product is sold to clean."""
        return self.kind_of(item) in self.cleaning

    @cached_property
    def cleaning(self) -> frozenset[str]:
        return cleaning_kinds(self.world.base)

    @cached_property
    def seen(self) -> Counter[str]:
        """How many labels of the shelf list each ingredient."""
        return Counter(key for item in self.all_products for key in self.on_label(item))

    def on_label(self, item: Item) -> set[str]:
        """The ingredients on the label of a product; an ingredient has none."""
        if item.key == WATER:
            return {self.world.known.water_symbol}
        if item.kind != PRODUCT:
            return set()
        facts = self.world.read(item.key).facts
        return {str(f.args[2]) for f in facts if f.predicate == LINE}
