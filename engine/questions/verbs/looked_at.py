"""What a claim is about, what lies outside it, and how each such thing is judged.

Members of a class that the base describes alike behave alike, so one of them speaks for
all; what takes long is judged some at a time, and a witness ends the search early.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from abluent.engine.questions.verbs.bearing import Bearing
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Judged
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.grammar.query import tree as q

_ACTS_ON_FILMS = (q.Clears, q.Suffices)
_OF_PRODUCTS = (
    *(q.Leaves, q.Contains, q.Hides, q.Differs, q.Outdoes, q.Precedes),
    *(q.Says, q.Resembles),
)
_OF_FILMS = (q.Needs, q.Stays, q.Resists, q.Shifts)
_LOOKED_AT = 40
"""How many things are judged by what they do to films at a time, which takes long, so
that a witness ends the search early."""


class Found(NamedTuple):
    """The things judged, those for which it is so, is not so, and is open."""

    so: list[tuple[Item, Judged]]
    not_so: list[tuple[Item, Judged]]
    unknown: list[tuple[Item, Judged]]


class Looking:
    """The things that one claim has to be judged by."""

    def __init__(self, judge: Judge, said: q.Statement) -> None:
        self.judge = judge
        self.predicate = said.predicate
        self.bearing = Bearing(judge, said.predicate)
        subject = said.subject
        self.quantity = q.Quantity.EVERY
        self.count = 0
        if isinstance(subject, q.Quantified):
            self.quantity, self.count = subject.quantity, subject.count or 0
            subject = subject.term
        self.subject = subject

    def subjects(self) -> list[Item]:
        """What a claim is about, what the shelf lists most often first."""
        predicate = self.predicate
        while isinstance(predicate, q.Not):
            predicate = predicate.part
        acts = isinstance(predicate, (*_ACTS_ON_FILMS, *_OF_PRODUCTS))
        items = self.judge.terms.items(self.subject, PRODUCT if acts else INGREDIENT)
        if isinstance(predicate, _OF_FILMS):
            films = [item for item in items if self._lasts(item)]
            items = films or items
        seen = self.judge.nouns.seen
        items = sorted(items, key=lambda item: -seen[item.key])
        return self.judge.terms.alike(items) if self.by_agents(items) else items

    def _lasts(self, item: Item) -> bool:
        """Whether a thing can be spoken of as a film."""
        return item.kind == PRODUCT or self.judge.removal.is_film(item)

    def by_agents(self, items: Sequence[Item]) -> bool:
        """Whether some things are several ingredients, each a wash by itself."""
        acts = isinstance(self.predicate, _ACTS_ON_FILMS)
        return acts and len(items) > 1 and items[0].kind == INGREDIENT

    def universe(self, inside: set[Item]) -> list[Item]:
        """What `only` speaks of: washes of the shelf first, then single agents."""
        nouns = self.judge.nouns
        if not isinstance(self.predicate, _ACTS_ON_FILMS):
            kinds = {item.kind for item in inside} or {INGREDIENT}
            both = (*nouns.all_products, *nouns.all_ingredients)
            return [item for item in both if item.kind in kinds]
        named = set(self._whole(inside))
        others = [item for item in nouns.cleansers if item not in named]
        return [*nouns.washes, *self.judge.terms.alike(others)]

    def belongs(self, item: Item, inside: set[Item]) -> bool:
        """Whether a thing is, or a product contains, one of those inside."""
        if item in inside or item.kind == INGREDIENT:
            return item in inside
        there = self.judge.nouns.on_label(item)
        return any(i.key in there for i in self._whole(inside))

    def _whole(self, inside: set[Item]) -> Iterable[Item]:
        return self.judge.terms.items(self.subject, PRODUCT) if inside else ()

    def look(
        self,
        items: Sequence[Item],
        until: str = "",
        *,
        any_film: bool = False,
        washed: bool = False,
    ) -> Found:
        """Judge things, some at a time, until one of the wanted sort is there.

        With `washed` it counts for nothing that some of the films need no wash.
        """
        found, bearing = Found([], [], []), self.bearing
        size = _LOOKED_AT if isinstance(self.predicate, _ACTS_ON_FILMS) else len(items)
        for some in _portions(items, size):
            judged = self.judge.judge(some, self.predicate)
            for item in some:
                verdict = judged[item]
                verdict = bearing.for_some(verdict) if any_film else verdict
                verdict = bearing.by_washing(verdict) if washed else verdict
                sort = {True: found.so, False: found.not_so, None: found.unknown}
                sort[verdict.truth].append((item, verdict))
            if until and getattr(found, until):
                break
        return found


def _portions(items: Sequence[Item], size: int) -> Iterator[Sequence[Item]]:
    for start in range(0, len(items), size or 1):
        yield items[start : start + size]
