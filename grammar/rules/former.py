"""The former shape of rule files, read so that it can be written anew.

A block had a name first, conditions between `if` and `then`, variables with a mark,
and `end`. Nothing is written in it any more; its meaning is that of the same trees.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from abluent.grammar.common.errors import GrammarError, Span
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.conditions import Clauses, Conditions, clause, unquoted
from abluent.grammar.rules.reading import cut, parser, read_block, unexpected
from lark import Token, v_args
from lark.exceptions import UnexpectedInput
from lark.tree import Meta

GRAMMAR = "former.lark"
_OPENING = re.compile(
    r'^[ \t]*(?:rule|exception|predicate|standings)[ \t]+[\w"]', re.MULTILINE
)


def former_blocks(text: str, name: str = "") -> Iterator[tuple[Span, ast.Block]]:
    """The blocks of a file of the former shape, with the places up to the next one.

    Raises:
        GrammarError: one cannot be read.
    """
    for start, end in cut(text, _OPENING):
        yield Span(start, end), _parse_block(text, start, end, name)


def _parse_block(text: str, start: int, end: int, name: str) -> ast.Block:
    try:
        return read_block(parser(GRAMMAR), _Former(start), text, Span(start, end), name)
    except UnexpectedInput as error:
        offset, found, _ = unexpected(error, text[start:end])
        message = f"`{found}` cannot stand here" if found else "the block has no `end`"
        place = Span(start + offset, start + offset + max(1, len(found)))
        hint = "Correct it in the former shape, and convert the file again."
        raise GrammarError(message, text, place, hint=hint, name=name) from None


@v_args(meta=True)
class _Former(Conditions):
    """A block of the former shape, from the parser library's tree of it."""

    def standings(self, meta: Meta, children: list[Any]) -> ast.Standings:
        return ast.Standings(tuple(children), self.span(meta))

    def predicate(self, meta: Meta, children: list[Any]) -> ast.Predicate:
        name, *rest = children
        columns = tuple(each for each in rest if isinstance(each, str))
        clauses = Clauses([each for each in rest if isinstance(each, tuple)])
        says, absent = _text(clauses, "says"), _text(clauses, "absent")
        return ast.Predicate(name, columns, says, absent, self.span(meta))

    def rule(self, meta: Meta, children: list[Any]) -> ast.Rule:
        name, *rest = children
        clauses = Clauses(rest)
        heads = clauses.joined("then")
        return ast.Rule(name, heads=heads, **_shared(clauses, self.span(meta)))

    def exception(self, meta: Meta, children: list[Any]) -> ast.Override:
        name, target, *rest = children
        clauses = Clauses(rest)
        clauses.forbid("then", "an exception has no `then`: it stops its rule")
        return ast.Override(name, target, **_shared(clauses, self.span(meta)))

    when = clause("if")
    says = clause("says")
    absent = clause("absent")
    unless = clause("unless")
    then = clause("then")
    source = clause("source")
    standing = clause("standing")
    memory = clause("from memory")

    def atom(self, meta: Meta, children: list[Any]) -> ast.Atom:
        name, *args = children
        return ast.Atom(name, tuple(args), self.span(meta))

    def variable(self, meta: Meta, children: list[Any]) -> ast.Variable:
        return ast.Variable(str(children[0])[1:], self.span(meta))

    def anything(self, meta: Meta, children: list[Any]) -> ast.Anything:
        return ast.Anything(self.span(meta))

    def word(self, meta: Meta, children: list[Any]) -> str:
        (token,) = children
        return unquoted(token) if token.type == "STRING" else str(token)


def _shared(clauses: Clauses, span: Span) -> dict[str, Any]:
    """What a rule and an exception had alike."""
    standing = clauses.once("standing")
    clauses.once("from memory")
    return {
        "conditions": clauses.joined("if"),
        "unless": clauses.groups("unless"),
        "says": _text(clauses, "says"),
        "sources": clauses.joined("source"),
        "standing": standing[0] if standing else None,
        "from_memory": bool(clauses.of("from memory")),
        "span": span,
    }


def _text(clauses: Clauses, kind: str) -> str | None:
    found = clauses.once(kind)
    if not found:
        return None
    return unquoted(found[0]) if isinstance(found[0], Token) else str(found[0])
