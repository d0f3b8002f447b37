"""Which wash is milder to skin: a partial order, and never a score."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from abluent.engine.base.contract import MILDER
from abluent.engine.base.phrases import product_symbol
from abluent.engine.questions.answers.answer import Member
from abluent.engine.questions.verbs.judgement import Judged, Judgements
from abluent.engine.questions.verbs.removal import Removal
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.grammar.query import tree as q


class Mildness:
    """The order of washes by mildness, for the terms of one question."""

    def __init__(self, terms: Terms, removal: Removal) -> None:
        self._terms, self._removal = terms, removal

    def differs(self, items: Sequence[Item], said: q.Differs) -> Judgements:
        others = self._terms.items(said.object, PRODUCT)
        names = {item: self._removal.as_wash(item) for item in [*items, *others]}
        case = Case.of(self._removal.world, dict.fromkeys(names.values()))
        found = {}
        for item in items:
            rows = [self._milder(case, names, said, item, other) for other in others]
            known = tuple(row for row in rows if row is not None)
            found[item] = Judged(True if len(known) == len(others) else None, known)
        return found

    def _milder(
        self,
        case: Case,
        names: Mapping[Item, str],
        said: q.Differs,
        item: Item,
        other: Item,
    ) -> Member | None:
        pair = product_symbol(names[item]), product_symbol(names[other])
        if said.strength is q.Strength.STRONGER:
            pair = pair[1], pair[0]
        goal = (MILDER, pair)
        return Member(case, item, goal) if case.model.holds(*goal) else None

    def mildest(self, items: Sequence[Item]) -> list[Item]:
        """Washes with those first that fewer of the others are milder than.

        Mildness is a partial order: washes that it does not compare keep their order,
        and those that it compares with no other come last.
        """
        washes = [item for item in items if item.kind == PRODUCT]
        case = Case.of(self._terms.world, [item.key for item in washes])
        over = {item: product_symbol(item.key) for item in washes}
        ranks = mildness_ranks(case, list(over.values()))
        last = (True, 0)
        return sorted(items, key=lambda i: ranks[over[i]] if i in over else last)


def mildness_ranks(case: Case, washes: Sequence[str]) -> dict[str, tuple[bool, int]]:
    """How washes are to be told, the mildest first; by their symbols.

    Returns:
        for each whether nothing compares it with any other, and how many of the
        others are milder.
    """
    pairs = [
        (one, other)
        for one in washes
        for other in washes
        if case.model.holds(MILDER, (one, other))
    ]
    compared = {wash for pair in pairs for wash in pair}
    beaten = Counter(other for _, other in pairs)
    return {wash: (wash not in compared, beaten[wash]) for wash in washes}
