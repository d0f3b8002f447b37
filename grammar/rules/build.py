"""The parser library's tree of one block, turned into our syntax tree."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, TypeAlias

from abluent.grammar.common.errors import Span
from abluent.grammar.rules import tree as ast
from lark import Token, Transformer, v_args
from lark.tree import Meta


class Misplaced(Exception):
    """A block that the grammar accepts and the language does not."""

    def __init__(self, message: str, span: Span) -> None:
        super().__init__(message)
        self.message = message
        self.span = span


_Method: TypeAlias = Callable[["Builder", Meta, list[Any]], Any]


def _operation(self: Builder, meta: Meta, children: list[Any]) -> ast.Operation:
    left, sign, right = children
    operands = (_settled(left), _settled(right))
    return ast.Operation(str(sign), operands, self.span(meta))


def _clause(kind: str) -> _Method:
    def build(
        self: Builder, meta: Meta, children: list[Any]
    ) -> tuple[str, tuple[Any, ...], Span]:
        return kind, tuple(children), self.span(meta)

    return build


@v_args(meta=True)
class Builder(Transformer[Token, Any]):
    """Lark's tree to ours, spans moved by the place of the block in its file."""

    def __init__(self, offset: int) -> None:
        super().__init__()
        self._offset = offset

    def span(self, meta: Meta) -> Span:
        if meta.empty:
            return Span(self._offset, self._offset)
        return Span(meta.start_pos + self._offset, meta.end_pos + self._offset)

    # -- blocks ---------------------------------------------------------------

    def standings(self, meta: Meta, children: list[Any]) -> ast.Standings:
        return ast.Standings(tuple(children), self.span(meta))

    def predicate(self, meta: Meta, children: list[Any]) -> ast.Predicate:
        name, *rest = children
        columns = tuple(each for each in rest if isinstance(each, str))
        clauses = _Clauses([each for each in rest if isinstance(each, tuple)])
        return ast.Predicate(
            name,
            columns,
            clauses.text("says"),
            clauses.text("absent"),
            self.span(meta),
        )

    def rule(self, meta: Meta, children: list[Any]) -> ast.Rule:
        name, *rest = children
        clauses = _Clauses(rest)
        return ast.Rule(
            name,
            clauses.joined("if"),
            clauses.groups("unless"),
            clauses.joined("then"),
            clauses.text("says"),
            clauses.joined("source"),
            clauses.text("standing"),
            bool(clauses.once("from memory")),
            self.span(meta),
        )

    def exception(self, meta: Meta, children: list[Any]) -> ast.Override:
        name, target, *rest = children
        clauses = _Clauses(rest)
        clauses.forbid("then", "an exception has no `then`: it stops its rule")
        return ast.Override(
            name,
            target,
            clauses.joined("if"),
            clauses.groups("unless"),
            clauses.text("says"),
            clauses.joined("source"),
            clauses.text("standing"),
            bool(clauses.once("from memory")),
            self.span(meta),
        )

    # -- clauses --------------------------------------------------------------

    when = _clause("if")
    says = _clause("says")
    absent = _clause("absent")
    unless = _clause("unless")
    then = _clause("then")
    source = _clause("source")
    standing = _clause("standing")
    memory = _clause("from memory")

    # -- conditions -----------------------------------------------------------

    def atom(self, meta: Meta, children: list[Any]) -> ast.Atom:
        name, *args = children
        return ast.Atom(name, tuple(args), self.span(meta))

    def absence(self, meta: Meta, children: list[Any]) -> ast.Absence:
        return ast.Absence(children[0], self.span(meta))

    def comparison(self, meta: Meta, children: list[Any]) -> ast.Comparison:
        left, operator, right = children[-3:]
        return ast.Comparison(
            str(operator),
            _settled(left),
            _settled(right),
            len(children) > 3,
            self.span(meta),
        )

    def assignment(
        self, meta: Meta, children: list[Any]
    ) -> ast.Assignment | ast.Collection:
        variable, value = children
        if not isinstance(value, _Call) or value.conditions is None:
            return ast.Assignment(variable, _settled(value), self.span(meta))
        for each in value.operands:
            if isinstance(each, ast.Operation | _Call):
                message = "a collection is over variables and constants"
                raise Misplaced(message, each.span)
        return ast.Collection(
            variable, value.function, value.operands, value.conditions, self.span(meta)
        )

    def collected(self, meta: Meta, children: list[Any]) -> tuple[Any, ...]:
        return tuple(children)

    # -- expressions and terms ------------------------------------------------

    addition = _operation
    multiplication = _operation

    def negation(self, meta: Meta, children: list[Any]) -> ast.Expression:
        (operand,) = children
        if isinstance(operand, ast.Constant) and isinstance(
            operand.value, int | Fraction
        ):
            return ast.Constant(-operand.value, self.span(meta))
        return ast.Operation("-", (_settled(operand),), self.span(meta))

    def call(self, meta: Meta, children: list[Any]) -> _Call:
        function, *operands = children
        conditions = operands.pop() if isinstance(operands[-1], tuple) else None
        return _Call(str(function), tuple(operands), conditions, self.span(meta))

    def variable(self, meta: Meta, children: list[Any]) -> ast.Variable:
        return ast.Variable(str(children[0])[1:], self.span(meta))

    def anything(self, meta: Meta, children: list[Any]) -> ast.Anything:
        return ast.Anything(self.span(meta))

    def name_constant(self, meta: Meta, children: list[Any]) -> ast.Constant:
        return ast.Constant(str(children[0]), self.span(meta))

    def text_constant(self, meta: Meta, children: list[Any]) -> ast.Constant:
        return ast.Constant(_unquoted(children[0]), self.span(meta))

    def number(self, meta: Meta, children: list[Any]) -> ast.Constant:
        return ast.Constant(_number(children[0]), self.span(meta))

    def fraction(self, meta: Meta, children: list[Any]) -> ast.Constant:
        over, under = _number(children[0]), _number(children[-1])
        if under == 0:
            raise Misplaced("division by zero", self.span(meta))
        return ast.Constant(_whole(Fraction(over) / Fraction(under)), self.span(meta))

    def negative(self, meta: Meta, children: list[Any]) -> ast.Constant:
        return ast.Constant(-children[0].value, self.span(meta))

    def range(self, meta: Meta, children: list[Any]) -> ast.Constant:
        try:
            return ast.Constant(_range(str(children[0])), self.span(meta))
        except ValueError as error:
            raise Misplaced(str(error), self.span(meta)) from None

    def word(self, meta: Meta, children: list[Any]) -> str:
        (token,) = children
        return _unquoted(token) if token.type == "STRING" else str(token)


@dataclass(frozen=True, slots=True)
class _Call:
    """`min(...)` and its like, before it is known which of the two kinds it is."""

    function: str
    operands: tuple[Any, ...]
    conditions: tuple[Any, ...] | None
    span: Span


def _settled(value: Any) -> ast.Expression:
    """An expression in which no collection stands."""
    if not isinstance(value, _Call):
        result: ast.Expression = value
        return result
    if value.conditions is not None:
        raise Misplaced("a collection stands alone, after `is`", value.span)
    if value.function not in {"min", "max"}:
        message = f"`{value.function}` needs conditions: `{value.function}(?x : ...)`"
        raise Misplaced(message, value.span)
    operands = tuple(map(_settled, value.operands))
    return ast.Operation(value.function, operands, value.span)


class _Clauses:
    """The clauses of one block, by kind."""

    def __init__(self, clauses: list[tuple[str, tuple[Any, ...], Span]]) -> None:
        self._clauses = clauses

    def groups(self, kind: str) -> tuple[tuple[Any, ...], ...]:
        return tuple(content for each, content, _ in self._clauses if each == kind)

    def joined(self, kind: str) -> tuple[Any, ...]:
        return tuple(part for group in self.groups(kind) for part in group)

    def once(self, kind: str) -> tuple[tuple[Any, ...], ...]:
        spans = [span for each, _, span in self._clauses if each == kind]
        if len(spans) > 1:
            raise Misplaced(f"a second `{kind}` in one block", spans[1])
        return self.groups(kind)

    def text(self, kind: str) -> str | None:
        found = self.once(kind)
        if not found:
            return None
        (content,) = found[0]
        return _unquoted(content) if isinstance(content, Token) else str(content)

    def forbid(self, kind: str, message: str) -> None:
        for each, _, span in self._clauses:
            if each == kind:
                raise Misplaced(message, span)


def _unquoted(token: str) -> str:
    return re.sub(r"\\(.)", lambda found: _escaped(found[1]), str(token)[1:-1])


def _escaped(mark: str) -> str:
    return "\n" if mark == "n" else mark


def _number(text: str) -> int | Fraction:
    return int(text) if text.isdigit() else _whole(Fraction(text))


def _whole(value: Fraction) -> int | Fraction:
    return value.numerator if value.denominator == 1 else value


def _range(text: str) -> ast.Range:
    low_text, high_text = (part.strip() for part in text[1:-1].split(","))
    low = _whole(Fraction(low_text)) if low_text else None
    high = _whole(Fraction(high_text)) if high_text else None
    low_open = low is None or text[0] == "("
    high_open = high is None or text[-1] == ")"
    if low is not None and high is not None:
        if low > high or (low == high and (low_open or high_open)):
            raise ValueError(f"the interval `{text}` holds no number")
    return ast.Range(low, high, low_open, high_open)
