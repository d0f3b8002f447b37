"""Values of the reasoner: symbols, exact numbers and intervals.

A term is a `str`, an `int`, a `Fraction` or an `Interval`. Numbers are exact and
never pass through floating point. An interval stands for one number that is not
known better, so a comparison has three outcomes: `True` (certain), `False`
(excluded) and `None` (it straddles: both are possible).
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import NamedTuple, TypeAlias

Number: TypeAlias = int | Fraction


class Interval(NamedTuple):
    """The numbers between two bounds; a bound of `None` is no bound, and open.

    Make one with `interval()`, which also turns `[x, x]` into the number `x`.
    """

    low: Number | None
    high: Number | None
    low_open: bool = False
    high_open: bool = False

    def __str__(self) -> str:
        low = "" if self.low is None else str(self.low)
        high = "" if self.high is None else str(self.high)
        left = "(" if self.low_open else "["
        return f"{left}{low}, {high}{')' if self.high_open else ']'}"


Quantity: TypeAlias = int | Fraction | Interval
Term: TypeAlias = str | int | Fraction | Interval


def interval(
    low: Number | None,
    high: Number | None,
    low_open: bool = False,
    high_open: bool = False,
) -> Quantity:
    """The canonical quantity between two bounds.

    Raises:
        ValueError: no number lies between them.
    """
    if low is not None and high is not None:
        if low == high and not (low_open or high_open):
            return number(low)
        if low >= high:
            raise ValueError(f"no number lies between {low} and {high}")
    return Interval(
        None if low is None else number(low),
        None if high is None else number(high),
        low_open or low is None,
        high_open or high is None,
    )


def number(value: Number) -> Number:
    """An exact number in its one form: whole numbers are `int`."""
    if isinstance(value, Fraction) and value.denominator == 1:
        return value.numerator
    return value


# -- comparison ---------------------------------------------------------------


def equal(left: Term, right: Term) -> bool | None:
    """Whether two terms are the same value; a symbol never equals a number."""
    if not isinstance(left, Interval) and not isinstance(right, Interval):
        return left == right
    if isinstance(left, str) or isinstance(right, str):
        return False
    apart = less(left, right) or less(right, left)
    return False if apart else None


def unequal(left: Term, right: Term) -> bool | None:
    """The opposite of `equal`, three-valued."""
    return _opposite(equal(left, right))


def less(left: Term, right: Term) -> bool | None:
    """Whether `left < right`.

    Two symbols are ordered by their text.

    Raises:
        TypeError: a symbol was ordered against a number.
    """
    return _ordered(left, right, strict=True)


def at_most(left: Term, right: Term) -> bool | None:
    """Whether `left <= right`; raises as `less` does."""
    return _ordered(left, right, strict=False)


def more(left: Term, right: Term) -> bool | None:
    """Whether `left > right`; raises as `less` does."""
    return _ordered(right, left, strict=True)


def at_least(left: Term, right: Term) -> bool | None:
    """Whether `left >= right`; raises as `less` does."""
    return _ordered(right, left, strict=False)


COMPARISONS: dict[str, Callable[[Term, Term], bool | None]] = {
    "=": equal,
    "!=": unequal,
    "<": less,
    "<=": at_most,
    ">": more,
    ">=": at_least,
}


def _opposite(outcome: bool | None) -> bool | None:
    return None if outcome is None else not outcome


def _ordered(left: Term, right: Term, strict: bool) -> bool | None:
    if isinstance(left, str) or isinstance(right, str):
        return _symbols_ordered(left, right, strict)
    if not isinstance(left, Interval) and not isinstance(right, Interval):
        return left < right if strict else left <= right
    first, second = _bounds(left), _bounds(right)
    if _surely(first, second, strict):
        return True
    return False if _surely(second, first, not strict) else None


def _symbols_ordered(left: Term, right: Term, strict: bool) -> bool:
    if isinstance(left, str) and isinstance(right, str):
        return left < right if strict else left <= right
    raise TypeError(f"`{left}` and `{right}` have no order")


def _surely(first: Interval, second: Interval, strict: bool) -> bool:
    """Whether every number of `first` stands before every number of `second`."""
    if first.high is None or second.low is None:
        return False
    if first.high == second.low and strict:
        return first.high_open or second.low_open
    return first.high <= second.low


def _bounds(value: Quantity) -> Interval:
    return value if isinstance(value, Interval) else Interval(value, value)


# -- arithmetic ---------------------------------------------------------------


def add(left: Term, right: Term) -> Quantity:
    """The sum.

    Raises:
        TypeError: one of them is a symbol.
    """
    first, second = _quantities(left, right)
    if not isinstance(first, Interval) and not isinstance(second, Interval):
        return number(first + second)
    a, b = _bounds(first), _bounds(second)
    low = None if a.low is None or b.low is None else a.low + b.low
    high = None if a.high is None or b.high is None else a.high + b.high
    return interval(low, high, a.low_open or b.low_open, a.high_open or b.high_open)


def negate(value: Term) -> Quantity:
    """The value with its sign turned; raises as `add` does."""
    (only,) = _quantities(value)
    if not isinstance(only, Interval):
        return -only
    low = None if only.high is None else -only.high
    high = None if only.low is None else -only.low
    return interval(low, high, only.high_open, only.low_open)


def subtract(left: Term, right: Term) -> Quantity:
    """The difference; raises as `add` does."""
    return add(left, negate(right))


def multiply(left: Term, right: Term) -> Quantity:
    """The product; raises as `add` does."""
    first, second = _quantities(left, right)
    if not isinstance(first, Interval) and not isinstance(second, Interval):
        return number(first * second)
    if 0 in {left, right}:
        return 0
    return _product(_bounds(first), _bounds(second))


def divide(left: Term, right: Term) -> Quantity:
    """The quotient.

    Raises:
        TypeError: one of them is a symbol.
        ZeroDivisionError: the divisor is zero, or may be.
    """
    first, second = _quantities(left, right)
    if not isinstance(first, Interval) and not isinstance(second, Interval):
        return number(Fraction(first) / second)
    return multiply(first, _reciprocal(second))


def minimum(left: Term, right: Term) -> Quantity:
    """The smaller of two quantities, as an interval where that is not certain."""
    first, second = _quantities(left, right)
    if not isinstance(first, Interval) and not isinstance(second, Interval):
        return min(first, second)
    a, b = _bounds(first), _bounds(second)
    low, low_open = _smaller(a.low, a.low_open, b.low, b.low_open, -1)
    high, high_open = _smaller(a.high, a.high_open, b.high, b.high_open, 1)
    return interval(low, high, low_open, high_open)


def maximum(left: Term, right: Term) -> Quantity:
    """The larger of two quantities, as an interval where that is not certain."""
    return negate(minimum(negate(left), negate(right)))


OPERATIONS: dict[str, Callable[[Term, Term], Quantity]] = {
    "+": add,
    "-": subtract,
    "*": multiply,
    "/": divide,
    "min": minimum,
    "max": maximum,
}


def _quantities(*terms: Term) -> tuple[Quantity, ...]:
    for term in terms:
        if isinstance(term, str):
            raise TypeError(f"`{term}` is not a number")
    return terms  # type: ignore[return-value]  # every symbol was refused above


_Bound: TypeAlias = tuple[Number | None, bool]


def _smaller(
    a: Number | None, a_open: bool, b: Number | None, b_open: bool, missing: int
) -> _Bound:
    """The smaller of two bounds of one side.

    `missing` is the sign of the infinity that an absent bound stands for.
    """
    if a is None or b is None:
        if missing < 0:
            return None, True
        return (b, b_open) if a is None else (a, a_open)
    if a == b:
        # The low bound is reached if either is; the high bound if both are.
        return a, (a_open and b_open) if missing < 0 else (a_open or b_open)
    return (a, a_open) if a < b else (b, b_open)


class _Corner(NamedTuple):
    """A product of two bounds: its sign of infinity, or its value and openness."""

    infinity: int
    value: Number
    is_open: bool

    def key(self) -> tuple[int, Number]:
        return self.infinity, self.value


def _product(a: Interval, b: Interval) -> Quantity:
    corners = [
        _corner(first, first_sign, second, second_sign)
        for first, first_sign in (((a.low, a.low_open), -1), ((a.high, a.high_open), 1))
        for second, second_sign in (
            ((b.low, b.low_open), -1),
            ((b.high, b.high_open), 1),
        )
    ]
    least = min(corners, key=lambda corner: (*corner.key(), corner.is_open))
    most = max(corners, key=lambda corner: (*corner.key(), not corner.is_open))
    return interval(
        None if least.infinity else least.value,
        None if most.infinity else most.value,
        least.is_open,
        most.is_open,
    )


def _corner(a: _Bound, a_infinity: int, b: _Bound, b_infinity: int) -> _Corner:
    (first, first_open), (second, second_open) = a, b
    # Zero times an unbounded side is zero: the side holds only finite numbers.
    if first == 0 or second == 0:
        closed_zero = (first == 0 and not first_open) or (
            second == 0 and not second_open
        )
        return _Corner(0, 0, not closed_zero)
    if first is None or second is None:
        sign = _sign(first, a_infinity) * _sign(second, b_infinity)
        return _Corner(sign, 0, True)
    return _Corner(0, first * second, first_open or second_open)


def _sign(value: Number | None, infinity: int) -> int:
    if value is None:
        return infinity
    return 1 if value > 0 else -1


def _reciprocal(value: Quantity) -> Quantity:
    if not isinstance(value, Interval):
        return number(Fraction(1) / value)
    low, high = value.low, value.high
    positive = low is not None and (low > 0 or (low == 0 and value.low_open))
    negative = high is not None and (high < 0 or (high == 0 and value.high_open))
    if not (positive or negative):
        raise ZeroDivisionError(f"division by {value}, which may be zero")
    # An open bound at zero turns into no bound; no bound turns into an open zero.
    new_low = _inverse(high, value.high_open)
    new_high = _inverse(low, value.low_open)
    if positive:
        return interval(
            0 if high is None else new_low[0], new_high[0], new_low[1], new_high[1]
        )
    return interval(
        new_low[0], 0 if low is None else new_high[0], new_low[1], new_high[1]
    )


def _inverse(bound: Number | None, is_open: bool) -> _Bound:
    if bound is None or bound == 0:
        return None, True
    return Fraction(1) / bound, is_open
