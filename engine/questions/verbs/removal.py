"""Judging by what washes do: `clear`, `is enough for`, `needs`, `needs no wash`.

An ingredient asked to clear something is judged as a wash of water and that
ingredient alone.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence

from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.verdicts import (
    ENDS,
    Verdict,
    films_left,
    verdicts,
)
from abluent.engine.questions.verbs.judgement import (
    Judged,
    Judgements,
    Unanswerable,
    all_true,
    enough,
)
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.alone import alone
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.world import WATER
from abluent.grammar.query import tree as q
from abluent.grammar.query.meaning import quantity


class Removal:
    """What washes do, for the terms of one question.

    Attributes:
        world: the world of the question, with washes of one ingredient as they were
            needed.
    """

    def __init__(self, terms: Terms) -> None:
        self._terms = terms
        self.world = terms.world

    def suffices(self, items: Sequence[Item], said: q.Suffices) -> Judgements:
        return self.clears(items, q.Clears(said.object))

    def clears(self, items: Sequence[Item], said: q.Clears) -> Judgements:
        names = {item: self.as_wash(item) for item in items}
        found = self.verdicts(list(names.values()), said)
        return {
            item: _cleared(found.get(name, []), said) for item, name in names.items()
        }

    def verdicts(
        self, washes: Sequence[str], said: q.Clears
    ) -> Mapping[str, list[Verdict]]:
        """The verdicts on some washes that a `clear` asks for."""
        sources = [] if said.source is None else self._sources(said.source)
        films = self.films(said.object, sources)
        asked = {item.key for item in films} if films is not None else None
        case = self._judged(
            washes, [] if sources else sorted(asked or ()), sources, said
        )
        found: dict[str, list[Verdict]] = {name: [] for name in washes}
        for verdict in verdicts(case):
            if not sources or asked is None or verdict.film in asked:
                found[verdict.wash].append(verdict)
        return found

    def on_films(
        self, agents: Sequence[Item], films: Sequence[Item], said: q.Clears
    ) -> Mapping[Item, list[Verdict]]:
        """The verdicts of some washes on each of some films."""
        names = [self.as_wash(item) for item in agents]
        case = self._judged(names, [film.key for film in films], [], said)
        found: dict[str, list[Verdict]] = {film.key: [] for film in films}
        for verdict in verdicts(case):
            found[verdict.film].append(verdict)
        return {film: found[film.key] for film in films}

    def _judged(
        self,
        washes: Sequence[str],
        films: Sequence[str],
        sources: Sequence[str],
        said: q.Clears,
    ) -> Case:
        return Case.of(
            self.world, washes, films, sources, stated=self._terms.under(said)
        )

    def films(self, term: q.Term, sources: Sequence[str]) -> list[Item] | None:
        """The films that an object means; None is everything the sources leave."""
        if isinstance(term, q.Quantified):
            return self.films(term.term, sources)
        if isinstance(term, q.Thing):
            return None if sources else self._all_left()
        items = self._terms.items(term, INGREDIENT)
        left = [i.key for i in items if i.kind == PRODUCT]
        films = [i for i in items if i.kind == INGREDIENT and self.is_film(i)]
        for name in left:
            films += self._left_by([name])
        if not films:
            shown = self._terms.nouns.title(items[0]) if items else "that"
            raise Unanswerable(
                f"{shown} leaves no film, so there is nothing to clear", term.span
            )
        if len(films) > 1 and not sources:
            films = self._on_shelf(films) or films
        return list(dict.fromkeys(films))

    def _sources(self, term: q.Term) -> list[str]:
        items = self._terms.items(term, PRODUCT)
        return [item.key for item in items if item.kind == PRODUCT]

    def _all_left(self) -> list[Item]:
        return self._left_by(list(self._terms.world.products))

    def _left_by(self, products: Sequence[str]) -> list[Item]:
        case = Case.of(self._terms.world, sources=products)
        found = (left.film for name in products for left in films_left(case, name))
        return [Item(INGREDIENT, film) for film in dict.fromkeys(found)]

    def _on_shelf(self, films: Iterable[Item]) -> list[Item]:
        labels = [
            self._terms.nouns.on_label(item) for item in self._terms.nouns.all_products
        ]
        there = set().union(*labels)
        return [film for film in films if film.key in there]

    def is_film(self, item: Item) -> bool:
        world = self._terms.world
        return world.base.term(Role.FILM) in world.labels.kinds_of(item.key)

    def as_wash(self, item: Item) -> str:
        """The name of a wash; for an ingredient, of water and it alone."""
        if item.kind == PRODUCT:
            return item.key
        if item.key == self.world.known.water_symbol:
            return WATER
        wash = alone(self.world, item.key)
        if wash.name not in self.world.products:
            self.world = self.world.with_products([wash])
        return wash.name

    def needs(self, items: Sequence[Item], said: q.Needs) -> Judgements:
        """Nothing outside the object clears the film, and something inside does."""
        inside = set(self._terms.items(said.object, PRODUCT))
        kinds = {item.kind for item in inside}
        nouns = self._terms.nouns
        every = nouns.all_products if PRODUCT in kinds else nouns.cleansers
        outside = [each for each in every if each not in inside]
        outside.sort(key=lambda each: -nouns.seen[each.key])
        # A product of the shelf shows it better than an ingredient alone.
        bare = [] if outside and outside[0].kind == PRODUCT else self._bare_of(inside)
        without = self._on_each([*bare, *self._terms.alike(outside)], items)
        doubted = [item for item in items if not _shown(without[item])]
        within = self._on_each(self._terms.alike(sorted(inside)), doubted)
        return {item: _needed(without[item], within.get(item, {})) for item in items}

    def _on_each(
        self, agents: Sequence[Item], items: Sequence[Item]
    ) -> Mapping[Item, Judgements]:
        """Whether some washes clear each of some films, all judged at once."""
        if not items:
            return {}
        titles = {item: q.Name(self._terms.nouns.title(item)) for item in items}
        films = {item: self.films(titles[item], []) or [] for item in items}
        names = {agent: self.as_wash(agent) for agent in agents}
        asked = {film.key for each in films.values() for film in each}
        said = q.Clears(titles[items[0]])
        found: dict[tuple[str, str], list[Verdict]] = defaultdict(list)
        for each in verdicts(self._judged([*names.values()], sorted(asked), [], said)):
            found[each.wash, each.film].append(each)

        def judged(name: str, item: Item) -> Judged:
            mine = [v for film in films[item] for v in found[name, film.key]]
            return _cleared(mine, said)

        return {
            item: {agent: judged(name, item) for agent, name in names.items()}
            for item in items
        }

    def _bare_of(self, inside: Collection[Item]) -> list[Item]:
        """The washes of the shelf that list none of some ingredients."""
        nouns, keys = self._terms.nouns, {item.key for item in inside}
        return [each for each in nouns.washes if not keys & nouns.on_label(each)]

    def stays(self, items: Sequence[Item], said: q.Stays) -> Judgements:
        """Whether water leaves something of it, so that more comes with every use.

        A product stays by a film that it leaves and that stays.
        """
        left = {item: self._films_of(item) for item in items}
        films = sorted({film for mine in left.values() for film in mine})
        stated = self._terms.under(said)
        case = Case.of(self._terms.world, [WATER], films, stated=stated)
        found = {verdict.film: verdict for verdict in verdicts(case)}
        return {
            item: _lasting([found[film] for film in mine if film in found])
            for item, mine in left.items()
        }

    def _films_of(self, item: Item) -> list[str]:
        if item.kind == INGREDIENT:
            return [item.key] if self.is_film(item) else []
        return [film.key for film in self._left_by([item.key])]

    def needs_no_wash(self, items: Sequence[Item]) -> Judgements:
        films = [
            item for item in items if item.kind == INGREDIENT and self.is_film(item)
        ]
        case = Case.of(self._terms.world, [WATER], [film.key for film in films])
        found = {verdict.film: verdict for verdict in verdicts(case)}
        return {
            item: Judged(verdict.role is Role.NO_WASH_NEEDED, (verdict,))
            if (verdict := found.get(item.key))
            else Judged(False)
            for item in items
        }


def _shown(found: Judgements) -> list[Judged]:
    return [judged for judged in found.values() if judged.truth]


def _needed(without: Judgements, within: Judgements) -> Judged:
    """Whether it takes what clears it within, by what clears it without."""
    found = _shown(without)
    if found:
        return Judged(False, found[0].rows)
    hits = _shown(within)
    unknown = [judged for judged in without.values() if judged.truth is None]
    if hits and not unknown:
        return Judged(True, hits[0].rows)
    # Nothing inside tells that it can be done without: the nearest outside does.
    near = max(without.values(), key=_amount, default=None)
    return Judged(None, near.rows if near else ())


def _amount(judged: Judged) -> int:
    """How much goes of the film of which least goes: the greater, the more."""
    rows = [row for row in judged.rows if isinstance(row, Verdict)]
    return min((VERDICTS.index(row.role) for row in rows), default=-1)


def _cleared(found: Sequence[Verdict], said: q.Clears) -> Judged:
    """Whether enough of the films asked about are cleared, as far as is asked."""
    truths = [reaches(verdict, said.extent, said.rounds) for verdict in found]
    sure, unsure = truths.count(True), truths.count(None)
    if quantity(said) is q.Quantity.EVERY:
        return Judged(all_true(truths), tuple(found))
    least, most = enough(said, sure, len(found)), enough(said, sure + unsure, None)
    return Judged(least if least == most else None, tuple(found))


def reaches(verdict: Verdict, extent: q.Extent, rounds: int = 1) -> bool | None:
    """Whether one verdict is what a `clear` of some extent asks for.

    What a wash takes once it takes again, so that of several rounds the same is so at
    least; what it leaves a part of may go with the next one.
    """
    least, most = ENDS[verdict.role]
    if rounds > 1 and most is Role.PART_OF_IT:
        most = Role.ALL_OF_IT
    if extent is q.Extent.SURELY:
        return least is Role.ALL_OF_IT
    if extent is q.Extent.PERHAPS:
        return most is Role.ALL_OF_IT
    if extent is q.Extent.PARTLY:
        if least is Role.ALL_OF_IT or most is Role.NONE_OF_IT:
            return False
        return True if least is most else None
    if extent is q.Extent.AT_LEAST_PARTLY:
        return _between(least is not Role.NONE_OF_IT, most is Role.NONE_OF_IT)
    return _between(least is Role.ALL_OF_IT, most is not Role.ALL_OF_IT)


def _between(surely: bool, surely_not: bool) -> bool | None:
    """True, False, or None where neither end decides."""
    return True if surely else False if surely_not else None


def _lasting(found: Sequence[Verdict]) -> Judged:
    """Whether one of some films is still there after water."""
    staying = tuple(v for v in found if ENDS[v.role][1] is not Role.ALL_OF_IT)
    if staying:
        return Judged(True, staying)
    unsure = tuple(v for v in found if not v.gone)
    return Judged(None, unsure) if unsure else Judged(False, tuple(found))


def is_no_wash(said: q.Predicate, nouns: Nouns) -> bool:
    """Whether it is `needs no wash`."""
    if not isinstance(said, q.Needs) or not isinstance(said.object, q.Quantified):
        return False
    inner = said.object.term
    named = isinstance(inner, q.Name) and nouns.is_wash(inner.text)
    return named and said.object.quantity is q.Quantity.NO
