"""Whether a thing is as a question says: three-valued, with the rows that say so.

A `Judge` looks at many things at once, because the verdicts on twenty washes come
from one case. True and False are concluded; None is where the evidence leaves it
open. Ingredients asked to clear something are judged as a wash of water and that
ingredient alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

from abluent.engine.answers import INGREDIENT, PRODUCT, Item, Member, NotMember, Row
from abluent.engine.nouns import Noun, Nouns, UnknownName
from abluent.engine.phrases import product_symbol
from abluent.engine.verdicts import GONE, Verdict, films_left, verdicts
from abluent.engine.world import WATER, Case, Product
from abluent.grammar import query_ast as q


@dataclass(frozen=True)
class Judged:
    """What came of one thing: whether it is so, and the rows that show it."""

    truth: bool | None
    rows: tuple[Row, ...] = ()

    @property
    def disputed(self) -> bool:
        """Whether sources of equal rank part over a row that decides."""
        return any(isinstance(r, Verdict) and r.disputed for r in self.rows)


Judgements: TypeAlias = Mapping[Item, Judged]
_Way: TypeAlias = Callable[[Sequence[Item], Any], Judgements]


class Unanswerable(UnknownName):
    """A question that cannot be asked of these things; the message says why."""

    def __init__(self, message: str, span: object = None) -> None:
        super().__init__("", "", (), span)
        self.args = (message,)


class Judge:
    """Judges things of one world by the predicates of the query language."""

    def __init__(self, nouns: Nouns, last: Sequence[Item] = ()) -> None:
        self.nouns = nouns
        self.world = nouns.world
        self.last = tuple(last)
        # The world with washes of one ingredient, as questions need them.
        self._peopled = self.world

    # -- terms --------------------------------------------------------------------

    def items(self, term: q.Term, place: str) -> list[Item]:
        """The things a term stands for; `place` is `product` or `ingredient`.

        Raises:
            UnknownName: a name stands for nothing.
        """
        match term:
            case q.Name():
                return list(self.noun(term, place).items)
            case q.Those():
                return self._those(term, place)
            case q.And() | q.Or():
                found = [i for part in term.terms for i in self.items(part, place)]
                return list(dict.fromkeys(found))
            case q.Except():
                out = set(self.items(term.left_out, place))
                return [i for i in self.items(term.term, place) if i not in out]
            case q.Quantified():
                return self.items(term.term, place)
            case q.Such():
                return self._such(term, place)
            case _:
                products = isinstance(term, q.Shelf) or place == PRODUCT
                nouns = self.nouns
                return list(nouns.all_products if products else nouns.all_ingredients)

    def _such(self, term: q.Such, place: str) -> list[Item]:
        kept = self.items(term.term, place)
        for condition in term.conditions:
            judged = self.judge(kept, condition)
            kept = [item for item in kept if judged[item].truth]
        return kept

    def noun(self, name: q.Name, place: str) -> Noun:
        """What a name stands for, looked for first where its place suggests."""
        nouns = self.nouns
        if name.text.casefold() in {"ingredient", "ingredients"}:
            return Noun(name.text, nouns.all_ingredients, "Ingredient")
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
            raise Unanswerable(
                "nothing has been answered yet to point back to", term.span
            )
        if term.kind is None:
            return list(self.last)
        kept = set(self.noun(term.kind, place).items)
        return [item for item in self.last if item in kept]

    # -- predicates ---------------------------------------------------------------

    def judge(self, items: Sequence[Item], said: q.Predicate) -> Judgements:
        """Judge each of some things by one predicate."""
        ways: dict[type[q.Node], _Way] = {
            q.Clears: self._clears,
            q.Suffices: self._suffices,
            q.Leaves: self._leaves,
            q.Contains: self._contains,
            q.Is: self._is,
            q.Named: self._named,
            q.Among: self._among,
            q.Not: self._not,
            q.Both: self._joined,
            q.Either: self._joined,
        }
        way = ways.get(type(said))
        if way is None:
            verb = type(said).__name__.lower()
            raise Unanswerable(f"`{verb}` is not judged yet", said.span)
        return way(items, said)

    def _suffices(self, items: Sequence[Item], said: q.Suffices) -> Judgements:
        return self._clears(items, q.Clears(said.object))

    def _named(self, items: Sequence[Item], said: q.Named) -> Judgements:
        fits = set(self.nouns.named(said.pattern, items))
        return {item: Judged(item in fits) for item in items}

    def _among(self, items: Sequence[Item], said: q.Among) -> Judgements:
        wanted = set(self.items(said.object, PRODUCT))
        return {item: Judged(item in wanted) for item in items}

    def _not(self, items: Sequence[Item], said: q.Not) -> Judgements:
        return {i: _negated(j) for i, j in self.judge(items, said.part).items()}

    def _joined(self, items: Sequence[Item], said: q.Both | q.Either) -> Judgements:
        parts = [self.judge(items, part) for part in said.parts]
        join = _all if isinstance(said, q.Both) else _any
        return {item: join([part[item] for part in parts]) for item in items}

    # -- clearing -----------------------------------------------------------------

    def _clears(self, items: Sequence[Item], said: q.Clears) -> Judgements:
        names = {item: self._as_wash(item) for item in items}
        found = self.verdicts(list(names.values()), said)
        some = is_some(said.object)
        return {
            item: _cleared(found.get(name, []), said.extent, some=some)
            for item, name in names.items()
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

    def _judged(
        self,
        washes: Sequence[str],
        films: Sequence[str],
        sources: Sequence[str],
        said: q.Clears,
    ) -> Case:
        water = said.water.value if said.water else ""
        return self._peopled.judge(washes, films, sources, water=water)

    def films(self, term: q.Term, sources: Sequence[str]) -> list[Item] | None:
        """The films that an object means; None is everything the sources leave."""
        if isinstance(term, q.Quantified):
            return self.films(term.term, sources)
        if isinstance(term, q.Thing):
            return None if sources else self._all_left()
        items = self.items(term, INGREDIENT)
        left = [i.key for i in items if i.kind == PRODUCT]
        films = [i for i in items if i.kind == INGREDIENT and self._is_film(i)]
        for name in left:
            films += self._left_by([name])
        if not films:
            shown = self.nouns.title(items[0]) if items else "that"
            raise Unanswerable(
                f"{shown} leaves no film, so there is nothing to clear", term.span
            )
        if len(films) > 1 and not sources:
            films = self._on_shelf(films) or films
        return list(dict.fromkeys(films))

    def _sources(self, term: q.Term) -> list[str]:
        items = self.items(term, PRODUCT)
        return [item.key for item in items if item.kind == PRODUCT]

    def _all_left(self) -> list[Item]:
        return self._left_by(list(self.world.products))

    def _left_by(self, products: Sequence[str]) -> list[Item]:
        case = self.world.judge(sources=products)
        found = (left.film for name in products for left in films_left(case, name))
        return [Item(INGREDIENT, film) for film in dict.fromkeys(found)]

    def _on_shelf(self, films: Iterable[Item]) -> list[Item]:
        labels = [self.nouns.on_label(item) for item in self.nouns.all_products]
        there = set().union(*labels)
        return [film for film in films if film.key in there]

    def _is_film(self, item: Item) -> bool:
        return "FilmFormer" in self.world.base.classes_of(item.key)

    def _as_wash(self, item: Item) -> str:
        """The name of a wash; for an ingredient, of water and it alone."""
        if item.kind == PRODUCT or item.key == WATER:
            return item.key
        name = f"{self.nouns.title(item)} alone"
        if name not in self._peopled.products:
            text = f"Aqua, {self.nouns.title(item)}"
            self._peopled = self._peopled.with_products(
                [Product(name, "wash", "", text)]
            )
        return name

    # -- the other verbs ----------------------------------------------------------

    def _leaves(self, items: Sequence[Item], said: q.Leaves) -> Judgements:
        products = [item.key for item in items if item.kind == PRODUCT]
        water = said.water.value if said.water else ""
        case = self.world.judge(sources=products, water=water)
        films = self._wanted(said.object)
        found = {}
        for item in items:
            left = films_left(case, item.key) if item.kind == PRODUCT else []
            rows = tuple(row for row in left if films is None or row.film in films)
            found[item] = Judged(bool(rows), rows)
        return found

    def _contains(self, items: Sequence[Item], said: q.Contains) -> Judgements:
        products = [i.key for i in items if i.kind == PRODUCT and i.key != WATER]
        case = self.world.judge(sources=products)
        wanted = self._wanted(said.object)
        found = {}
        for item in items:
            there = self.nouns.on_label(item) if item.kind == PRODUCT else set()
            hit = sorted(there if wanted is None else there & wanted)
            goals = [("listed", (product_symbol(item.key), each)) for each in hit]
            rows = tuple(
                Member(case, Item(INGREDIENT, goal[1][1]), goal)
                for goal in goals
                if item.key != WATER
            )
            found[item] = Judged(bool(hit), rows)
        return found

    def _wanted(self, term: q.Term) -> set[str] | None:
        """The ingredients an object means; None is anything."""
        if isinstance(term, q.Quantified):
            return self._wanted(term.term)
        if isinstance(term, q.Thing):
            return None
        return {item.key for item in self.items(term, INGREDIENT)}

    def _is(self, items: Sequence[Item], said: q.Is) -> Judgements:
        place = items[0].kind if items else INGREDIENT
        kind = self._kind_named(said.object, place)
        if kind is None or place == PRODUCT:
            wanted = set(self.items(said.object, place))
            return {item: Judged(item in wanted) for item in items}
        case = Case(self.world, self.world.about(item.key for item in items))
        return {item: self._is_a(case, item, kind) for item in items}

    def _is_a(self, case: Case, item: Item, kind: str) -> Judged:
        goal = ("isa", (item.key, kind))
        if case.model.holds(*goal):
            return Judged(True, (Member(case, item, goal),))
        kinds = self.world.base.classes_of(item.key)
        known = [k for k in kinds if case.model.holds("isa", (item.key, k))]
        row = NotMember(case, item, goal, known[0] if known else "")
        return Judged(False, (row,))

    def _kind_named(self, term: q.Term, place: str) -> str | None:
        """The class that `is a …` names, if it names one class."""
        if isinstance(term, q.Quantified):
            return self._kind_named(term.term, place)
        if not isinstance(term, q.Name):
            return None
        kind = self.noun(term, place).kind
        return kind if kind and self.world.base.is_class(kind) else None


def is_some(term: q.Term) -> bool:
    """Whether one member of an object is enough: `some silicone`, `anything`."""
    return isinstance(term, q.Quantified) and term.quantity is q.Quantity.SOME


def _cleared(found: Sequence[Verdict], extent: q.Extent, *, some: bool) -> Judged:
    truths = [_reaches(verdict, extent) for verdict in found]
    rows = tuple(found)
    if some:
        return Judged(_or(truths) if truths else False, rows)
    return Judged(_and(truths), rows)


def _reaches(verdict: Verdict, extent: q.Extent) -> bool | None:
    """Whether one verdict is what a `clear` of some extent asks for."""
    value = verdict.value
    if extent is q.Extent.PERHAPS:
        return value in GONE or value == "open" or verdict.disputed
    if value == "open":
        return None
    if extent is q.Extent.PARTLY:
        return value == "partlyClears"
    if extent is q.Extent.AT_LEAST_PARTLY:
        return value in {*GONE, "partlyClears"}
    return value in GONE


def _and(truths: Sequence[bool | None]) -> bool | None:
    if any(truth is False for truth in truths):
        return False
    return None if None in truths else True


def _or(truths: Sequence[bool | None]) -> bool | None:
    if any(truths):
        return True
    return None if None in truths else False


def _all(parts: Sequence[Judged]) -> Judged:
    rows = tuple(row for part in parts for row in part.rows)
    return Judged(_and([part.truth for part in parts]), rows)


def _any(parts: Sequence[Judged]) -> Judged:
    rows = tuple(row for part in parts for row in part.rows)
    return Judged(_or([part.truth for part in parts]), rows)


def _negated(judged: Judged) -> Judged:
    truth = None if judged.truth is None else not judged.truth
    return Judged(truth, judged.rows)
