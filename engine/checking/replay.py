"""Values and conditions of a trace, read from JSON and worked out for the checker.

Comparisons and arithmetic are in exact fractions and intervals. It shares nothing with
the reasoner and needs the standard library only.

In JSON a word is a string, a number `{"n": "3/2"}`, an interval `{"i": ["0", "1",
"[)"]}` with null for no limit, a variable `{"v": "x"}`, and null is "anything". An
atom is `[predicate, value, ...]`, an operation `{"op": "+", "of": [...]}`.
"""

from __future__ import annotations

import math
from collections import namedtuple
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any

INF = math.inf

# An end is a value and +1 or -1 if it is only approached, from above or below.
Interval = namedtuple("Interval", "low high")
Op = namedtuple("Op", "op of")
Is = namedtuple("Is", "atom")
Not = namedtuple("Not", "atom form")
Compare = namedtuple("Compare", "op left right perhaps")
Let = namedtuple("Let", "var expr")
Collect = namedtuple("Collect", "var function terms body groups")


@dataclass(frozen=True)
class Var:
    """A variable; no tuple, so that it never equals an atom of the same name."""

    name: str


class Refused(Exception):
    """Rules that cannot be run: a variable without a value, negative recursion."""


def number(text: Any) -> Fraction:
    """Read an exact number, written in lowest terms."""
    if str(Fraction(text)) != text:
        raise ValueError(f"{text!r} is not a number in lowest terms")
    return Fraction(text)


def value(data: Any) -> Any:
    """Read a value, variable, expression or null; the kinds never compare equal."""
    if data is None or isinstance(data, str):
        return data
    if "op" in data:
        return Op(data["op"], tuple(map(value, data["of"])))
    ((tag, body),) = data.items()
    if tag == "n":
        return number(body)
    if tag == "v":
        return Var(body)
    low, high, marks = body
    start = (-INF if low is None else number(low), "[(".index(marks[0]))
    stop = (INF if high is None else number(high), -"])".index(marks[1]))
    endless = start == (-INF, 0) or stop == (INF, 0)
    if tag != "i" or len(marks) != 2 or start[0] >= stop[0] or endless:
        raise ValueError(f"{data} is no interval")
    return Interval(start, stop)


def atom(data: Any) -> tuple[Any, ...]:
    """Read an atom as `(predicate, value, ...)`."""
    if not isinstance(data[0], str):
        raise ValueError(f"{data[0]!r} is no predicate")
    return (data[0], *map(value, data[1:]))


def literal(data: Any) -> Any:
    """Read one condition of a rule."""
    kind, *rest = data
    if kind == "collect":
        var, function, terms, body, groups = rest
        lists = tuple(map(value, terms)), conditions(body), tuple(map(value, groups))
        return Collect(value(var), function, *lists)
    made: dict[str, Any] = {
        "is": lambda fact: Is(atom(fact)),
        "not": lambda fact, form: Not(atom(fact), form),
        "compare": lambda op, a, b, maybe: Compare(op, value(a), value(b), maybe),
        "let": lambda var, expr: Let(value(var), value(expr)),
    }
    return made[kind](*rest)


def conditions(data: Any) -> tuple[Any, ...]:
    """Read the conditions of a rule."""
    return tuple(map(literal, data))


# ----------------------------------------------------- comparison, arithmetic


def ends(number: Any) -> Any:
    """A number as an interval of one number."""
    if isinstance(number, Interval):
        return number
    if not isinstance(number, Fraction):
        raise ValueError(f"{number!r} is not a number")
    return Interval((number, 0), (number, 0))


def truth(op: str, left: Any, right: Any) -> bool | None:
    """A comparison: true, false, or None where the intervals allow both."""
    if op in (">", ">="):
        return truth(op.replace(">", "<"), right, left)
    if op == "!=":
        equal = truth("=", left, right)
        return None if equal is None else not equal
    if op == "=" and Interval in (type(left), type(right)):
        words = isinstance(left, str) or isinstance(right, str)
        apart = words or truth("<", left, right) or truth("<", right, left)
        return False if apart else None
    return bool(left == right) if op == "=" else order(op, left, right)


def order(op: str, left: Any, right: Any) -> bool | None:
    """Whether one value comes before another, as `<` or `<=` has it."""
    strict = {"<": True, "<=": False}[op]
    if isinstance(left, str) and isinstance(right, str):
        return left < right or (left == right and not strict)
    one, two = ends(left), ends(right)
    if one.high < two.low or (one.high == two.low and not strict):
        return True
    return False if two.high < one.low or (two.high == one.low and strict) else None


def plus(one: Any, two: Any) -> Any:
    """The sum of two ends of one side."""
    far = [end[0] for end in (one, two) if isinstance(end[0], float)]
    return (far[0] if far else one[0] + two[0], one[1] or two[1])


def times(one: Any, two: Any, sign: int) -> Any:
    """The product of two ends, as an end of the side of `sign`."""
    (x, x_open), (y, y_open) = one, two
    if x == 0 or y == 0:
        return Fraction(0), sign * bool((x or x_open) and (y or y_open))
    if isinstance(x, float) or isinstance(y, float):
        return (INF if (x > 0) == (y > 0) else -INF), sign
    return x * y, sign * bool(x_open or y_open)


def inverse(a: Any) -> Any:
    """One over an interval that surely leaves out zero."""
    sign = 1 if a.low > (0, 0) else -1
    if sign < 0 and a.high >= (0, 0):
        raise ValueError("division by what may be zero")

    def turn(end: Any) -> Any:
        if end[0] == 0:
            return sign * INF, -end[1]
        return Fraction(0) if isinstance(end[0], float) else 1 / end[0], -end[1]

    return Interval(turn(a.high), turn(a.low))


def apply(op: str, a: Any, b: Any) -> Any:
    """An operation on two intervals."""
    if op in ("+", "-"):
        b = b if op == "+" else negative(b)
        return Interval(plus(a.low, b.low), plus(a.high, b.high))
    if op in ("*", "/"):
        b = b if op == "*" else inverse(b)
        low = min(times(x, y, 1) for x in a for y in b)
        return Interval(low, max(times(x, y, -1) for x in a for y in b))
    pick = {"min": min, "max": max}[op]
    return Interval(pick(a.low, b.low), pick(a.high, b.high))


def negative(a: Any) -> Any:
    """An interval with its sign turned."""
    return Interval((-a.high[0], -a.high[1]), (-a.low[0], -a.low[1]))


def worth(expr: Any, bind: dict[str, Any]) -> Any:
    """The value of an expression; raises ValueError where it has none."""
    if isinstance(expr, Var):
        return bind[expr.name]
    if not isinstance(expr, Op):
        return expr
    first, *rest = (ends(worth(each, bind)) for each in expr.of)
    if not rest and expr.op == "-":
        first = negative(first)
    for each in rest:
        first = apply(expr.op, first, each)
    return first.low[0] if first.low == first.high else first


# ------------------------------------------------------ conditions, bindings


def put(part: Any, bind: dict[str, Any]) -> Any:
    """A condition with values in the place of the variables that are bound."""
    if isinstance(part, Var):
        return bind.get(part.name, part)
    if not isinstance(part, tuple) or isinstance(part, Interval):
        return part
    parts = [put(each, bind) for each in part]
    return type(part)(*parts) if hasattr(part, "_fields") else tuple(parts)


def match(want: tuple[Any, ...], got: tuple[Any, ...], bind: dict[str, Any]) -> Any:
    """`bind` and what makes `want` equal `got`, or None; null agrees with all."""
    found = dict(bind)
    for one, two in zip(want, got, strict=True):
        if isinstance(one, Var):
            if found.setdefault(one.name, two) != two:
                return None
        elif one is not None and one != two:
            return None
    return found


def variables(body: tuple[Any, ...]) -> set[str]:
    """The variables to which a body gives values."""
    found: set[str] = set()
    for part in body:
        terms = part.atom if isinstance(part, Is) else (getattr(part, "var", None),)
        found.update(each.name for each in terms if isinstance(each, Var))
    return found


def atoms(body: Any) -> Iterator[tuple[Any, ...]]:
    """Every atom that a body looks at, in collections too."""
    for part in body:
        if isinstance(part, Collect):
            yield from atoms(part.body)
        elif isinstance(part, Is | Not):
            yield part.atom


def plain(made: Any) -> bool:
    """Whether something is a word, number or interval, and leaves nothing open."""
    return isinstance(made, str | Fraction | Interval)


@cache
def demands(part: Any) -> frozenset[str]:
    """The variables of a part; of a condition, those it needs to be tried."""
    if isinstance(part, Var):
        return frozenset((part.name,))
    if not isinstance(part, tuple):
        return frozenset()
    if isinstance(part, Let | Collect):
        part = (part.expr,) if isinstance(part, Let) else part.groups
    return frozenset().union(*map(demands, part))


def fold(function: str, members: Any) -> Any:
    """The value of a collection; None for the minimum or maximum of nothing."""
    if function == "count":
        return Fraction(len(members))
    of = tuple(each[0] for each in members)
    if function == "sum":
        return worth(Op("+", (Fraction(0), *of)), {})
    return worth(Op(function, of), {}) if of else None
