"""Values of a trace, read into plain tuples that can be compared and hashed.

A word is a string and anything is None.  A number is (NUM, text), an interval
(SPAN, low, high, marks), a variable (VAR, name) and an operation (OPER, sign,
parts); their marks are no strings, so that none is taken for an atom or condition.
"""

import hashlib
import json
import re
from fractions import Fraction
from functools import cache
from math import inf
from typing import Any, NamedTuple, NoReturn

Value = Any
Atom = tuple[Any, ...]
Bind = dict[str, Value]

NUMBER = re.compile(r"-?(0|[1-9][0-9]*)(/[1-9][0-9]*)?")
NUM, SPAN, VAR, OPER = range(4)
KINDS = {"n": NUM, "v": VAR}
OPERATIONS = frozenset("+-*/") | {"min", "max"}


class Span(NamedTuple):
    """The ends of an interval; an end without limit is infinite and open."""

    low: Any
    low_open: bool
    high: Any
    high_open: bool


def refuse(place: str, why: str) -> NoReturn:
    """Refuse a trace for something at a place."""
    raise ValueError(f"{place}: {why}")


def want(sure: bool, place: str, why: str) -> None:
    """Refuse unless this is so."""
    if not sure:
        refuse(place, why)


def canonical(data: Any) -> str:
    """The canonical text of some data."""
    return json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=True)


def digest(data: Any) -> str:
    """The digest of some data."""
    return hashlib.sha256(canonical(data).encode()).hexdigest()


@cache
def fraction(text: str) -> Fraction:
    """An exact number in lowest terms."""
    want(NUMBER.fullmatch(text) is not None, text, "is not an exact number")
    number = Fraction(text)
    want(str(number) == text, text, "is not in lowest terms")
    return number


def figure(value: Value, place: str) -> Fraction:
    """The exact number that a value must be."""
    want(is_number(value), place, f"{value} is not a number")
    return fraction(value[1])


def number(of: Fraction) -> Value:
    """The value that a fraction is."""
    return (NUM, str(of))


def is_number(value: Value) -> bool:
    """Whether a value is an exact number."""
    return type(value) is tuple and value[0] == NUM


def is_variable(value: Value) -> bool:
    """Whether a value is a variable."""
    return type(value) is tuple and value[0] == VAR


def read_interval(parts: Any, place: str) -> Value:
    """An interval that was written rightly."""
    want(isinstance(parts, list) and len(parts) == 3, place, "is no interval")
    low, high, marks = parts
    for end in (low, high):
        want(end is None or isinstance(end, str), place, "has an end of another form")
    want(marks in ("[]", "[)", "(]", "()"), place, "has other marks")
    want(low is not None or marks[0] == "(", place, "no low limit must be open")
    want(high is not None or marks[1] == ")", place, "no high limit must be open")
    want(not (low is None and high is None), place, "is without any limit")
    ends = [fraction(end) for end in (low, high) if end is not None]
    want(len(ends) < 2 or ends[0] < ends[1], place, "its low end is not the less")
    return (SPAN, low, high, marks)


def read_value(data: Any, place: str) -> Value:
    """A value of any kind but an operation."""
    if data is None or isinstance(data, str):
        return data
    want(isinstance(data, dict) and len(data) == 1, place, "is not a value")
    ((kind, inner),) = data.items()
    if kind == "i":
        return read_interval(inner, place)
    want(kind in ("n", "v") and isinstance(inner, str), place, "is not a value")
    if kind == "n":
        fraction(inner)
    return (KINDS[kind], inner)


def read_expression(data: Any, place: str) -> Value:
    """A value, or an operation on expressions."""
    if not (isinstance(data, dict) and "op" in data):
        return read_value(data, place)
    want(set(data) == {"op", "of"}, place, "is not an operation")
    want(data["op"] in OPERATIONS, place, "has another operation")
    want(isinstance(data["of"], list) and bool(data["of"]), place, "works on nothing")
    parts = tuple(read_expression(part, place) for part in data["of"])
    return (OPER, data["op"], parts)


def read_atom(data: Any, place: str) -> Atom:
    """An atom or pattern."""
    want(isinstance(data, list) and len(data) > 0, place, "is not an atom")
    want(isinstance(data[0], str), place, "has no predicate")
    return (data[0], *(read_value(each, place) for each in data[1:]))


@cache
def span(value: Value) -> Span:
    """A number or interval by its ends; an error for a word."""
    if not isinstance(value, tuple) or value[0] not in (NUM, SPAN):
        raise ArithmeticError("not a number")
    if value[0] == NUM:
        return Span(fraction(value[1]), False, fraction(value[1]), False)
    low = -inf if value[1] is None else fraction(value[1])
    high = inf if value[2] is None else fraction(value[2])
    return Span(low, value[3][0] == "(", high, value[3][1] == ")")


def spanned(of: Span) -> Value:
    """The value with these ends."""
    if of.low == of.high:
        return number(of.low)
    low, high = (None if abs(end) == inf else str(end) for end in (of.low, of.high))
    if low is None and high is None:
        raise ArithmeticError("no limit at either end")
    marks = ("(" if of.low_open else "[") + (")" if of.high_open else "]")
    return (SPAN, low, high, marks)


def less(one: Span, other: Span, equal: bool) -> bool | None:
    """Whether one is below the other, or at most the other; None is undecided."""
    apart = one.high_open or other.low_open
    if one.high < other.low or (one.high == other.low and (apart or equal)):
        return True
    touch = not (one.low_open or other.high_open)
    if one.low > other.high or (one.low == other.high and not (touch and equal)):
        return False
    return None


def same(left: Value, right: Value) -> bool | None:
    """Whether two values are equal."""
    if isinstance(left, str) or isinstance(right, str):
        return bool(left == right)
    if is_number(left) and is_number(right):
        return bool(left == right)
    one, other = span(left), span(right)
    return False if less(one, other, False) or less(other, one, False) else None


def compare(sign: str, left: Value, right: Value) -> bool | None:
    """A comparison of two values; an error is an ArithmeticError."""
    if sign in ("=", "!="):
        found = same(left, right)
        return found if sign == "=" or found is None else not found
    if sign in (">", ">="):
        left, right = right, left
    if isinstance(left, str) and isinstance(right, str):
        return left < right or (len(sign) == 2 and left == right)
    return less(span(left), span(right), len(sign) == 2)


def holds(sign: str, left: Value, right: Value, perhaps: bool) -> bool:
    """Whether a comparison holds, or perhaps."""
    found = compare(sign, left, right)
    return found is True or (found is None and perhaps)


def times(one: tuple[Any, bool], other: tuple[Any, bool]) -> tuple[Any, bool]:
    """The product of two ends, each with whether it is open."""
    if (0, False) in (one, other):
        return (Fraction(0), False)
    if one[0] == 0 or other[0] == 0:
        return (Fraction(0), True)
    return (one[0] * other[0], one[1] or other[1])


def multiplied(one: Span, other: Span) -> Span:
    """The product of two intervals."""
    ends = [
        times(left, right)
        for left in ((one.low, one.low_open), (one.high, one.high_open))
        for right in ((other.low, other.low_open), (other.high, other.high_open))
    ]
    low = min(ends)
    high = max(ends, key=lambda end: (end[0], not end[1]))
    return Span(*low, *high)


def inverted(of: Span) -> Span:
    """One divided by an interval without zero in it."""
    zero_low, zero_high = of.low == 0, of.high == 0
    if of.low < 0 < of.high or (zero_low and not of.low_open):
        raise ArithmeticError("divides by zero")
    if zero_high and not of.high_open:
        raise ArithmeticError("divides by zero")
    low = -inf if zero_high else Fraction(0) if abs(of.high) == inf else 1 / of.high
    high = inf if zero_low else Fraction(0) if abs(of.low) == inf else 1 / of.low
    return Span(low, of.high_open, high, of.low_open)


def negative(of: Span) -> Span:
    """Minus an interval."""
    return Span(-of.high, of.high_open, -of.low, of.low_open)


def chosen(sign: str, one: Span, other: Span) -> Span:
    """The lesser or greater of two intervals, end by end."""
    pick = min if sign == "min" else max
    low = pick((one.low, one.low_open), (other.low, other.low_open))
    high = pick((one.high, not one.high_open), (other.high, not other.high_open))
    return Span(*low, high[0], not high[1])


def combined(sign: str, one: Span, other: Span) -> Span:
    """Two intervals under an operation."""
    if sign in ("min", "max"):
        return chosen(sign, one, other)
    if sign in ("*", "/"):
        return multiplied(one, inverted(other) if sign == "/" else other)
    second = negative(other) if sign == "-" else other
    low_open = one.low_open or second.low_open
    high_open = one.high_open or second.high_open
    return Span(one.low + second.low, low_open, one.high + second.high, high_open)


def operated(sign: str, values: list[Value]) -> Value:
    """What an operation on values comes to."""
    spans = [span(value) for value in values]
    if len(spans) == 1:
        return spanned(negative(spans[0]) if sign == "-" else spans[0])
    found = spans[0]
    for each in spans[1:]:
        found = combined(sign, found, each)
    return spanned(found)


def comes_to(expression: Value) -> Value:
    """What an expression without variables comes to."""
    if isinstance(expression, tuple) and expression[0] == OPER:
        return operated(expression[1], [comes_to(part) for part in expression[2]])
    return expression
