"""How a term is put into a sentence.

Sentence templates write `{?film}` or `{2}`, and may add how: `{?class:a}` with its
article, `{?class:plural}`, `{?claim:statement}` or any other text of its record.
"""

from __future__ import annotations

from fractions import Fraction

from abluent.engine.base.store import NAME, Base
from abluent.engine.logic.terms import Interval, Term

__all__ = ["NAME", "PRODUCT", "Phrases", "product_name", "product_symbol"]

PRODUCT = "product/"
"""What the symbol of a product starts with, so that no name can be another thing's."""


def product_symbol(name: str) -> str:
    """The symbol by which the reasoner knows a product of a shelf."""
    return PRODUCT + name


def product_name(symbol: Term) -> str:
    """The name of a product, from its symbol."""
    return str(symbol).removeprefix(PRODUCT)


class Phrases:
    """Puts the terms of one base into words."""

    def __init__(self, base: Base) -> None:
        self._base = base

    def __call__(self, term: Term, how: str = "") -> str:
        """A term in words.

        Args:
            term: a symbol, a number or an interval.
            how: `a` with its article, `plural`, or the name of a text or link of
                its record, such as `statement` or `standing`.
        """
        if not isinstance(term, str):
            return _figure(term)
        if term.startswith(PRODUCT):
            return product_name(term)
        return self._symbol(term, how)

    def _symbol(self, term: str, how: str) -> str:
        if how == "a":
            return with_article(self._base.label(term))
        if how == "plural":
            return self._base.plural(term)
        if term not in self._base:
            return self._base.label(term)
        if how:
            return self._text(term, how)
        label = self._base.label(term)
        quoted = self._base.record(term).space == "claim"
        return f"“{label.rstrip('.')}”" if quoted else label

    def _text(self, symbol: str, name: str) -> str:
        record = self._base.record(symbol)
        if name == "standing":
            return self._base.label(record.basis.standing)
        return record.text(name) or self._base.label(symbol)


def with_article(label: str) -> str:
    return f"{'an' if label[:1].lower() in set('aeiou') else 'a'} {label}"


def _range(term: Interval) -> str:
    """An interval by its ends, with whether each is only approached."""
    low, high = (None if end is None else _figure(end) for end in term[:2])
    if low and high and not (term.low_open or term.high_open):
        return f"{low} to {high}"
    least = low and f"{'above' if term.low_open else 'at least'} {low}"
    most = high and f"{'below' if term.high_open else 'at most'} {high}"
    return " and ".join(end for end in (least, most) if end)


def _figure(term: Term) -> str:
    if isinstance(term, Interval):
        return _range(term)
    if isinstance(term, Fraction) and term.denominator != 1:
        return f"{float(term):.4g}"
    return str(term)
