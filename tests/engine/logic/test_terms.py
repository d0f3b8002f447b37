"""Exact numbers and intervals, checked against the numbers they stand for."""

from __future__ import annotations

from fractions import Fraction

import pytest
from abluent.engine.logic import terms
from abluent.engine.logic.terms import Interval, Term, interval
from hypothesis import given
from hypothesis import strategies as st

BOUNDS = st.none() | st.integers(-4, 4) | st.fractions(-4, 4, max_denominator=3)


@st.composite
def quantities(draw: st.DrawFn) -> terms.Quantity:
    """Numbers and intervals, open, closed and unbounded."""
    low, high = draw(BOUNDS), draw(BOUNDS)
    if low is None or high is None or low < high:
        return interval(low, high, draw(st.booleans()), draw(st.booleans()))
    return terms.number(low)


def samples(value: terms.Quantity) -> list[Fraction]:
    """Numbers of a quantity: its closed ends, points near its ends, its middle."""
    if not isinstance(value, Interval):
        return [Fraction(value)]
    low = Fraction(-9) if value.low is None else Fraction(value.low)
    high = max(low, Fraction(9)) if value.high is None else Fraction(value.high)
    if value.low is None:
        low = min(low, high - 9)
    near = (high - low) / 1000
    found = [low + near, (low + high) / 2, high - near]
    found += [] if value.low_open else [low]
    return found + ([] if value.high_open else [high])


def holds(value: Fraction, quantity: terms.Quantity) -> bool:
    """Whether a number is one of a quantity's."""
    return terms.equal(value, quantity) is not False


SIGNS = {
    "=": lambda a, b: a == b,
    "!=": lambda a, b: a != b,
    "<": lambda a, b: a < b,
    "<=": lambda a, b: a <= b,
    ">": lambda a, b: a > b,
    ">=": lambda a, b: a >= b,
}


@given(st.sampled_from(sorted(SIGNS)), quantities(), quantities())
def test_comparisons_agree_with_every_sample(
    sign: str, left: terms.Quantity, right: terms.Quantity
) -> None:
    """Certain means all pairs, excluded means none, and else some pair of each kind."""
    outcomes = {SIGNS[sign](a, b) for a in samples(left) for b in samples(right)}
    outcome = terms.COMPARISONS[sign](left, right)
    if outcome is not None:
        assert outcomes == {outcome}


@pytest.mark.parametrize(
    ("left", "sign", "right", "outcome"),
    [
        (interval(0, 1), "<", 2, True),
        (interval(0, 1), "<", 1, None),
        (interval(0, 1, high_open=True), "<", 1, True),
        (interval(0, 1), "<=", 1, True),
        (interval(0, 1), "<", 0, False),
        (interval(0, 1), ">=", 0, True),
        (interval(0, 1, low_open=True), "<=", 0, False),
        (interval(0, 1), "=", interval(0, 1), None),
        (interval(0, 1), "=", interval(2, 3), False),
        (interval(0, 1, high_open=True), "!=", 1, True),
        (interval(1, None), ">", Fraction(1, 2), True),
        (interval(None, 1), ">", 5, False),
        ("a", "=", "a", True),
        ("a", "=", 1, False),
        ("a", "!=", interval(0, 1), True),
        ("a", "<", "b", True),
    ],
)
def test_comparisons_have_three_outcomes(
    left: Term, sign: str, right: Term, outcome: bool | None
) -> None:
    """Certain, excluded, and `None` where an interval straddles."""
    assert terms.COMPARISONS[sign](left, right) is outcome


@given(st.sampled_from(["+", "-", "*", "min", "max"]), quantities(), quantities())
def test_results_hold_what_the_numbers_make(
    sign: str, left: terms.Quantity, right: terms.Quantity
) -> None:
    """Whatever numbers two quantities are, the result of them is in the result."""
    operate = terms.OPERATIONS[sign]
    result = operate(left, right)
    for a in samples(left):
        for b in samples(right):
            assert holds(Fraction(operate(a, b)), result)


@given(quantities(), quantities())
def test_quotients_hold_what_the_numbers_make(
    left: terms.Quantity, right: terms.Quantity
) -> None:
    """Division is refused where the divisor may be zero, and else holds all cases."""
    if terms.equal(right, 0) is not False:
        with pytest.raises(ZeroDivisionError):
            terms.divide(left, right)
        return
    result = terms.divide(left, right)
    for a in samples(left):
        for b in samples(right):
            assert holds(a / b, result)


@pytest.mark.parametrize(
    ("sign", "left", "right", "result"),
    [
        ("+", interval(0, 1, high_open=True), 2, interval(2, 3, high_open=True)),
        ("-", interval(0, 1), interval(0, 1), interval(-1, 1)),
        ("*", interval(-1, 2), interval(-3, 1), interval(-6, 3)),
        ("*", interval(0, None), 0, 0),
        ("*", interval(0, 1), interval(0, None), interval(0, None)),
        ("*", interval(0, 1, low_open=True), interval(2, 3), interval(0, 3, True)),
        ("/", 1, interval(0, 2, low_open=True), interval(Fraction(1, 2), None)),
        ("/", 1, interval(4, None), interval(0, Fraction(1, 4), low_open=True)),
        ("/", 1, 3, Fraction(1, 3)),
        ("/", 6, 3, 2),
        ("min", interval(0, 5), 3, interval(0, 3)),
        ("max", interval(None, 5), 3, interval(3, 5)),
        ("-", interval(1, None), 1, interval(0, None)),
    ],
)
def test_results_are_as_narrow_as_they_can_be(
    sign: str, left: Term, right: Term, result: Term
) -> None:
    """The ends of a result, and whether they belong to it."""
    assert terms.OPERATIONS[sign](left, right) == result


def test_quantities_have_one_form() -> None:
    """A number is never an interval or a fraction of one; an empty one is refused."""
    assert interval(2, 2) == 2
    assert isinstance(terms.number(Fraction(4, 2)), int)
    assert interval(None, 1).low_open
    assert str(interval(0, Fraction(1, 2), high_open=True)) == "[0, 1/2)"
    with pytest.raises(ValueError, match="no number"):
        interval(1, 1, low_open=True)


@pytest.mark.parametrize("operate", terms.OPERATIONS.values())
def test_symbols_are_no_numbers(operate: object) -> None:
    """Arithmetic with a symbol names it."""
    assert callable(operate)
    with pytest.raises(TypeError, match="`red` is not a number"):
        operate("red", 1)


def test_symbols_and_numbers_have_no_order() -> None:
    """Ordering a symbol against a number is refused, not answered."""
    with pytest.raises(TypeError, match="no order"):
        terms.less("red", 1)
