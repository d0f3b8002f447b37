"""What follows from the rules of a trace, worked out anew for the checker.

A second, small evaluator: values read from JSON, comparisons and arithmetic in exact
fractions, and all that follows from some rules and facts. It shares nothing with the
reasoner and needs the standard library only. It is slow and simple on purpose.

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
UNKNOWN = 1000  # facts expected of a predicate of which there are none yet

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


# ------------------------------------------------- what follows from the rules


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


def needs(body: tuple[Any, ...], up: int = 0) -> Iterator[tuple[str, int]]:
    """The predicates a body looks at, with 1 for those that must be finished."""
    for part in body:
        if isinstance(part, Collect):
            yield from needs(part.body, 1)
        elif isinstance(part, Is | Not):
            yield part.atom[0], up or int(isinstance(part, Not))


def levels(rules: list[Any]) -> dict[str, int]:
    """When each predicate is finished: after those it depends on, but in a circle."""
    uses: dict[str, set[str]] = {head[0]: set() for head, _ in rules}
    for head, body in rules:
        uses[head[0]].update(name for name, _ in needs(body) if name in uses)
    reached = {name: set(below) for name, below in uses.items()}
    for middle in uses:
        for below in reached.values():
            if middle in below:
                below.update(reached[middle])
    for head, body in rules:
        for name, finished in needs(body):
            if finished and head[0] in reached.get(name, ()):
                raise Refused(f"{head[0]} depends on its own absence")
    level = dict.fromkeys(uses, 0)
    for _ in uses:
        for name, below in uses.items():
            steps = [level[each] + (name not in reached[each]) for each in below]
            level[name] = max([level[name], *steps])
    return level


class Model:
    """Facts, filed under every value that they have in every place."""

    def __init__(self, facts: Any) -> None:
        self.all: set[Any] = set()
        self.files: dict[Any, list[Any]] = {}
        self.values: dict[Any, set[Any]] = {}
        for fact in facts:
            self.add(fact)

    def add(self, fact: tuple[Any, ...]) -> bool:
        """Add a fact; whether it was new."""
        new = fact not in self.all
        if new:
            self.all.add(fact)
            for place, each in enumerate(fact):
                self.files.setdefault((fact[0], place, each), []).append(fact)
                self.values.setdefault((fact[0], place), set()).add(each)
        return new

    def rows(self, atom: tuple[Any, ...], bind: dict[str, Any]) -> list[Any]:
        """Every way in which an atom holds: `bind` with what it adds."""
        want = put(atom, bind)
        files = [
            self.files.get((want[0], *place), [])
            for place in enumerate(want)
            if place[1] is not None and not isinstance(place[1], Var)
        ]
        found = (match(want, fact, bind) for fact in min(files, key=len))
        return [each for each in found if each is not None]

    def expected(self, atom: tuple[Any, ...], known: set[str]) -> float:
        """About how many facts agree with an atom, given values for some variables."""
        rows = len(self.files.get((atom[0], 0, atom[0]), ())) or UNKNOWN
        sizes: list[float] = [rows]
        for place, each in enumerate(atom[1:], 1):
            if isinstance(each, Var) and each.name in known:
                sizes.append(rows / len(self.values.get((atom[0], place), "several")))
            elif each is not None and not isinstance(each, Var):
                sizes.append(len(self.files.get((atom[0], place, each), ())))
        return min(sizes)

    def planned(self, body: Any, bound: Any = ()) -> tuple[Any, ...]:
        """The conditions in a good order: tests at once, then the narrowest atom."""
        left, known, plan = list(body), set(bound), []

        def dear(part: Any) -> float:
            if isinstance(part, Is):
                return self.expected(part.atom, known)
            return INF if demands(part) - known else -1

        while left:
            part = min(left, key=dear)
            if dear(part) == INF:
                raise Refused(f"{part} has a variable without a value")
            left.remove(part)
            plan.append(part)
            known |= demands(part) | variables((part,))
        return tuple(plan)

    def ways(self, plan: tuple[Any, ...], bind: dict[str, Any]) -> Iterator[Any]:
        """Every way to meet all conditions, tried in their order, as bindings."""
        if not plan:
            yield bind
            return
        for found in self.step(plan[0], bind):
            yield from self.ways(plan[1:], found)

    def step(self, part: Any, bind: dict[str, Any]) -> Any:
        """The ways to meet one condition."""
        if isinstance(part, Is):
            return self.rows(part.atom, bind)
        if isinstance(part, Not):
            return () if self.rows(part.atom, bind) else (bind,)
        try:
            if isinstance(part, Compare):
                held = truth(part.op, worth(part.left, bind), worth(part.right, bind))
                return (bind,) if held or (held is None and part.perhaps) else ()
            if isinstance(part, Let):
                got = worth(part.expr, bind)
            else:
                got = fold(part.function, self.members(put(part, bind)))
        except ValueError:
            return ()  # values meet here that the whole base keeps apart
        found = None if got is None else match((part.var,), (got,), bind)
        return () if found is None else (found,)

    def members(self, part: Any) -> set[Any]:
        """The distinct values that a collection is over."""
        return {put(part.terms, way) for way in self.ways(self.planned(part.body), {})}


def fold(function: str, members: Any) -> Any:
    """The value of a collection; None for the minimum or maximum of nothing."""
    if function == "count":
        return Fraction(len(members))
    of = tuple(each[0] for each in members)
    if function == "sum":
        return worth(Op("+", (Fraction(0), *of)), {})
    return worth(Op(function, of), {}) if of else None


def derive(rules: list[Any], facts: Any) -> Model:
    """All that follows from the rules, as (head, body), and the facts."""
    model, level = Model(facts), levels(rules)
    for now in sorted(set(level.values())):
        mine = [(head, body) for head, body in rules if level[head[0]] == now]
        uses: dict[str, list[Any]] = {}
        for head, body in mine:
            for i, part in enumerate(body):
                if isinstance(part, Is) and level.get(part.atom[0]) == now:
                    plan = model.planned(body[:i] + body[i + 1 :], demands(part))
                    uses.setdefault(part.atom[0], []).append((part.atom, plan, head))
        plans = [(head, model.planned(body)) for head, body in mine]
        fresh = [put(head, way) for head, plan in plans for way in model.ways(plan, {})]
        while fresh:
            fact = fresh.pop()
            for wanted, plan, head in uses.get(fact[0], ()) if model.add(fact) else ():
                bind = match(wanted, fact, {})
                if bind is not None:
                    fresh.extend(put(head, way) for way in model.ways(plan, bind))
    return model
