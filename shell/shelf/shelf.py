"""Shelves: products with their labels, as they come from files.

A shelf file is JSON Lines, CSV, one `.txt` label or a folder of them. Each format
has its own small module; what they share, the checking of one product, is here.
A faulty product never takes the others with it: the shelf that comes back holds
every good label, and one `Problem` for every fault.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Any

from abluent.engine.base.countries import country, nearest
from abluent.engine.faults import CommandError, Problem
from abluent.grammar.common.record import Record, aside, replace
from abluent.shell.shelf.words import shelf_words

# The names a column or key goes by; the first is the one that is written.
_KEYS = {
    "product": ("product", "name"),
    "kind": ("kind",),
    "market": ("market",),
    "text": ("text", "label", "ingredients"),
}


_NOTHING: Mapping[str, Any] = MappingProxyType({})


LONGEST = 100_000
"""How many characters a label may have; the longest that are printed have a tenth."""


class ShelfLabel(Record):
    """One product and its label, word for word.

    `kind` is a word that the base has for a kind, and `said` what the file has in its
    place; `market` is empty where nobody named it.
    `place` is the file and line, and `start` the place in that file's text where
    the label begins; neither is part of what the product is. `extra` holds keys of
    the file that mean nothing here, so that writing the shelf loses none.
    """

    product: str
    kind: str
    market: str
    text: str
    extra: Mapping[str, object] = _NOTHING
    place: str = aside(default="", kw_only=True)
    start: int = aside(default=0, kw_only=True)
    said: str = aside(default="", kw_only=True)


class Shelf(Record):
    """Products in the order they were found, and what was wrong on the way.

    `conditions` say how hair is washed, by aspect: `{"water": "hard"}`. `problems`
    are faults; `notes` say what was assumed where a file left something out;
    `unlisted` are the products that came without a list.
    """

    name: str
    labels: tuple[ShelfLabel, ...]
    conditions: Mapping[str, str] = _NOTHING
    problems: tuple[Problem, ...] = ()
    notes: tuple[Problem, ...] = ()
    unlisted: tuple[str, ...] = ()

    @property
    def water(self) -> str:
        """What the water is, in a word; empty where nobody says."""
        return self.conditions.get("water", "")

    def find(self, product: str) -> ShelfLabel | None:
        """Return the label of a product; case and spacing do not count."""
        key = same_name(product)
        return next((x for x in self.labels if same_name(x.product) == key), None)


def same_name(product: str) -> str:
    """Return the form under which two spellings of one product name are equal."""
    return " ".join(product.split()).casefold()


class ShelfBuilder:
    """Gathers products into a shelf, checking each as it comes."""

    def __init__(self, name: str) -> None:
        """Start an empty shelf."""
        self.name = name
        self.words = shelf_words()
        self._labels: dict[str, ShelfLabel] = {}
        self._conditions: dict[str, str] = {}
        self._said_at: dict[str, str] = {}
        self._problems: list[Problem] = []
        self._notes: list[Problem] = []
        self._unlisted: list[str] = []

    def fault(self, problem: Problem) -> None:
        """Record a fault."""
        self._problems.append(problem)

    def faults(self, problems: Iterable[Problem]) -> None:
        """Record several faults."""
        self._problems.extend(problems)

    def condition(self, aspect: str, value: object, place: str) -> None:
        """Record one thing that the shelf says of how hair is washed."""
        word = value.strip().casefold() if isinstance(value, str) else ""
        said = self._conditions.get(aspect, word)
        words = self.words.aspects[aspect]
        if word not in words:
            known = " or ".join(f'"{each}"' for each in words)
            self.fault(Problem(f'{aspect} "{value}" is not {known}', place))
        elif word != said:
            earlier = f"{self._said_at[aspect]} says {said}"
            self.fault(Problem(f"{aspect} is {word} here, but {earlier}", place))
        else:
            self._conditions[aspect], self._said_at[aspect] = word, place

    def conditions(self, fields: Mapping[str, object], place: str) -> None:
        """Record all that some fields say of how hair is washed."""
        for aspect in self.words.aspects:
            if fields.get(aspect):
                self.condition(aspect, fields[aspect], place)

    def add(self, fields: Mapping[str, object], place: str, start: int = 0) -> None:
        """Check one product and take it in, or record why not."""
        folded = {key.strip().casefold(): value for key, value in fields.items()}
        known = {k: _pick(folded, names) for k, names in _KEYS.items()}
        faults = [
            Problem(f'"{key}" should be text, not {_named_type(value)}', place)
            for key, value in known.items()
            if not isinstance(value, str)
        ]
        if faults:
            self.faults(faults)
            return
        texts = {key: str(value) for key, value in known.items()}
        taken = {name for names in _KEYS.values() for name in names} | {
            *self.words.aspects
        }
        extra = {k: v for k, v in fields.items() if k.strip().casefold() not in taken}
        product = " ".join(texts["product"].split())
        if self._refuse(product, texts["text"], place):
            return
        kind = self._kind(texts["kind"], product, place)
        market = self._market(texts["market"].strip(), product, place)
        label = ShelfLabel(
            product, kind, market, texts["text"], extra, place=place, start=start
        )
        said = texts["kind"].strip()
        self._labels[same_name(product)] = replace(label, said=said)
        self.conditions(folded, place)

    def _refuse(self, product: str, text: str, place: str) -> bool:
        """Record a product that cannot be taken in; say whether it was one."""
        earlier = self._labels.get(same_name(product))
        if not product:
            what = "a label without a product name"
            hint = 'give it a "product"'
        elif not text.strip():
            what = f'the label of "{product}" is empty'
            hint = "paste its ingredient list, or take the product out"
            self._unlisted.append(product)
        elif len(text) > LONGEST:
            what, hint = _too_long(product, text)
        elif earlier is not None:
            what = f'"{product}" is on this shelf already, from {earlier.place}'
            hint = "the first was kept; give the second a name of its own"
        else:
            return False
        self.fault(Problem(what, place, hint))
        return True

    def _kind(self, word: str, product: str, place: str) -> str:
        named = self.words.kind_of(word)
        if named:
            return named
        known, other = self.words.kinds, self.words.other
        if word.strip():
            self.fault(
                Problem(
                    f'"{product}" is of kind "{word.strip()}", which is none',
                    place,
                    f"read as {other}; a kind is one of {', '.join(known)}, {other}",
                )
            )
            return other
        guess = self.words.kind_in_name(product)
        how = "read from its name" if guess else "not to be read from its name"
        kind = guess or other
        what = f'"{product}" names no kind: taken as {kind}, {how}'
        self._notes.append(Problem(what, place))
        return kind

    def _market(self, words: str, product: str, place: str) -> str:
        if not words or country(words):
            return words
        what = f'"{product}" is sold in "{words}", which is no country known here'
        self.fault(
            Problem(what, place, f"read without a market; {_market_hint(words)}")
        )
        return ""

    def build(self) -> Shelf:
        """Return the shelf."""
        return Shelf(
            self.name,
            tuple(self._labels.values()),
            self._conditions,
            tuple(self._problems),
            tuple(self._notes),
            tuple(self._unlisted),
        )


def _too_long(product: str, text: str) -> tuple[str, str]:
    """Return what is wrong with a label of more than `LONGEST` characters."""
    what = f'the label of "{product}" has {len(text)} characters'
    return what, f"a label may have {LONGEST}; keep its ingredient list"


def _pick(fields: Mapping[str, object], names: tuple[str, ...]) -> object:
    return next((fields[n] for n in names if fields.get(n) is not None), "")


def _named_type(value: object) -> str:
    names = {bool: "true or false", int: "a number", float: "a number"}
    return names.get(type(value), "a list" if isinstance(value, list) else "an object")


def joined(shelves: Iterable[Shelf]) -> Shelf:
    """Return several shelves as one; a product on two of them is a fault."""
    every = tuple(shelves)
    if len(every) == 1:
        return every[0]
    builder = ShelfBuilder(" and ".join(shelf.name for shelf in every))
    for shelf in every:
        builder.conditions(shelf.conditions, shelf.name)
        for label in shelf.labels:
            builder.add({**label.extra, **as_fields(label)}, label.place, label.start)
    whole = builder.build()
    return replace(
        whole,
        problems=(*(p for s in every for p in s.problems), *whole.problems),
        notes=(*(p for s in every for p in s.notes), *whole.notes),
    )


def as_fields(label: ShelfLabel) -> dict[str, str]:
    """Return the four fields of a label, in the order they are written."""
    return {
        "product": label.product,
        "kind": label.kind,
        "market": label.market,
        "text": label.text,
    }


def _market_hint(words: str) -> str:
    meant = nearest(words)
    start = f"is it {meant}? " if meant else ""
    return f"{start}name a country or its code, such as FR, or EU, or leave it out"


def checked_label(product: str, kind: str, text: str, market: str) -> ShelfLabel:
    """Return a label that can be shelved.

    Raises:
        CommandError: the name or the text is empty, or the kind or the market is none.
    """
    name = " ".join(product.split())
    if not name:
        raise CommandError(Problem("a product needs a name"))
    if not text.strip():
        raise CommandError(
            Problem(f'the label of "{name}" is empty', hint="paste its ingredient list")
        )
    if len(text) > LONGEST:
        what, hint = _too_long(name, text)
        raise CommandError(Problem(what, hint=hint))
    words = shelf_words()
    known = words.kind_of(kind) if kind else words.other
    if not known:
        raise CommandError(
            Problem(
                f'"{kind}" is no kind of product',
                hint=f"a kind is one of {', '.join([*words.kinds, words.other])}",
            )
        )
    market = market.strip()
    if market and not country(market):
        what = f'"{market}" is no country known here'
        raise CommandError(Problem(what, hint=_market_hint(market)))
    return ShelfLabel(name, known, market, text)
