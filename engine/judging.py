"""Whether a thing is as a question says: three-valued, with the rows that say so.

A `Judge` looks at many things at once, because the verdicts on twenty washes come
from one case. True and False are concluded; None is where the evidence leaves it
open. Ingredients asked to clear something are judged as a wash of water and that
ingredient alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeAlias

from abluent.engine.answers import INGREDIENT, PRODUCT, Item, Member, NotMember, Row
from abluent.engine.nouns import Noun, Nouns, UnknownName
from abluent.engine.phrases import product_symbol
from abluent.engine.verdicts import GONE, Left, Verdict, films_left, verdicts
from abluent.engine.world import WATER, Case, Product
from abluent.grammar import query_ast as q
from abluent.grammar.query_meaning import simplified


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
        if _is_no_wash(said):
            return self._needs_no_wash(items)
        plain = simplified(said)
        return self._ways[type(plain)](items, plain)

    @cached_property
    def _ways(self) -> Mapping[type[q.Node], _Way]:
        return {
            q.Clears: self._clears,
            q.Suffices: self._suffices,
            q.Leaves: self._leaves,
            q.Contains: self._contains,
            q.Hides: self._hides,
            q.Needs: self._needs,
            q.Differs: self._differs,
            q.Is: self._is,
            q.Named: self._named,
            q.Among: self._among,
            q.Not: self._not,
            q.Both: self._joined,
            q.Either: self._joined,
        }

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

    def _hides(self, items: Sequence[Item], said: q.Hides) -> Judgements:
        wanted = self._wanted(said.object)
        return {item: self._hidden(item, wanted) for item in items}

    def _hidden(self, item: Item, wanted: set[str] | None) -> Judged:
        """What the label of one product does not say openly."""
        if item.kind != PRODUCT or item.key == WATER:
            return Judged(False)
        case = self.world.judge([item.key], sources=[item.key])
        symbol = product_symbol(item.key)
        rows: list[Row] = []
        if self.nouns.cleans(item):
            rows += films_left(case, item.key)
        found = [
            ("setAside", args) for args in case.model.match("setAside", (symbol, None))
        ]
        found += [
            ("late", a)
            for a in case.model.match("late", (symbol, None))
            if case.model.holds("isa", (a[1], "Surfactant"))
        ]
        on_label = self.nouns.on_label(item)
        found += [
            ("hasGrades", (each,))
            for each in sorted(on_label)
            if case.model.holds("hasGrades", (each,))
        ]
        for goal in dict.fromkeys(found):
            rows.append(Member(case, Item(INGREDIENT, str(goal[1][-1])), goal))
        kept = [row for row in rows if wanted is None or _symbol(row) in wanted]
        return Judged(bool(kept), tuple(kept))

    def _needs(self, items: Sequence[Item], said: q.Needs) -> Judgements:
        """Nothing outside the object clears the film, and something inside does."""
        inside = set(self.items(said.object, PRODUCT))
        kinds = {item.kind for item in inside}
        surfactants = self.nouns.as_ingredients("surfactants")
        every = list(surfactants.items if surfactants else ())
        if PRODUCT in kinds:
            every = list(self.nouns.all_products)
        outside = [each for each in every if each not in inside]
        return {item: self._needed(item, sorted(inside), outside) for item in items}

    def _needed(
        self, film: Item, inside: Sequence[Item], outside: Sequence[Item]
    ) -> Judged:
        said = q.Clears(q.Name(self.nouns.title(film)))
        without = self.judge(self.alike(outside), said)
        found = [judged for judged in without.values() if judged.truth]
        if found:
            return Judged(False, found[0].rows)
        within = self.judge(self.alike(inside), said)
        hits = [judged for judged in within.values() if judged.truth]
        unknown = any(judged.truth is None for judged in without.values())
        truth = True if hits and not unknown else None
        return Judged(truth, hits[0].rows if hits else ())

    def _needs_no_wash(self, items: Sequence[Item]) -> Judgements:
        films = [
            item for item in items if item.kind == INGREDIENT and self._is_film(item)
        ]
        case = self.world.judge([WATER], [film.key for film in films])
        found = {verdict.film: verdict for verdict in verdicts(case)}
        return {
            item: Judged(found[item.key].value == "noWashNeeded", (found[item.key],))
            if item.key in found
            else Judged(False)
            for item in items
        }

    def _differs(self, items: Sequence[Item], said: q.Differs) -> Judgements:
        others = self.items(said.object, PRODUCT)
        names = {item: self._as_wash(item) for item in [*items, *others]}
        case = self._peopled.judge(dict.fromkeys(names.values()))
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
        goal = ("milderWash", pair)
        return Member(case, item, goal) if case.model.holds(*goal) else None

    def mildest(self, items: Sequence[Item]) -> list[Item]:
        """Washes with those first that fewer of the others are milder than.

        Mildness is a partial order: washes that it does not compare keep their order.
        """
        washes = [item for item in items if item.kind == PRODUCT]
        case = self.world.judge([item.key for item in washes])
        over = {item: product_symbol(item.key) for item in washes}
        beaten = {
            item: sum(
                case.model.holds("milderWash", (other, symbol))
                for other in over.values()
            )
            for item, symbol in over.items()
        }
        return sorted(items, key=lambda item: beaten.get(item, 0))

    def alike(self, items: Iterable[Item]) -> list[Item]:
        """One ingredient for all that the base describes alike; products as they are."""
        base = self.world.base
        found: dict[tuple[object, ...], Item] = {}
        for item in items:
            if item.kind == PRODUCT:
                found[item.kind, item.key] = item
                continue
            record = base.record(item.key)
            kinds = tuple(sorted(base.classes_of(item.key)))
            signs = (record.link("charge"), record.link("waterSolubility"))
            found.setdefault((kinds, *signs), item)
        return list(found.values())

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


def _is_no_wash(said: q.Predicate) -> bool:
    """Whether it is `needs no wash`."""
    if not isinstance(said, q.Needs) or not isinstance(said.object, q.Quantified):
        return False
    inner = said.object.term
    named = isinstance(inner, q.Name) and inner.text.casefold() in {"wash", "washes"}
    return named and said.object.quantity is q.Quantity.NO


def _symbol(row: Row) -> str:
    return row.film if isinstance(row, Verdict | Left) else row.item.key


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
