"""Which columns hold the same things, and the whole numbers that stand for them.

Columns that a variable joins, or that a comparison or arithmetic brings together,
make one domain, and a term has one number throughout its domain. There are two ways
to number it, both exact:

* by rank: the terms are put in order and numbered by it, four apart. An interval is
  the numbers of its two ends, an open end one further in. Then a comparison of terms
  is one of whole numbers, however long the fractions are.
* by value, where rules compute: the values times their common denominator. It has no
  intervals, and values too large for a column are refused.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from math import lcm
from typing import NamedTuple

from abluent.engine.logic.clauses import (
    Assignment,
    Collection,
    Comparison,
    Expression,
    Literal,
    Operation,
    Rule,
    Variable,
    body_atoms,
    expression_variables,
)
from abluent.engine.logic.symbols import infer_sorts
from abluent.engine.logic.terms import Interval, Number, Term, interval, number
from abluent.engine.relational.errors import Untranslatable

LARGEST = 1 << 62
"""No number in a column is as large; sums of two such still fit."""
_STEP = 4


class Code(NamedTuple):
    """The numbers of a term: of its low and its high end, the same for most terms."""

    low: int
    high: int


class Domain:
    """The terms that can meet in some columns, and their numbers.

    Terms are added first; the numbers hold once the first is asked for.
    """

    def __init__(self) -> None:
        self.computed_by = ""
        """The rule that computes with its values, if one does."""
        self.ordered_by = ""
        """The rule that asks for the order of its terms, if one does."""
        self._symbols: set[str] = set()
        self._numbers: set[Number] = set()
        self._intervals: set[Interval] = set()

    def add(self, terms: Iterable[Term]) -> None:
        """Take terms in."""
        for term in terms:
            if isinstance(term, str):
                self._symbols.add(term)
            elif isinstance(term, Interval):
                self._intervals.add(term)
                self._numbers |= {e for e in (term.low, term.high) if e is not None}
            else:
                self._numbers.add(term)

    def refuse(self) -> None:
        """Refuse what could not be numbered truly.

        Raises:
            Untranslatable: a rule computes with symbols or intervals, or orders
                symbols and numbers; or a value is too large.
        """
        if self.computed_by and self._symbols:
            some = min(self._symbols)
            raise Untranslatable(self.computed_by, f"it would compute with `{some}`")
        if self.computed_by and self._intervals:
            some_interval = next(iter(self._intervals))
            reason = f"it would compute with an interval, `{some_interval}`"
            raise Untranslatable(self.computed_by, reason)
        if self.ordered_by and self._symbols and self._numbers:
            some = min(self._symbols)
            reason = f"it would ask for the order of `{some}` and a number"
            raise Untranslatable(self.ordered_by, reason)
        if self.computed_by:
            most = max((abs(Fraction(e)) for e in self._numbers), default=Fraction(0))
            if most * self.scale >= LARGEST:
                reason = f"the value {most} is too large for a column of whole numbers"
                raise Untranslatable(self.computed_by, reason)

    @property
    def wide(self) -> bool:
        """Whether a term has two ends."""
        return bool(self._intervals)

    @cached_property
    def scale(self) -> int:
        """What values are multiplied by."""
        return lcm(*(Fraction(each).denominator for each in self._numbers))

    @cached_property
    def _order(self) -> tuple[list[Number], list[str]]:
        return sorted(self._numbers), sorted(self._symbols)

    @cached_property
    def _ranks(self) -> dict[Term, int]:
        numbers, symbols = self._order
        ranks: dict[Term, int] = {
            each: at * _STEP for at, each in enumerate(numbers, start=1)
        }
        beyond = (len(numbers) + 2) * _STEP
        ranks |= {each: beyond + at * _STEP for at, each in enumerate(symbols)}
        return ranks

    @cached_property
    def codes(self) -> Mapping[Term, int]:
        """The number of every term that has but one."""
        if self.computed_by:
            return {n: int(n * self.scale) for n in self._numbers}
        return self._ranks

    def single(self) -> Iterator[tuple[int, Term]]:
        """Every term that has but one number, after that number."""
        for term, code in self.codes.items():
            yield code, term

    def code(self, term: Term) -> Code | None:
        """The numbers of a term; `None` of one that was not taken in."""
        if isinstance(term, Interval):
            if term not in self._intervals:
                return None
            top = (len(self._order[0]) + 1) * _STEP
            low = 0 if term.low is None else self._ranks[term.low] + term.low_open
            high = top if term.high is None else self._ranks[term.high] - term.high_open
            return Code(low, high)
        code = self.codes.get(term)
        return None if code is None else Code(code, code)

    def term(self, low: int, high: int) -> Term:
        """The term of some numbers."""
        if self.computed_by:
            return number(Fraction(low, self.scale))
        numbers, symbols = self._order
        if low == high:
            at = low // _STEP
            if at <= len(numbers):
                return numbers[at - 1]
            return symbols[at - len(numbers) - 2]
        top = (len(numbers) + 1) * _STEP
        return interval(
            None if low == 0 else numbers[low // _STEP - 1],
            None if high == top else numbers[-(-high // _STEP) - 1],
            bool(low % _STEP),
            bool(high % _STEP),
        )


class Domains:
    """The domains of all columns of some rules, and of the variables in them.

    Args:
        rules: the rules.
        arities: the number of terms of every predicate.
    """

    def __init__(self, rules: Sequence[Rule], arities: Mapping[str, int]) -> None:
        self._parent: dict[Hashable, Hashable] = {}
        self._constants: list[tuple[Hashable, Term]] = []
        self._computed: list[tuple[Hashable, str]] = []
        self._ordered: list[tuple[Hashable, str]] = []
        self._sorts = infer_sorts(rules, dict(arities))
        for at, rule in enumerate(rules):
            self._take(at, rule)
        self._domains: dict[Hashable, Domain] = {}
        for node, term in self._constants:
            self._of(node).add([term])
        for node, rule_id in self._computed:
            self._of(node).computed_by = rule_id
        for node, rule_id in self._ordered:
            self._of(node).ordered_by = rule_id

    def column(self, predicate: str, place: int) -> Domain:
        """The domain of a column."""
        return self._of(("column", self._sorts[predicate][place]))

    def variable(self, at: int, name: str) -> Domain:
        """The domain of a variable of the rule at a position."""
        return self._of((at, name))

    def columns(self, predicate: str) -> list[Domain]:
        """The domains of all columns of a predicate."""
        return [
            self.column(predicate, place)
            for place in range(len(self._sorts[predicate]))
        ]

    def refuse(self) -> None:
        """Refuse what could not be numbered truly; see `Domain.refuse`."""
        for domain in self._domains.values():
            domain.refuse()

    # -- what meets what ----------------------------------------------------------

    def _of(self, node: Hashable) -> Domain:
        return self._domains.setdefault(self._root(node), Domain())

    def _root(self, node: Hashable) -> Hashable:
        parent = self._parent
        while parent.get(node, node) != node:
            parent[node] = parent.get(parent[node], parent[node])
            node = parent[node]
        return node

    def _join(self, nodes: Sequence[Hashable]) -> None:
        for node in nodes[1:]:
            self._parent[self._root(node)] = self._root(nodes[0])

    def _take(self, at: int, rule: Rule) -> None:
        for atom in (rule.head, *body_atoms(rule.body)):
            for place, argument in enumerate(atom.args):
                column = ("column", self._sorts[atom.predicate][place])
                if isinstance(argument, Variable):
                    self._join([column, (at, argument.name)])
                elif isinstance(argument, str | int | Fraction | Interval):
                    self._constants.append((column, argument))
        for literal in _all(rule.body):
            self._take_values(at, rule.id, literal)

    def _take_values(self, at: int, rule: str, literal: Literal) -> None:
        if isinstance(literal, Comparison):
            sides: tuple[Expression, ...] = (literal.left, literal.right)
            node = self._meet(at, rule, sides)
            if literal.operator not in {"=", "!="}:
                self._ordered.append((node, rule))
        elif isinstance(literal, Assignment):
            self._meet(at, rule, (literal.variable, literal.expression))
        elif isinstance(literal, Collection):
            counted: tuple[Expression, ...] = (literal.variable,)
            if literal.function != "count":
                counted += tuple(
                    term
                    for term in literal.terms[:1]
                    if isinstance(term, Variable | str | int | Fraction | Interval)
                )
            self._computed.append((self._meet(at, rule, counted), rule))

    def _meet(self, at: int, rule: str, sides: Sequence[Expression]) -> Hashable:
        """Bring the variables and constants of expressions together."""
        names = dict.fromkeys(n for side in sides for n in expression_variables(side))
        # Constants alone have a node of their own.
        nodes: list[Hashable] = [(at, name) for name in names] or [(at, sides)]
        self._join(nodes)
        self._constants += [
            (nodes[0], each) for side in sides for each in _constants(side)
        ]
        if any(isinstance(side, Operation) for side in sides):
            self._computed.append((nodes[0], rule))
        return nodes[0]


def _all(body: Iterable[Literal]) -> Iterator[Literal]:
    for literal in body:
        yield literal
        if isinstance(literal, Collection):
            yield from _all(literal.body)


def _constants(expression: Expression) -> Iterator[Term]:
    if isinstance(expression, Operation):
        for operand in expression.operands:
            yield from _constants(operand)
    elif not isinstance(expression, Variable):
        yield expression
