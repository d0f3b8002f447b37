"""Small matters of wording: quotes, numbers, and the number of a noun.

None of it changes what a text means; it decides how a printed one reads.
"""

from __future__ import annotations

import re
from decimal import Decimal

from abluent.grammar.query import terms as q
from abluent.grammar.query.words import reserved

_PLAIN = re.compile(r"[a-z][a-z0-9-]*(?: [a-z][a-z0-9-]*)*")
_SINGULAR = frozenset({q.Quantity.EVERY, q.Quantity.SOME, q.Quantity.NO})


def quoted(text: str) -> str:
    """A text in quotes, as the language reads it back."""
    doubled = text.replace('"', '""')
    return f'"{doubled}"'


def name(node: q.Name) -> str:
    """A name: bare where it is made of plain lower-case words, else quoted."""
    return node.text if is_plain(node.text) else quoted(node.text)


def is_plain(text: str) -> bool:
    """Whether a name reads the same without quotes."""
    if not _PLAIN.fullmatch(text):
        return False
    words = text.split()
    return reserved().isdisjoint(words) and not any(
        word.endswith("-free") for word in words
    )


def number(value: Decimal) -> str:
    """A number in plain digits, without idle zeros."""
    digits = format(value, "f")
    return digits.rstrip("0").rstrip(".") if "." in digits else digits


def level(node: q.Level) -> str:
    """A range of weight per cent, as it follows a noun."""
    low, high = node.low, node.high
    if low is None and high is not None:
        return f"{'below' if node.open_ended else 'at most'} {number(high)} %"
    if high is None and low is not None:
        return f"{'above' if node.open_ended else 'at least'} {number(low)} %"
    if low == high:
        return f"at {number(low or Decimal())} %"
    return f"at {number(low or Decimal())} to {number(high or Decimal())} %"


def is_plural(term: q.Term) -> bool:
    """Whether a verb after the term takes its plural: a guess from its ending."""
    match term:
        case q.Name(text=text):
            return is_plain(text) and text.endswith("s") and not text.endswith("ss")
        case q.And() | q.Thing() | q.Those() | q.Shelf():
            return True
        case q.Or(terms=terms):
            return is_plural(terms[-1])
        case q.Quantified(quantity=quantity, term=inner):
            if quantity in _SINGULAR and _is_thing(inner):
                return False
            return is_plural(inner)
        case q.Except(term=inner) | q.Such(term=inner):
            return is_plural(inner)


def _is_thing(term: q.Term) -> bool:
    while isinstance(term, q.Such | q.Except):
        term = term.term
    return isinstance(term, q.Thing)


def at_place(place: int) -> str:
    """Where on a label."""
    return "at the last place" if place == q.LAST_PLACE else f"at place {place}"
