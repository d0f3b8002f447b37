"""The words that a shelf may use: kinds of product, and how things are washed.

All of them come from the base at hand, so that a kind or a condition of the user's
own can be written on a shelf. What is at hand is handed in by whoever has a base of
its own; otherwise it is the one that is installed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache
from typing import TYPE_CHECKING

from abluent.grammar.common.record import Record

if TYPE_CHECKING:
    from abluent.engine.base.store import Base


class ShelfWords(Record):
    """What may be written of a product's kind and of how hair is washed.

    `kinds` are in the order in which they are told, the last of them is `other`;
    `spelled` is what each squeezed word means, `cleaning` are the kinds that are sold
    to clean; `aspects` are the words for each.
    """

    kinds: tuple[str, ...]
    other: str
    spelled: Mapping[str, str]
    cleaning: frozenset[str]
    aspects: Mapping[str, tuple[str, ...]]

    def kind_of(self, word: str) -> str:
        """Return the kind a word names, however spaced or hyphened, or nothing."""
        return self.spelled.get(_squeezed(word), "")

    def kind_in_name(self, product: str) -> str:
        """Return the kind that ends a name (`Tideline Wash`), or nothing."""
        words = product.replace("-", " ").split()
        pairs = ["".join(words[-2:]), words[-1]] if words else []
        return next((kind for kind in map(self.kind_of, pairs) if kind), "")


_AT_HAND: ContextVar[Callable[[], Base] | None] = ContextVar("_AT_HAND", default=None)


@contextmanager
def knowing(base: Callable[[], Base]) -> Iterator[None]:
    """Read and write shelves in the words of a base, which is looked at when needed."""
    token = _AT_HAND.set(base)
    try:
        yield
    finally:
        _AT_HAND.reset(token)


def shelf_words() -> ShelfWords:
    """Return the words of the base at hand."""
    base = _AT_HAND.get() or installed
    return base().once(_words)


@lru_cache(maxsize=1)
def installed() -> Base:
    """Return the base as it is installed, read once."""
    from abluent.engine.base.store import Base

    return Base.load()


def _words(base: Base) -> ShelfWords:
    from abluent.engine.base.conditions import aspects
    from abluent.engine.base.kinds import kind_words

    found = kind_words(base)
    other = found.pop()
    spelled = {_squeezed(w): words[0] for words in [*found, other] for w in words}
    return ShelfWords(
        tuple(words[0] for words in found),
        other[0],
        spelled,
        frozenset(words[0] for words in kind_words(base, cleaning=True)),
        {aspect: tuple(words) for aspect, words in aspects(base).items()},
    )


def _squeezed(word: str) -> str:
    return "".join(c for c in word.casefold() if c.isalnum())


def kind_of(word: str) -> str:
    """Return the kind a word names in the base at hand, or nothing."""
    return shelf_words().kind_of(word)


def kind_in_name(product: str) -> str:
    """Return the kind that ends a product's name in the base at hand, or nothing."""
    return shelf_words().kind_in_name(product)
