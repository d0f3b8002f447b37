"""One rule as selections: its conditions become sources, joins and tests."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import count
from math import lcm
from typing import NamedTuple, TypeAlias

from abluent.engine.logic import clauses as c
from abluent.engine.logic.safety import needed_variables
from abluent.engine.logic.terms import COMPARISONS
from abluent.engine.relational import plan as p
from abluent.engine.relational.domains import Domain, Domains
from abluent.engine.relational.errors import Untranslatable

# A table to read instead of another, at one of the conditions of a rule.
Reads: TypeAlias = Callable[[int, str], str]


class Value(NamedTuple):
    """A term in a row: its low and its high end, and what both are multiplied by.

    `scale` is 0 where terms are numbered by rank.
    """

    low: p.Expression
    high: p.Expression
    scale: int


class Naming(NamedTuple):
    """What predicates are called as tables."""

    tables: Mapping[str, p.Table]
    domains: Domains

    def ends(self, predicate: str) -> list[tuple[str, str]]:
        """The columns of each place: twice the same where terms have one end."""
        return [
            (f"c{at}", f"h{at}" if domain.wide else f"c{at}")
            for at, domain in enumerate(self.domains.columns(predicate))
        ]


class Body:
    """The conditions of a rule on their way to a selection.

    Args:
        naming: the names of tables and the domains.
        at: the position of the rule.
        rule: the rule.
        aliases: gives names that nothing else has.
    """

    def __init__(
        self, naming: Naming, at: int, rule: c.Rule, aliases: Iterator[int]
    ) -> None:
        self._naming, self._at, self._rule = naming, at, rule
        self._aliases = aliases
        self.sources: list[p.Source | p.Collected] = []
        self.where: list[p.Condition] = []
        self.values: dict[str, Value] = {}

    def take(self, body: Iterable[c.Literal], reads: Reads) -> None:
        """Take all conditions in, each when what it needs has a value."""
        waiting: list[c.Literal] = []
        atoms = 0
        for literal in body:
            if isinstance(literal, c.Atom):
                self._atom(literal, reads(atoms, literal.predicate))
                atoms += 1
            else:
                waiting.append(literal)
        while waiting:
            ready = [each for each in waiting if self._is_ready(each)]
            if not ready:
                reason = f"`{waiting[0]}` needs a value from outside of it"
                raise Untranslatable(self._rule.id, reason)
            for literal in ready:
                self._rest(literal)
            waiting = [each for each in waiting if each not in ready]

    def head(self, atom: c.Atom) -> tuple[tuple[str, p.Expression], ...]:
        """The columns of a head."""
        found: dict[str, p.Expression] = {}
        ends = self._naming.ends(atom.predicate)
        for place, (argument, names) in enumerate(zip(atom.args, ends, strict=True)):
            domain = self._naming.domains.column(atom.predicate, place)
            value = self._value(argument, domain)
            found[names[0]] = value.low
            found[names[1]] = value.low if names[0] == names[1] else value.high
        # A table has a column at least.
        return tuple(found.items()) or (("c", p.Number(1)),)

    # -- conditions -----------------------------------------------------------------

    def _is_ready(self, literal: c.Literal) -> bool:
        return self.values.keys() >= set(needed_variables(literal))

    def _atom(self, atom: c.Atom, table: str) -> None:
        alias = f"t{next(self._aliases)}"
        ends = self._naming.ends(atom.predicate)
        only = [
            name
            for argument, names in zip(atom.args, ends, strict=True)
            if not isinstance(argument, c.Anything)
            for name in dict.fromkeys(names)
        ]
        whole = len(only) == sum(len({*names}) for names in ends)
        source = p.Source(table, alias, None if whole else tuple(only))
        self.sources.append(source)
        self.where += self._matched(atom, alias, binds=True)

    def _matched(
        self, atom: c.Atom, alias: str, *, binds: bool
    ) -> Iterator[p.Condition]:
        """That a row of a table is as an atom says."""
        ends = self._naming.ends(atom.predicate)
        for place, (argument, (low, high)) in enumerate(
            zip(atom.args, ends, strict=True)
        ):
            if isinstance(argument, c.Anything):
                continue
            domain = self._naming.domains.column(atom.predicate, place)
            scale = domain.scale if domain.computed_by else 0
            here = Value(p.Column(alias, low), p.Column(alias, high), scale)
            if binds and isinstance(argument, c.Variable):
                if argument.name not in self.values:
                    self.values[argument.name] = here
                    continue
            yield from self._same(here, self._value(argument, domain))

    def _rest(self, literal: c.Literal) -> None:
        if isinstance(literal, c.Absence):
            alias = f"t{next(self._aliases)}"
            matched = tuple(self._matched(literal.atom, alias, binds=False))
            table = self._naming.tables[literal.atom.predicate].name
            self.where.append(p.Nothing(table, alias, matched))
        elif isinstance(literal, c.Comparison):
            self.where.append(self._compared(literal))
        elif isinstance(literal, c.Assignment):
            self._assign(literal)
        elif isinstance(literal, c.Collection):
            self._collect(literal)

    # -- values ----------------------------------------------------------------------

    def _value(self, argument: c.Argument | c.Expression, domain: Domain) -> Value:
        if isinstance(argument, c.Variable):
            return self.values[argument.name]
        assert not isinstance(argument, c.Anything | c.Operation)
        code = domain.code(argument)
        assert code is not None, "the constants of the rules were taken in"
        scale = domain.scale if domain.computed_by else 0
        return Value(p.Number(code.low), p.Number(code.high), scale)

    def _same(self, left: Value, right: Value) -> Iterator[p.Condition]:
        left, right = self._level(left, right)
        yield p.Compared("=", left.low, right.low)
        if (left.high, right.high) != (left.low, right.low):
            yield p.Compared("=", left.high, right.high)

    def _domain(self, expressions: Sequence[c.Expression]) -> Domain | None:
        """The domain of the variables of expressions, if they have any."""
        for expression in expressions:
            for name in c.expression_variables(expression):
                return self._naming.domains.variable(self._at, name)
        return None

    def _expression(self, expression: c.Expression, domain: Domain) -> Value:
        if not isinstance(expression, c.Operation):
            return self._value(expression, domain)
        sign = expression.operator
        if sign == "/":
            return self._divided(expression, domain)
        parts = [self._expression(each, domain) for each in expression.operands]
        if len(parts) == 1 and sign in {"-", "+"}:
            only = parts[0]
            if sign == "+":
                return only
            return _point(_apply("*", p.Number(-1), only.low), only.scale)
        value = parts[0]
        for part in parts[1:]:
            value = self._operated(sign, value, part)
        return value

    def _operated(self, sign: str, left: Value, right: Value) -> Value:
        if sign == "*":
            return _point(_apply("*", left.low, right.low), left.scale * right.scale)
        left, right = self._level(left, right)
        named = {"min": "least", "max": "greatest"}.get(sign, sign)
        return _point(_apply(named, left.low, right.low), left.scale)

    def _divided(self, expression: c.Operation, domain: Domain) -> Value:
        value = self._expression(expression.operands[0], domain)
        for divisor in expression.operands[1:]:
            if not isinstance(divisor, int | Fraction) or divisor == 0:
                reason = f"it divides by `{divisor}`, which is no number but nought"
                raise Untranslatable(self._rule.id, reason)
            inverse = 1 / Fraction(divisor)
            times = _apply("*", p.Number(inverse.numerator), value.low)
            value = _point(times, value.scale * inverse.denominator)
        return value

    def _level(self, left: Value, right: Value) -> tuple[Value, Value]:
        """Two values on one scale."""
        if left.scale == right.scale:
            return left, right
        common = lcm(left.scale, right.scale)
        return _scaled(left, common), _scaled(right, common)

    def _compared(self, literal: c.Comparison) -> p.Condition:
        sides = (literal.left, literal.right)
        domain = self._domain(sides)
        if domain is None:
            return self._settled(literal)
        left, right = self._level(*(self._expression(each, domain) for each in sides))
        if literal.operator in {">", ">="}:
            left, right = right, left
        return _TESTS[literal.operator.replace(">", "<"), literal.perhaps](left, right)

    def _settled(self, literal: c.Comparison) -> p.Condition:
        left, right = literal.left, literal.right
        assert not isinstance(left, c.Variable | c.Operation), "it has no variable"
        assert not isinstance(right, c.Variable | c.Operation), "it has no variable"
        outcome = COMPARISONS[literal.operator](left, right)
        holds = outcome is not False if literal.perhaps else outcome is True
        return p.Compared("=", p.Number(1), p.Number(int(holds)))

    def _assign(self, literal: c.Assignment) -> None:
        domain = self._domain((literal.variable,))
        assert domain is not None
        value = self._expression(literal.expression, domain)
        name = literal.variable.name
        if name in self.values:
            self.where += self._same(self.values[name], value)
            return
        if value.scale and domain.scale % value.scale:
            reason = (
                f"`{literal}` may give values of finer parts than the facts it "
                "would join"
            )
            raise Untranslatable(self._rule.id, reason)
        self.values[name] = _scaled(value, domain.scale) if value.scale else value

    def _collect(self, literal: c.Collection) -> None:
        inner = Body(self._naming, self._at, self._rule, self._aliases)
        tables = self._naming.tables
        inner.take(literal.body, lambda at, name: tables[name].name)
        missing = [name for name in literal.groups if name not in inner.values]
        if missing:
            reason = f"`{literal}` gives `?{missing[0]}` no value of its own"
            raise Untranslatable(self._rule.id, reason)
        alias = f"t{next(self._aliases)}"
        domain = self._domain((literal.variable,))
        assert domain is not None
        columns = self._collected_columns(inner, literal, domain)
        on = [
            condition
            for at, name in enumerate(literal.groups)
            for condition in self._grouped(inner, alias, at, name)
        ]
        shown = {*literal.groups} | {
            term.name for term in literal.terms if isinstance(term, c.Variable)
        }
        once = _shows_all(shown, literal.body)
        selected = p.Select(columns, tuple(inner.sources), tuple(inner.where), once)
        groups = sum(name.startswith("g") for name, _ in columns)
        collected = p.Collected(selected, groups, literal.function, alias, tuple(on))
        self.sources.append(collected)
        value: p.Expression = p.Column(alias, "value")
        if literal.function in {"min", "max"}:
            self.where.append(p.Given(value))
        else:
            value = p.WholeOr(value, 0)
        if literal.function == "count":
            value = _apply("*", p.Number(domain.scale), value)
        name = literal.variable.name
        found = _point(value, domain.scale)
        if name in self.values:
            self.where += self._same(self.values[name], found)
        else:
            self.values[name] = found

    def _grouped(
        self, inner: Body, alias: str, at: int, name: str
    ) -> Iterator[p.Condition]:
        """That a group of a collection is that of the row."""
        outer, own = self.values[name], inner.values[name]
        high = p.Column(alias, f"gh{at}" if own.high != own.low else f"g{at}")
        here = Value(p.Column(alias, f"g{at}"), high, own.scale)
        yield from self._same(outer, here)

    def _collected_columns(
        self, inner: Body, literal: c.Collection, domain: Domain
    ) -> tuple[tuple[str, p.Expression], ...]:
        """The groups of a collection, then what it counts or adds."""
        found: dict[str, p.Expression] = {}
        for at, name in enumerate(literal.groups):
            value = inner.values[name]
            found[f"g{at}"] = value.low
            if value.high != value.low:
                found[f"gh{at}"] = value.high
        for at, term in enumerate(literal.terms):
            if isinstance(term, c.Variable):
                value = inner.values[term.name]
            elif at == 0 and literal.function != "count":
                value = self._value(term, domain)
            else:
                continue
            found[f"v{at}"] = value.low
            if value.high != value.low:
                found[f"w{at}"] = value.high
        if not any(name.startswith("v") for name in found):
            found["v0"] = p.Number(1)
        return tuple(found.items())


def _apply(operator: str, *operands: p.Expression) -> p.Expression:
    if operator == "*" and operands[0] == p.Number(1):
        return operands[1]
    return p.Arithmetic(operator, operands)


def _point(expression: p.Expression, scale: int) -> Value:
    return Value(expression, expression, scale)


def _scaled(value: Value, scale: int) -> Value:
    times = p.Number(scale // value.scale)
    return _point(_apply("*", times, value.low), scale)


# -- comparisons, by what is certain and what is not excluded --------------------------


def _before(left: Value, right: Value) -> p.Condition:
    return p.Compared("<", left.high, right.low)


def _up_to(left: Value, right: Value) -> p.Condition:
    return p.Compared("<=", left.high, right.low)


def _perhaps_before(left: Value, right: Value) -> p.Condition:
    return p.Compared("<", left.low, right.high)


def _perhaps_up_to(left: Value, right: Value) -> p.Condition:
    return p.Compared("<=", left.low, right.high)


def _equal(left: Value, right: Value) -> p.Condition:
    points = [
        p.Compared("=", side.low, side.high)
        for side in (left, right)
        if side.low != side.high
    ]
    return p.All((p.Compared("=", left.low, right.low), *points))


def _apart(left: Value, right: Value) -> p.Condition:
    return p.Either((_before(left, right), _before(right, left)))


def _perhaps_equal(left: Value, right: Value) -> p.Condition:
    return p.All((_perhaps_up_to(left, right), _perhaps_up_to(right, left)))


def _perhaps_unequal(left: Value, right: Value) -> p.Condition:
    return p.Opposite(_equal(left, right))


_TESTS: dict[tuple[str, bool], Callable[[Value, Value], p.Condition]] = {
    ("<", False): _before,
    ("<=", False): _up_to,
    ("=", False): _equal,
    ("!=", False): _apart,
    ("<", True): _perhaps_before,
    ("<=", True): _perhaps_up_to,
    ("=", True): _perhaps_equal,
    ("!=", True): _perhaps_unequal,
}


def selection(
    naming: Naming, at: int, rule: c.Rule, reads: Reads | None = None
) -> p.Select:
    """The rows that a rule concludes.

    Args:
        naming: the names of tables and the domains.
        at: the position of the rule among those of the domains.
        rule: the rule.
        reads: which table to read at which positive condition, if not its own.

    Raises:
        Untranslatable: a condition has no exact counterpart.
    """
    body = Body(naming, at, rule, count())
    own = naming.tables
    body.take(rule.body, reads or (lambda at, name: own[name].name))
    columns = body.head(rule.head)
    once = _told_once(rule)
    return p.Select(columns, tuple(body.sources), tuple(body.where), once)


def _told_once(rule: c.Rule) -> bool:
    """Whether the head has every variable that a condition binds."""
    return _shows_all(set(c.atom_variables(rule.head)), rule.body)


def _shows_all(shown: set[str], body: Iterable[c.Literal]) -> bool:
    """Whether some variables are all that conditions bind, and none of these counts."""
    return all(
        shown.issuperset(c.atom_variables(literal))
        for literal in body
        if isinstance(literal, c.Atom)
    ) and not any(isinstance(literal, c.Collection) for literal in body)
