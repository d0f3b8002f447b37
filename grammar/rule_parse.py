"""Rule files: text to syntax tree, every problem of the file reported.

A file is first cut into blocks by the words that open one at the start of a
line; each block is then read by itself. A mistake therefore costs one block and
not the file, and an `end` that was forgotten is found where it is missing.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files
from itertools import pairwise
from typing import Any, TypeAlias

from lark import Lark, Token, Transformer, v_args
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, VisitError
from lark.lexer import PatternStr
from lark.tree import Meta

from abluent.grammar import rule_ast as ast
from abluent.grammar.errors import GrammarError, GrammarProblems, Span

_OPENING = re.compile(
    r'^[ \t]*(?:rule|exception|predicate|standings)[ \t]+[\w"]', re.MULTILINE
)
_NAMED = {
    "NAME": "a name",
    "STRING": 'a text in "quotes"',
    "VARIABLE": "a variable such as ?x",
    "NUMBER": "a number",
    "RANGE": "an interval such as [0, 1)",
    "COMPARED": "a comparison such as <",
    "COLLECT": "count, min, max or sum",
    "FUNCTION": "min or max",
    "PLUS_MINUS": "+ or -",
    "TIMES_OVER": "* or /",
    "PERHAPS": "perhaps",
}
# A mistake of a usual kind, recognised by the text around it, and what to say.
_HINTS: tuple[tuple[re.Pattern[str], str], ...] = (
    (re.compile(r".*==$"), "Equality is written with one `=`."),
    (re.compile(r".*<>$"), "Inequality is written `!=`."),
    (re.compile(r'.*"[^"\n]*$'), 'A text must be closed by `"` on its own line.'),
    (re.compile(r".*\bor$"), "There is no `or`: write one rule for each case."),
    (re.compile(r".*(:-|<-)$"), "A rule is `if conditions then head`."),
    (re.compile(r".*\)\s*\w*$"), "Conditions are separated by commas."),
)


def parse_rules(text: str, name: str = "") -> ast.RuleFile:
    """Read a rule file.

    Args:
        text: the whole file.
        name: what to call it in messages.

    Raises:
        GrammarProblems: every block that cannot be read, in order of place.
    """
    blocks: list[ast.Block] = []
    problems: list[GrammarError] = []
    for start, end in _cut(text):
        try:
            blocks.append(_parse_block(text, start, end, name))
        except GrammarError as problem:
            problems.append(problem)
    if problems:
        raise GrammarProblems(problems)
    return ast.RuleFile(tuple(blocks))


def _cut(text: str) -> Iterator[tuple[int, int]]:
    """The blocks of a text as offsets; text before the first is a block too."""
    starts = [found.start() for found in _OPENING.finditer(text)]
    before = text[: starts[0]] if starts else text
    if re.sub(r"#[^\n]*", "", before).strip():
        starts.insert(0, 0)
    yield from pairwise([*starts, len(text)])


def _parse_block(text: str, start: int, end: int, name: str) -> ast.Block:
    try:
        tree = _parser().parse(text[start:end])
        block: ast.Block = _Builder(start).transform(tree)
    except UnexpectedInput as error:
        raise _pointed(error, text, start, end, name) from None
    except VisitError as error:
        problem = error.orig_exc
        if not isinstance(problem, _Misplaced):
            raise
        raise GrammarError(problem.message, text, problem.span, name=name) from None
    return block


@lru_cache(maxsize=1)
def _parser() -> Lark:
    grammar = files("abluent.grammar").joinpath("rules.lark").read_text("utf-8")
    return Lark(
        grammar,
        start="block",
        parser="lalr",
        propagate_positions=True,
        maybe_placeholders=False,
    )


def _pointed(
    error: UnexpectedInput, text: str, start: int, end: int, name: str
) -> GrammarError:
    """The error of the parser library, as one of ours."""
    body = text[start:end]
    token = getattr(error, "token", None)
    at_end = token is not None and token.type == "$END"
    if at_end:
        offset, found = len(body.rstrip()), ""
    elif token is not None:
        offset, found = token.start_pos, str(token)
    else:
        offset = error.pos_in_stream or 0
        found = body[offset : offset + 1]
    names = getattr(error, "accepts", None) or getattr(error, "expected", None)
    if isinstance(error, UnexpectedCharacters):
        names = error.allowed
    message = f"`{found}` cannot stand here" if found else "the block ends too early"
    return GrammarError(
        message,
        text,
        Span(start + offset, start + offset + max(1, len(found))),
        _worded(names or set()),
        _hint(body, offset, found, at_end),
        name,
    )


def _hint(body: str, offset: int, found: str, at_end: bool) -> str:
    line = body[body.rfind("\n", 0, offset) + 1 : offset] + found
    for pattern, hint in _HINTS:
        if pattern.fullmatch(line.strip()) and not (at_end and not found):
            return hint
    return "Every block is closed by `end`." if at_end else ""


def _worded(names: set[str]) -> tuple[str, ...]:
    """The terminals of the parser in the words of its reader."""
    patterns = {terminal.name: terminal.pattern for terminal in _parser().terminals}
    words = []
    for each in names:
        pattern = patterns.get(each)
        literal = f"`{pattern.value}`" if isinstance(pattern, PatternStr) else ""
        words.append(_NAMED.get(each) or literal)
    return tuple(sorted(filter(None, words)))


class _Misplaced(Exception):
    """A block that the grammar accepts and the language does not."""

    def __init__(self, message: str, span: Span) -> None:
        super().__init__(message)
        self.message = message
        self.span = span


_Method: TypeAlias = Callable[["_Builder", Meta, list[Any]], Any]


def _operation(self: _Builder, meta: Meta, children: list[Any]) -> ast.Operation:
    left, sign, right = children
    return ast.Operation(str(sign), (left, right), self.span(meta))


def _clause(kind: str) -> _Method:
    def build(
        self: _Builder, meta: Meta, children: list[Any]
    ) -> tuple[str, tuple[Any, ...], Span]:
        return kind, tuple(children), self.span(meta)

    return build


@v_args(meta=True)
class _Builder(Transformer[Token, Any]):
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
        perhaps = len(children) > 3
        return ast.Comparison(str(operator), left, right, perhaps, self.span(meta))

    def assignment(self, meta: Meta, children: list[Any]) -> ast.Assignment:
        return ast.Assignment(children[0], children[1], self.span(meta))

    def collection(self, meta: Meta, children: list[Any]) -> ast.Collection:
        variable, function, *rest = children
        conditions = (
            ast.Atom,
            ast.Absence,
            ast.Comparison,
            ast.Assignment,
            ast.Collection,
        )
        return ast.Collection(
            variable,
            str(function),
            tuple(each for each in rest if not isinstance(each, conditions)),
            tuple(each for each in rest if isinstance(each, conditions)),
            self.span(meta),
        )

    # -- expressions and terms ------------------------------------------------

    addition = _operation
    multiplication = _operation

    def negation(self, meta: Meta, children: list[Any]) -> ast.Expression:
        (operand,) = children
        if isinstance(operand, ast.Constant) and isinstance(
            operand.value, int | Fraction
        ):
            return ast.Constant(-operand.value, self.span(meta))
        return ast.Operation("-", (operand,), self.span(meta))

    def call(self, meta: Meta, children: list[Any]) -> ast.Operation:
        function, *operands = children
        return ast.Operation(str(function), tuple(operands), self.span(meta))

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
            raise _Misplaced("division by zero", self.span(meta))
        return ast.Constant(_whole(Fraction(over) / Fraction(under)), self.span(meta))

    def negative(self, meta: Meta, children: list[Any]) -> ast.Constant:
        return ast.Constant(-children[0].value, self.span(meta))

    def range(self, meta: Meta, children: list[Any]) -> ast.Constant:
        try:
            return ast.Constant(_range(str(children[0])), self.span(meta))
        except ValueError as error:
            raise _Misplaced(str(error), self.span(meta)) from None

    def word(self, meta: Meta, children: list[Any]) -> str:
        (token,) = children
        return _unquoted(token) if token.type == "STRING" else str(token)


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
            raise _Misplaced(f"a second `{kind}` in one block", spans[1])
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
                raise _Misplaced(message, span)


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
