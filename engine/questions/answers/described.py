"""A set said by classes: the fewest names that say exactly which things are meant.

A description is a union of terms. A term is one thing, or a class without what its
exceptions name; an exception is described the same way, one step deeper, and names
only things that are not meant. Its length is the number of names in it.

Sets are whole numbers, one bit a thing. The search is weighted set cover: greedy,
then branch and bound from there, which is exact unless it runs out of tries.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

DEEPEST = 1
"""How far exceptions may have exceptions."""
TRIES = 3000
"""Branches after which the shortest description found so far is taken."""


class Term(NamedTuple):
    """A class or a thing by its symbol, and what is left out of it.

    Args:
        symbol: the class or the thing.
        whole: whether it is a class; else it is one thing.
        but: what is left out.
    """

    symbol: str
    whole: bool
    but: tuple[Term, ...] = ()

    @property
    def length(self) -> int:
        """How many names it takes."""
        return 1 + sum(each.length for each in self.but)


class _Offer(NamedTuple):
    """A term, what of the wanted it covers, and how many names it takes."""

    term: Term
    covers: int
    price: int


class Describer:
    """Describes sets of some things by the classes that they belong to.

    Args:
        things: the symbols of all there is to choose from, in order.
        classes: the members of every class, as far as they are among the things.
    """

    def __init__(
        self, things: Sequence[str], classes: Mapping[str, frozenset[str]]
    ) -> None:
        self.things = tuple(things)
        self.bits = {thing: 1 << n for n, thing in enumerate(self.things)}
        self.all = (1 << len(self.things)) - 1
        self._classes = tuple(self._distinct(classes))
        self._known: dict[tuple[int, int, int], tuple[Term, ...]] = {}

    def mask(self, things: Iterable[str]) -> int:
        """A set of things as a number."""
        found = 0
        for thing in things:
            found |= self.bits[thing]
        return found

    def names(self, mask: int) -> list[str]:
        """The things of a set, in order."""
        return [thing for thing in self.things if self.bits[thing] & mask]

    def described(
        self, wanted: int, allowed: int | None = None, depth: int = DEEPEST
    ) -> tuple[Term, ...]:
        """The shortest description of a set that was found.

        Args:
            wanted: what is to be in it.
            allowed: what may be in it; nothing but the wanted if not given.
            depth: how far exceptions may have exceptions.
        """
        inside = wanted if allowed is None else allowed
        key = (wanted, inside, depth)
        if key not in self._known:
            offers = list(self._offers(wanted, inside, depth))
            self._known[key] = _ordered(_covered(wanted, offers))
        return self._known[key]

    def meant(self, terms: Sequence[Term]) -> int:
        """The set that a description means."""
        found = 0
        for term in terms:
            own = self._extent(term)
            found |= own & ~self.meant(term.but) if term.but else own
        return found

    def _extent(self, term: Term) -> int:
        if not term.whole:
            return self.bits[term.symbol]
        return next(mask for symbol, mask in self._classes if symbol == term.symbol)

    def _distinct(
        self, classes: Mapping[str, frozenset[str]]
    ) -> Iterator[tuple[str, int]]:
        """Each extent once, under the class that comes first."""
        met: set[int] = set()
        for symbol, members in classes.items():
            mask = self.mask([m for m in members if m in self.bits])
            if mask.bit_count() > 1 and mask not in met:
                met.add(mask)
                yield symbol, mask

    def _offers(self, wanted: int, inside: int, depth: int) -> Iterator[_Offer]:
        for thing, bit in self.bits.items():
            if bit & wanted:
                yield _Offer(Term(thing, False), bit, 1)
        for symbol, mask in self._classes:
            covers, out = mask & wanted, mask & ~inside
            if covers.bit_count() < 2:
                continue
            if not out:
                yield _Offer(Term(symbol, True), covers, 1)
            elif depth:
                but = self.described(out, self.all & ~covers, depth - 1)
                term = Term(symbol, True, but)
                if term.length < covers.bit_count():
                    yield _Offer(term, covers, term.length)


def _ordered(offers: Sequence[_Offer]) -> tuple[Term, ...]:
    """Classes before things, what covers most first."""
    ordered = sorted(
        offers,
        key=lambda o: (not o.term.whole, -o.covers.bit_count(), o.term.symbol),
    )
    return tuple(offer.term for offer in ordered)


def _covered(wanted: int, offers: Sequence[_Offer]) -> list[_Offer]:
    """Offers that cover all that is wanted, for the lowest price that was found."""
    shared = 0
    for offer in offers:
        shared |= offer.covers if offer.covers.bit_count() > 1 else 0
    # What only its own name covers is told by that, however the rest is.
    alone = [offer for offer in offers if not offer.covers & shared]
    kept = _undominated([offer for offer in offers if offer.covers & shared])
    best = _pruned(_greedy(wanted & shared, kept))
    return [*alone, *_Search(kept, best).run(wanted & shared)]


def _undominated(offers: Sequence[_Offer]) -> list[_Offer]:
    """Leave out what another covers for no more."""
    ordered = sorted(offers, key=lambda o: (-o.covers.bit_count(), o.price))
    kept: list[_Offer] = []
    for each in ordered:
        over = (o for o in kept if o.price <= each.price)
        if not any(each.covers & ~other.covers == 0 for other in over):
            kept.append(each)
    return kept


def _greedy(wanted: int, offers: Sequence[_Offer]) -> list[_Offer]:
    found: list[_Offer] = []
    while wanted:
        best = min(offers, key=lambda o: _each(o, wanted))
        found.append(best)
        wanted &= ~best.covers
    return found


def _each(offer: _Offer, wanted: int) -> float:
    """What an offer costs for each thing that it covers of what is still wanted."""
    gained = (offer.covers & wanted).bit_count()
    return offer.price / gained if gained else float("inf")


def _pruned(found: list[_Offer]) -> list[_Offer]:
    """Leave out what the others cover together, the dearest first."""
    for each in sorted(found, key=lambda o: -o.price):
        rest = [o for o in found if o is not each]
        together = 0
        for other in rest:
            together |= other.covers
        if each.covers & ~together == 0:
            found = rest
    return found


class _Search:
    """Branch and bound over which offer covers the thing with the fewest offers."""

    def __init__(self, offers: Sequence[_Offer], best: list[_Offer]) -> None:
        self.offers = offers
        self.best = best
        self.price = sum(o.price for o in best)
        self.tries = TRIES

    def run(self, wanted: int) -> list[_Offer]:
        stack: list[tuple[int, int, tuple[_Offer, ...]]] = [(wanted, 0, ())]
        while stack and self.tries:
            self.tries -= 1
            left, price, taken = stack.pop()
            if not left:
                if price < self.price:
                    self.best, self.price = list(taken), price
                continue
            if price + self._least(left) >= self.price:
                continue
            for offer in reversed(self._ways(left)):
                rest = left & ~offer.covers
                stack.append((rest, price + offer.price, (*taken, offer)))
        return self.best

    def _least(self, left: int) -> int:
        """What covering the rest costs at the least."""
        share: dict[int, float] = {}
        for offer in sorted(self.offers, key=lambda o: _each(o, left)):
            new = offer.covers & left
            if not new:
                break
            each = _each(offer, left)
            for bit in _bits(new):
                share.setdefault(bit, each)
        total = sum(share.values())
        return int(total) if total - int(total) < 1e-9 else int(total) + 1

    def _ways(self, left: int) -> list[_Offer]:
        """The offers for the thing that has the fewest, the cheapest first."""
        ways: dict[int, int] = {}
        for offer in self.offers:
            for bit in _bits(offer.covers & left):
                ways[bit] = ways.get(bit, 0) + 1
        hardest = min(ways, key=lambda bit: (ways[bit], bit))
        found = [o for o in self.offers if o.covers & hardest]
        return sorted(found, key=lambda o: _each(o, left))


def _bits(mask: int) -> Iterator[int]:
    while mask:
        bit = mask & -mask
        yield bit
        mask ^= bit
