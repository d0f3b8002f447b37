"""What the terms of a question stand for: names, sets, things such that it is so."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from abluent.engine.base.conditions import ConditionError, stated
from abluent.engine.base.roles import Role
from abluent.engine.questions.verbs.judgement import (
    Judgements,
    NothingBefore,
    Unanswerable,
)
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.nouns import Noun, Nouns, UnknownName
from abluent.grammar.query import tree as q

_SALT_OF = "saltOf"
"""The property that ties a salt to what it is called by."""


class Terms:
    """The terms of one question.

    Args:
        nouns: what names stand for.
        last: what was answered before, to which `those` points back.
        judge: judges things by a predicate, for terms that say `such that`.
    """

    def __init__(
        self,
        nouns: Nouns,
        last: Sequence[Item],
        judge: Callable[[Sequence[Item], q.Predicate], Judgements],
    ) -> None:
        self.nouns = nouns
        self.world = nouns.world
        self.last = tuple(last)
        self._judge = judge

    def items(self, term: q.Term, place: str) -> list[Item]:
        """The things a term stands for; `place` is `product` or `ingredient`.

        Raises:
            UnknownName: a name stands for nothing.
        """
        if isinstance(term, q.Name):
            return list(self.noun(term, place).items)
        if isinstance(term, q.Quantified):
            return self.items(term.term, place)
        if isinstance(term, q.Those | q.Such | q.Except | q.And | q.Or):
            return self._composed(term, place)
        products = isinstance(term, q.Shelf) or place == PRODUCT
        nouns = self.nouns
        return list(nouns.all_products if products else nouns.all_ingredients)

    def _composed(
        self, term: q.Those | q.Such | q.Except | q.And | q.Or, place: str
    ) -> list[Item]:
        if isinstance(term, q.Those):
            return self._those(term, place)
        if isinstance(term, q.Such):
            return self._such(term, place)
        if isinstance(term, q.Except):
            out = set(self.items(term.left_out, place))
            return [i for i in self.items(term.term, place) if i not in out]
        found = [i for part in term.terms for i in self.items(part, place)]
        return list(dict.fromkeys(found))

    def _such(self, term: q.Such, place: str) -> list[Item]:
        kept = self.items(term.term, place)
        for condition in term.conditions:
            judged = self._judge(kept, condition)
            kept = [item for item in kept if judged[item].truth]
        return kept

    def noun(self, name: q.Name, place: str) -> Noun:
        """What a name stands for, looked for first where its place suggests."""
        nouns = self.nouns
        if name.text.casefold() in {"ingredient", "ingredients"}:
            kind = self.world.base.term(Role.INGREDIENT)
            return Noun(name.text, nouns.all_ingredients, kind)
        first, then = nouns.as_products, nouns.as_ingredients
        if place != PRODUCT:
            first, then = then, first
        found = first(name.text) or then(name.text)
        if found is None:
            wanted = "product" if place == PRODUCT else "ingredient or class"
            raise UnknownName(name.text, wanted, nouns.near(name.text), name.span)
        return found

    def _those(self, term: q.Those, place: str) -> list[Item]:
        if not self.last:
            raise NothingBefore(
                "nothing has been answered yet to point back to", term.span
            )
        if term.kind is None:
            return list(self.last)
        kept = set(self.noun(term.kind, place).items)
        return [item for item in self.last if item in kept]

    def wanted(self, term: q.Term) -> set[str] | None:
        """The ingredients an object means; None is anything."""
        if isinstance(term, q.Quantified):
            return self.wanted(term.term)
        if isinstance(term, q.Thing):
            return None
        return {item.key for item in self.items(term, INGREDIENT)}

    def listed(self, item: Item, term: q.Term) -> list[str]:
        """What an object means that stands on the label of a product, by symbol.

        A salt is meant by the name of what it is a salt of.
        """
        wanted, there = self.wanted(term), self.nouns.on_label(item)
        if wanted is None:
            return sorted(there)
        base = self.world.base
        salts = {
            each
            for each in there - wanted
            # A name that was only read from its parts has no record.
            if each in base and not wanted.isdisjoint(base.record(each).links(_SALT_OF))
        }
        return sorted(there & wanted | salts)

    def alike(self, items: Iterable[Item]) -> list[Item]:
        """One ingredient for all described alike; products as they are."""
        base = self.world.base
        found: dict[tuple[object, ...], Item] = {}
        for item in items:
            if item.kind == PRODUCT:
                found[item.kind, item.key] = item
                continue
            record = base.record(item.key)
            kinds = tuple(sorted(base.classes_of(item.key)))
            traits = (record.link(each) for each in self.nouns.traits)
            found.setdefault((kinds, *traits), item)
        return list(found.values())

    def under(self, said: q.Clears | q.Leaves | q.Stays) -> tuple[str, ...]:
        """The conditions that a verb states, by symbol.

        Raises:
            Unanswerable: two of them exclude one another.
        """
        try:
            return stated(self.world.base, said.circumstances)
        except ConditionError as error:
            raise Unanswerable(str(error), said.span) from None
