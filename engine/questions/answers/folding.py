"""Verdicts folded to the fewest classes that say exactly the same.

A `Folding` stands for every verdict of some washes on some films, all of which are
alike. Both sides are described by classes of the base with exceptions, and everything
so described was judged: a class of which a member was not asked about is not used.
Only for films, where the question asks about a part of the base, such as those that a
shelf leaves, classes mean what of them was looked at.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import combinations
from typing import NamedTuple, TypeAlias

from abluent.engine.base.contract import ISA
from abluent.engine.base.roles import VERDICTS
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.described import Describer, Term
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.world.alone import agent_of
from abluent.engine.questions.world.case import Case

Likeness: TypeAlias = Callable[[Verdict], tuple[object, ...]]
KindsOf: TypeAlias = Callable[[str], list[str]]
_MOST_SETS = 150
"""How many sets of films are tried as one side of a folding."""
_BETWEEN = " from "
_UNSTATED = 1_000_000
"""The size of a class whose members the base does not state, so that it comes last."""


class Side(NamedTuple):
    """What stands on one side of a folding.

    Args:
        terms: the classes and things, with what is left out.
        keys: the symbols or names that they mean.
        every: whether it is everything that was looked at on this side.
        whole: the classes it names of which all that is known was looked at, each
            with how many that are.
    """

    terms: tuple[Term, ...]
    keys: tuple[str, ...]
    every: bool
    whole: Mapping[str, int]


class Folding(NamedTuple):
    """Verdicts that are alike, and of what.

    Args:
        first: one of the verdicts.
        washes: the washes, by the ingredient where they are made of it alone.
        films: the films, each with its product where one left it.
        members: the verdicts, in the order in which they were given.
    """

    first: Verdict
    washes: Side
    films: Side
    members: tuple[Verdict, ...]

    @property
    def length(self) -> int:
        """How many names it takes."""
        sides = (self.washes, self.films)
        return sum(t.length for s in sides if not s.every for t in s.terms)


def same_verdict(row: Verdict) -> tuple[object, ...]:
    """Alike in the verdict, its ends, and what is disputed."""
    return (row.role, row.contested)


def same_standing(row: Verdict) -> tuple[object, ...]:
    """Alike in the verdict, its ends, how each stands, and what is disputed."""
    stands = [(e.standing, e.from_memory) for e in (row.at_least, row.at_most) if e]
    return (*same_verdict(row), row.standing, row.from_memory, *stands)


def folded(
    rows: Sequence[Verdict], like: Likeness = same_verdict
) -> tuple[Folding, ...]:
    """Fold verdicts; the surest of washing off comes last, as rows do.

    Args:
        rows: the verdicts, at most one of each wash on each film of each product.
        like: what must be the same of all that one folding stands for.
    """
    if not rows:
        return ()
    return tuple(_Grid(rows, like).foldings())


class _Grid:
    """Washes by films, and what was found for each pair."""

    def __init__(self, rows: Sequence[Verdict], like: Likeness) -> None:
        base = rows[0].case.world.base
        self.rows = {(wash_key(row), film_key(row)): row for row in rows}
        self.like = {pair: like(row) for pair, row in self.rows.items()}
        washes = dict.fromkeys(wash for wash, _ in self.rows)
        films = dict.fromkeys(film for _, film in self.rows)
        kinds = kinds_by(rows)
        self.whole_washes = classes_among(base, list(washes), kinds)
        self.whole_films = classes_among(base, list(films), kinds)
        self.washes = Describer(list(washes), self.whole_washes)
        self.films = Describer(
            list(films), classes_among(base, list(films), kinds, parts=True)
        )

    def foldings(self) -> Iterator[Folding]:
        kinds = dict.fromkeys(self.like.values())
        first = {kind: self._first(kind) for kind in kinds}
        for kind in sorted(kinds, key=lambda k: VERDICTS.index(first[k].role)):
            yield from self._of(kind)

    def _first(self, kind: tuple[object, ...]) -> Verdict:
        return next(self.rows[pair] for pair, own in self.like.items() if own == kind)

    def _of(self, kind: tuple[object, ...]) -> Iterator[Folding]:
        """Rectangles that cover all of one kind, the largest first."""
        allowed = self._by_wash(pair for pair, own in self.like.items() if own == kind)
        left = dict(allowed)
        sets = _closed(set(allowed.values()))
        while left:
            best = max(
                (self._rectangle(films, allowed, left) for films in sets),
                key=lambda found: (found[0], -found[3]),
            )
            _, washes, films, _ = best
            yield self._folding(washes, films, kind)
            meant = self.films.meant(films)
            for wash in self.washes.names(self.washes.meant(washes)):
                if wash in left:
                    left[wash] &= ~meant
            left = {wash: films for wash, films in left.items() if films}

    def _by_wash(self, pairs: Iterator[tuple[str, str]]) -> dict[str, int]:
        found: dict[str, int] = {}
        for wash, film in pairs:
            found[wash] = found.get(wash, 0) | self.films.bits[film]
        return found

    def _rectangle(
        self, films: int, allowed: Mapping[str, int], left: Mapping[str, int]
    ) -> tuple[float, tuple[Term, ...], tuple[Term, ...], int]:
        """What pairing some films with all washes alike on them is worth."""
        whole = [w for w, mine in allowed.items() if films & ~mine == 0]
        needed = [w for w in whole if left.get(w, 0) & films]
        wanted = 0
        for wash in needed:
            wanted |= left[wash] & films
        if not wanted:
            return (0.0, (), (), 0)
        gained = sum((left[wash] & films).bit_count() for wash in needed)
        one = self.washes.described(self.washes.mask(needed), self.washes.mask(whole))
        other = self.films.described(wanted, films)
        length = sum(t.length for t in (*one, *other))
        return (gained / (1 + length), one, other, length)

    def _folding(
        self, washes: Sequence[Term], films: Sequence[Term], kind: tuple[object, ...]
    ) -> Folding:
        one = _side(self.washes, washes, self.whole_washes.__contains__)
        other = _side(self.films, films, self.whole_films.__contains__)
        pairs = [(wash, film) for wash in one.keys for film in other.keys]
        members = tuple(self.rows[pair] for pair in pairs)
        return Folding(members[0], one, other, members)


def _side(
    describer: Describer, terms: Sequence[Term], is_whole: Callable[[str], bool]
) -> Side:
    meant = describer.meant(terms)
    whole = {
        term.symbol: describer.meant([Term(term.symbol, True)]).bit_count()
        for term in terms
        if term.whole and is_whole(term.symbol)
    }
    every = meant == describer.all
    return Side(tuple(terms), tuple(describer.names(meant)), every, whole)


def _closed(sets: set[int]) -> list[int]:
    """Sets and what they have in common, as far as there are not too many."""
    found = dict.fromkeys(sorted(sets, key=lambda s: (-s.bit_count(), s)))
    waiting = list(found)
    for one, other in combinations(waiting, 2):
        if len(found) >= _MOST_SETS:
            break
        if one & other:
            found.setdefault(one & other)
    return list(found)


def wash_key(row: Verdict) -> str:
    """The ingredient that a wash is made of alone, or the name of the wash."""
    return agent_of(row.case.world, row.wash) or row.wash


def film_key(row: Verdict) -> str:
    """A film, with the product that left it if one did."""
    return f"{row.film}{_BETWEEN}{row.source}" if row.source else row.film


def film_of(key: str) -> tuple[str, str]:
    """The film and the product that a key of a film stands for."""
    film, _, source = key.partition(_BETWEEN)
    return film, source


def classes_among(
    base: Base,
    keys: Sequence[str],
    kinds: KindsOf | None = None,
    *,
    parts: bool = False,
) -> dict[str, frozenset[str]]:
    """The classes by which some things may be called, the narrowest first.

    A class of which a member is not among the things is left out.

    Args:
        base: has the classes.
        keys: the things, by the keys of a folding.
        kinds: the classes of a symbol by what follows, where rules may add to those
            that the base states.
        parts: whether a class may mean what of it is among the things, where these
            are a choice that no classes make up, such as what a shelf leaves.
    """
    stated, members = Members(), Members()
    for key in keys:
        symbol = film_of(key)[0]
        if symbol in base:
            own = base.classes_of(symbol)
            stated.add(own, key)
            members.add(kinds(symbol) if kinds else own, key)
    whole = whole_among(base, stated, members)
    made_up = set().union(*(members[k] for k in whole)) if whole else set()
    chosen = set(members) if parts and not made_up.issuperset(keys) else whole
    sizes = {
        kind: (len(members[kind]), len(base.instances(kind)) or len(keys))
        for kind in chosen
    }
    ordered = sorted(chosen, key=lambda kind: (sizes[kind], kind))
    return {kind: frozenset(members[kind]) for kind in ordered}


class Members(dict[str, set[str]]):
    """Things by the classes that they belong to."""

    def add(self, kinds: Iterable[str], key: str) -> None:
        """Put a thing under each of its classes."""
        for kind in kinds:
            self.setdefault(kind, set()).add(key)


def whole_among(base: Base, stated: Members, members: Members) -> set[str]:
    """The classes of which every member is among some things.

    Args:
        base: knows all members that are stated.
        stated: the things by their classes, as the base states them.
        members: the same, as it follows; a class to which rules add members is whole
            where a class above it is, to which they add none.
    """
    by_rule = {kind for kind in members if members[kind] != stated.get(kind)}
    whole = {
        kind
        for kind, found in stated.items()
        if kind not in by_rule and len(found) >= len(base.instances(kind)) > 1
    }
    return whole | {kind for kind in by_rule if whole & base.ancestors(kind)}


def kinds_by(rows: Iterable[Verdict]) -> KindsOf:
    """The classes of the washes and films of some rows, by what follows of them."""
    model_of: dict[str, Case] = {}
    for row in rows:
        for key in (wash_key(row), row.film):
            model_of.setdefault(key, row.case)

    def kinds(symbol: str) -> list[str]:
        case = model_of[symbol]
        found = {str(kind) for _, kind in case.model.match(ISA, (symbol, None))}
        return sorted(filter(case.world.base.is_class, found))

    return kinds
