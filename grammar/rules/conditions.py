"""Conditions and terms of both shapes of rule files, and clauses by kind."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, TypeAlias

from abluent.grammar.common.errors import Span
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.words import FUNCTIONS, SIGNS
from lark import Token, Transformer, v_args
from lark.tree import Meta

_SIGNS = {word: sign for sign, word in SIGNS.items()}
_FUNCTIONS = {words: name for name, words in FUNCTIONS.items()}


class Misplaced(Exception):
    """A block that the grammar accepts and the language does not."""

    def __init__(self, message: str, span: Span, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.span = span
        self.hint = hint


_Method: TypeAlias = Callable[["Conditions", Meta, list[Any]], Any]


def _operation(self: Conditions, meta: Meta, children: list[Any]) -> ast.Operation:
    left, sign, right = children
    operands = (settled(left), settled(right))
    return ast.Operation(str(sign), operands, self.span(meta))


def clause(kind: str) -> _Method:
    """A method that gathers a clause as its kind, its content and its place."""

    def build(
        self: Conditions, meta: Meta, children: list[Any]
    ) -> tuple[str, tuple[Any, ...], Span]:
        return kind, tuple(children), self.span(meta)

    return build


@v_args(meta=True)
class Conditions(Transformer[Token, Any]):
    """What stands in conditions; spans are moved by the block's place in its file."""

    def __init__(self, offset: int) -> None:
        super().__init__()
        self._offset = offset

    def span(self, meta: Meta) -> Span:
        if meta.empty:
            return Span(self._offset, self._offset)
        return Span(meta.start_pos + self._offset, meta.end_pos + self._offset)

    def absence(self, meta: Meta, children: list[Any]) -> ast.Absence:
        return ast.Absence(children[0], self.span(meta))

    def comparison(self, meta: Meta, children: list[Any]) -> ast.Comparison:
        left, operator, right = children[-3:]
        sign = _spaced(operator)
        return ast.Comparison(
            _SIGNS.get(sign, sign),
            settled(left),
            settled(right),
            len(children) > 3,
            self.span(meta),
        )

    def assignment(
        self, meta: Meta, children: list[Any]
    ) -> ast.Assignment | ast.Collection:
        variable, value = children
        if not isinstance(value, _Call) or value.conditions is None:
            return ast.Assignment(variable, settled(value), self.span(meta))
        for each in value.operands:
            if isinstance(each, ast.Operation | ast.Anything | _Call):
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
        return ast.Operation("-", (settled(operand),), self.span(meta))

    def call(self, meta: Meta, children: list[Any]) -> _Call:
        function, *operands = children
        conditions = operands.pop() if isinstance(operands[-1], tuple) else None
        name = _spaced(function)
        return _Call(
            _FUNCTIONS.get(name, name), tuple(operands), conditions, self.span(meta)
        )

    def variable(self, meta: Meta, children: list[Any]) -> ast.Variable:
        return ast.Variable(str(children[0]).split()[-1], self.span(meta))

    def something(self, meta: Meta, children: list[Any]) -> ast.Anything:
        return ast.Anything(self.span(meta))

    def name_constant(self, meta: Meta, children: list[Any]) -> ast.Constant:
        return ast.Constant(str(children[0]), self.span(meta))

    def text_constant(self, meta: Meta, children: list[Any]) -> ast.Constant:
        return ast.Constant(unquoted(children[0]), self.span(meta))

    def number(self, meta: Meta, children: list[Any]) -> ast.Constant:
        return ast.Constant(_number(children[0]), self.span(meta))

    def fraction(self, meta: Meta, children: list[Any]) -> ast.Constant:
        over, under = _number(children[0]), _number(children[-1])
        return ast.Constant(divided(over, under, self.span(meta)), self.span(meta))

    def negative(self, meta: Meta, children: list[Any]) -> ast.Constant:
        return ast.Constant(-children[0].value, self.span(meta))

    def range(self, meta: Meta, children: list[Any]) -> ast.Constant:
        try:
            return ast.Constant(_range(str(children[0])), self.span(meta))
        except ValueError as error:
            raise Misplaced(str(error), self.span(meta)) from None


@dataclass(frozen=True, slots=True)
class _Call:
    """`least of (...)` and its like, before it is known which of two kinds it is."""

    function: str
    operands: tuple[Any, ...]
    conditions: tuple[Any, ...] | None
    span: Span


def settled(value: Any) -> ast.Expression:
    """An expression in which no collection stands."""
    if isinstance(value, ast.Anything):
        message = "`something` has no value to work with"
        raise Misplaced(message, value.span, "Name it: `the` and a word.")
    if not isinstance(value, _Call):
        result: ast.Expression = value
        return result
    if value.conditions is not None:
        raise Misplaced("a collection stands alone, after `comes to`", value.span)
    if value.function not in {"min", "max"}:
        words = FUNCTIONS[value.function]
        message = f"`{words}` needs conditions"
        hint = f"Write `{words} (the x where …)`."
        raise Misplaced(message, value.span, hint)
    operands = tuple(map(settled, value.operands))
    return ast.Operation(value.function, operands, value.span)


class Clauses:
    """The clauses of one block, by kind."""

    def __init__(self, clauses: list[tuple[str, tuple[Any, ...], Span]]) -> None:
        self._clauses = clauses

    def of(self, kind: str) -> list[tuple[tuple[Any, ...], Span]]:
        """The contents of the clauses of one kind, with their places."""
        return [
            (content, span) for each, content, span in self._clauses if each == kind
        ]

    def groups(self, kind: str) -> tuple[tuple[Any, ...], ...]:
        return tuple(content for content, _ in self.of(kind))

    def joined(self, kind: str) -> tuple[Any, ...]:
        return tuple(part for group in self.groups(kind) for part in group)

    def once(self, kind: str) -> tuple[Any, ...]:
        """The content of a clause that may stand once.

        Raises:
            Misplaced: it stands there twice.
        """
        spans = [span for _, span in self.of(kind)]
        if len(spans) > 1:
            hint = "Leave one of them, or head a block of its own with a sentence."
            raise Misplaced(f"a second `{kind}` in one block", spans[1], hint)
        return self.joined(kind)

    def forbid(self, kind: str, message: str) -> None:
        for _, span in self.of(kind):
            raise Misplaced(message, span)

    def allow(self, *kinds: str, what: str) -> None:
        """Refuse clauses of every other kind.

        Raises:
            Misplaced: there is one.
        """
        for each, _, span in self._clauses:
            if each not in kinds:
                raise Misplaced(f"{what} has no `{each}`", span)


def unquoted(token: str) -> str:
    """A text in quotes, read."""
    return re.sub(r"\\(.)", lambda found: escaped(found[1]), str(token)[1:-1])


def escaped(mark: str) -> str:
    """What a character after a backslash stands for in a text."""
    return "\n" if mark == "n" else mark


def _spaced(words: str) -> str:
    return " ".join(str(words).split())


def _number(text: str) -> int | Fraction:
    return int(text) if text.isdigit() else _whole(Fraction(text))


def divided(over: int | Fraction, under: int | Fraction, span: Span) -> int | Fraction:
    """A fraction of two numbers.

    Raises:
        Misplaced: the second is zero.
    """
    if under == 0:
        raise Misplaced("division by zero", span)
    return _whole(Fraction(over) / Fraction(under))


def _whole(value: Fraction) -> int | Fraction:
    return value.numerator if value.denominator == 1 else value


def _bound(text: str) -> int | Fraction | None:
    try:
        return _whole(Fraction(text)) if text else None
    except ZeroDivisionError:
        raise ValueError("division by zero") from None


def _range(text: str) -> ast.Range:
    low, high = (_bound(part.strip()) for part in text[1:-1].split(","))
    low_open = low is None or text[0] == "("
    high_open = high is None or text[-1] == ")"
    if low is not None and high is not None:
        if low > high or (low == high and (low_open or high_open)):
            raise ValueError(f"the interval `{text}` holds no number")
    return ast.Range(low, high, low_open, high_open)
