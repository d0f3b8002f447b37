"""Labels that are a plain list, read place by place with what was read before.

Most labels of a catalogue are one line of names with a comma and a blank between them,
after a heading or none, and most of the names stand on many. In such a list nothing
but its own text tells what a place says, as long as

* no place holds a word of a heading, of a lesser heading or of a missing order, a
  bracket without its partner, a sign that parts names, or the end of a sentence;
* the first and the last place, and those beside whatever is not known, are known
  names, and so is at least every other place;
* no place that begins like the rest of `1, 2-Hexanediol` follows a number, and no three
  places hold a number such as counts the names of a list.

So every place is read once, by the reader of labels, between two names in a list of
three, and what came of it is what it comes to on any such label. What is not so plain
is left to the reader of labels.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from abluent.engine.base import contract as c
from abluent.engine.base.kinds import market as known_market
from abluent.engine.base.kinds import product_kind
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.terms import Term
from abluent.engine.reading._words import label_words
from abluent.engine.reading.labels import forming, read_label, read_name_facts
from abluent.engine.reading.names import Names
from abluent.engine.reading.readings import Reading
from abluent.grammar.label.names import identify
from abluent.grammar.label.tree import Item
from abluent.grammar.label.words import in_alphabetical_order

_TEXT = re.compile(r"((?:[A-Za-z][A-Za-z ]{0,60}:[ ]?)?)([A-Za-z0-9 ,.()\[\]/'&+%-]+)")
_PARTED = ", "
_PAIRED = re.compile(r"(?:[^()\[\]]|\([^()\[\]]*\)|\[[^()\[\]]*\])*+")
# A dot that may end a sentence, with the word before it.
_STOP = re.compile(r"([A-Za-z0-9]*)\.(?![A-Za-z0-9])")
# What may be the number of a name in a list that numbers its names.
_COUNTING = re.compile(r"(?<![^\s,])[(\[]?\d{1,2}[.)\]]")
_LOCANT = re.compile(r"\d{1,2}-")
_LETTER = re.compile(r"[A-Za-z]")
_LONGEST = 60  # how far the reader looks past a comma for the end of a name
_MOST_COUNTING = 2
_FEWEST = 2
_MOST_KEPT = 200_000

_FIRST, _INNER, _LAST = range(3)


class PlainPlace(NamedTuple):
    """What a place of a plain label says, wherever it stands.

    Args:
        symbol: what it reads as, if it was understood.
        printed: how it is printed.
        low: its name in lower case.
        says: facts of it, without product and place: the predicate and the rest.
        told: what its name tells, if that alone tells something.
        classes: what it is, as far as that may form something with another place.
        known: whether it is a name as it stands.
        counting: whether it holds what may be the number of a name.
        locant: whether it begins like the rest of a name that holds a comma.
        loose: whether it may end a list in any order.
        inside: whether another place may count it.
    """

    symbol: str | None
    printed: str
    low: str
    says: tuple[tuple[str, tuple[Term, ...]], ...]
    told: tuple[Fact, ...]
    classes: frozenset[str]
    known: bool
    counting: bool
    locant: bool
    loose: bool
    inside: bool


class PlainLabel(NamedTuple):
    """What a plain label says.

    Args:
        facts: facts of its product, without it: the predicate and the other terms.
        told: what names tell that are not listed.
        unread: the places that were not understood, as printed.
    """

    facts: tuple[tuple[str, tuple[Term, ...]], ...]
    told: tuple[Fact, ...]
    unread: tuple[tuple[int, str], ...]


class PlainReader:
    """Reads plain labels against one base."""

    def __init__(self, base: Base) -> None:
        self._base = base
        self._names = Names.of(base)
        self._words = label_words()
        self._places: dict[tuple[str, int, str], PlainPlace | None] = {}
        self._heads: dict[str, bool] = {}
        self._sold: dict[tuple[str, str], tuple[tuple[str, tuple[Term, ...]], ...]] = {}
        self._forming = forming(base)
        between = base.terms(Role.WATER)
        self._between = base.label(between[0]) if between else ""
        # Words that run over a comma would be seen in no place.
        patterns = (self._words.heading, self._words.minor, self._words.unordered)
        apart = not any("," in p.pattern.replace("[.,]", "") for p in patterns)
        self._able = bool(between) and apart

    @classmethod
    def of(cls, base: Base) -> PlainReader:
        """The reader of a base; made once for each base."""
        return base.once(cls)

    def read(self, kind: str, market: str, text: str) -> PlainLabel | None:
        """What a label says, or nothing if it is not plain."""
        places = self._read(text)
        if places is None:
            return None
        unordered = in_alphabetical_order([place.low for place in places])
        sold = self._sold.get((kind, market))
        if sold is None:
            sold = self._sold[kind, market] = tuple(self._as_sold(kind, market))
        facts = [*sold, *([(c.UNORDERED, ())] if unordered else [])]
        for number, place in enumerate(places, start=1):
            facts += [(name, (number, *rest)) for name, rest in place.says]
        facts += _order(places, unordered)
        facts += self._context(places)
        read = {place.symbol: place for place in places if place.told}
        unread = [(n, p.printed) for n, p in enumerate(places, 1) if p.symbol is None]
        told = tuple(fact for place in read.values() for fact in place.told)
        return PlainLabel(tuple(facts), told, tuple(unread))

    def _read(self, text: str) -> list[PlainPlace] | None:
        """The places of a label, if it is plain."""
        found = _TEXT.fullmatch(text) if self._able else None
        if found is None:
            return None
        head, body = found.groups()
        parts = body.split(_PARTED)
        if len(parts) < _FEWEST or not self._opens(head):
            return None
        kept, last = self._places, len(parts) - 1
        places: list[PlainPlace] = []
        for number, part in enumerate(parts):
            at = _INNER if 0 < number < last else _LAST if number else _FIRST
            key = (head, at, part)
            place = kept[key] if key in kept else self._keep(key)
            if place is None:
                return None
            places.append(place)
        return places if _is_plain(places) else None

    def _opens(self, head: str) -> bool:
        """Whether a heading opens a list of which nothing is said besides."""
        if head not in self._heads:
            items = self._tried(head, [self._between] * 3)
            self._heads[head] = items is not None
        return self._heads[head]

    def _tried(self, head: str, parts: Sequence[str]) -> Sequence[Item] | None:
        """The items of a list of three, if they are three and nothing else."""
        label = read_label(head + _PARTED.join(parts), self._base)
        plain = all(_is_alone(item) for item in label.items) and not label.unordered
        return label.items if plain and len(label.items) == len(parts) else None

    def _keep(self, key: tuple[str, int, str]) -> PlainPlace | None:
        if len(self._places) > _MOST_KEPT:
            self._places.clear()
        found = self._places[key] = self._looked_at(*key)
        return found

    def _looked_at(self, head: str, at: int, part: str) -> PlainPlace | None:
        name = part.removesuffix(".") if at == _LAST else part
        if not self._is_by_itself(name):
            return None
        parts = [self._between] * 3
        parts[at] = part
        items = self._tried(head, parts)
        if items is None:
            return None
        item = items[at]
        reading = self._names.resolve(item.name)
        known = identify(name, self._names) is not None
        if at != _INNER and not known:
            return None
        base = self._base
        classes = frozenset(reading.classes)
        loose, fixed = base.terms(Role.ANY_ORDER_LAST), base.terms(Role.NOT_ANY_ORDER)
        return PlainPlace(
            reading.symbol,
            " ".join(item.printed.split()),
            item.name.lower(),
            tuple(_said(item, reading)),
            tuple(read_name_facts(reading, base)),
            classes & {each for _, needed in self._forming for each in needed if each},
            known,
            _COUNTING.search(part) is not None,
            _LOCANT.match(part) is not None,
            not classes.isdisjoint(loose) and classes.isdisjoint(fixed),
            not classes.isdisjoint(base.terms(Role.INSIDE_OTHERS)),
        )

    def _is_by_itself(self, name: str) -> bool:
        """Whether nothing in a place bears on another."""
        if name != name.strip() or not _LETTER.search(name):
            return False
        low, words = name.lower(), self._words
        if not set(_STOP.findall(low)) <= words.abbreviations:
            return False
        if "," in name and len(name) > _LONGEST:
            return False
        if not _PAIRED.fullmatch(name):
            return False
        patterns = (words.heading, words.minor, words.unordered)
        return not any(pattern.search(low) for pattern in patterns)

    def _as_sold(self, kind: str, market: str) -> Iterator[tuple[str, tuple[str, ...]]]:
        yield c.PRODUCT, ()
        yield c.KIND, (product_kind(kind, self._base),)
        sold = known_market(market, self._base)
        if sold is not None:
            yield c.SOLD_IN, (sold,)

    def _context(
        self, places: Sequence[PlainPlace]
    ) -> Iterator[tuple[str, tuple[Term, ...]]]:
        """What may form of two places."""
        kinds = frozenset().union(*(p.classes for p in places))
        for made, needed in self._forming:
            if needed <= kinds:
                yield c.COULD_FORM, (made,)


def _is_alone(item: Item) -> bool:
    """Whether an item is a name of the list by itself."""
    listed = item.section == "list" and item.blend is None and item.within is None
    return listed and item.at_most is None and not item.mended


def _is_plain(places: Sequence[PlainPlace]) -> bool:
    """Whether no place bears on how another is read."""
    known = [place.known for place in places]
    if 2 * sum(known) < len(known) or not (known[0] and known[-1]):
        return False
    if sum(place.counting for place in places) > _MOST_COUNTING:
        return False
    for at, place in enumerate(places):
        if not place.known and not (known[at - 1] and known[at + 1]):
            return False
        if place.locant and at and not known[at - 1]:
            return False
    return True


def _said(item: Item, reading: Reading) -> Iterator[tuple[str, tuple[Term, ...]]]:
    """What a place says, without product and place."""
    symbol = reading.symbol
    if symbol is None:
        yield c.UNREAD_LINE, ()
        return
    yield c.LINE, (symbol,)
    if item.stated is not None:
        yield c.STATED, (item.stated,)


def _order(
    places: Sequence[PlainPlace], unordered: bool
) -> Iterable[tuple[str, tuple[Term, ...]]]:
    """The places that prove no order, and those that another may count."""
    last = len(places)
    while last and places[last - 1].loose:
        last -= 1
    for number, place in enumerate(places):
        if number >= last and not unordered:
            yield c.OUT_OF_ORDER, (number + 1,)
        if place.inside:
            yield c.WITHIN_ANOTHER, (number + 1,)
