"""Judging what a pack says: `rightly say "silicone-free"`.

It is so if what it means holds of the label.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from abluent.engine.questions.verbs.judgement import Judgements, Unanswerable
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world import pack_claims
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_term

_UNKNOWN = (
    "what a pack means by “{text}” is not known here; say what must be so, as in "
    "`contain no …`"
)


class Packs:
    """What packs say of products, for the terms of one question."""

    def __init__(
        self,
        terms: Terms,
        judge: Callable[[Sequence[Item], q.Predicate], Judgements],
    ) -> None:
        self._terms, self._judge = terms, judge

    def says(self, items: Sequence[Item], said: q.Says) -> Judgements:
        """Whether each product is as its pack says."""
        return self._judge(items, _meaning(said))

    def notes(self, items: Sequence[Item], said: q.Says) -> Iterator[str]:
        """What the claim means, what only looks like it, and the market's rule."""
        meaning = _meaning(said)
        statement = q.Which(q.Name("products"), meaning)
        from abluent.grammar.query.printer import print_query  # noqa: PLC0415

        yield f"“{said.text}” is read as `{print_query(statement)}`."
        for item in items:
            if item.kind == PRODUCT and item.key in self._terms.world.products:
                yield from self._near(item, meaning)
                product = self._terms.world.products[item.key]
                rule = pack_claims.rule_of(product.market)
                if rule:
                    yield f"{item.key} is sold in the {product.market}: {rule}"

    def _near(self, item: Item, meaning: q.Predicate) -> Iterator[str]:
        nouns = self._terms.nouns
        on_label = nouns.on_label(item)
        listed = [i for i in nouns.all_ingredients if i.key in on_label]
        for name in pack_claims.lacked(meaning):
            pattern = pack_claims.near(name.text)
            inside = self._terms.wanted(name) or set()
            for each in nouns.named(pattern, listed) if pattern else ():
                if each.key not in inside:
                    yield (
                        f"{item.key}: {nouns.title(each)} only looks like "
                        f"{print_term(name)}."
                    )


def _meaning(said: q.Says) -> q.Predicate:
    meaning = pack_claims.meant(said.text)
    if meaning is None:
        raise Unanswerable(_UNKNOWN.format(text=said.text), said.span)
    return meaning
