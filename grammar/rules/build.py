"""The parser library's tree of one block, turned into our syntax tree."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from abluent.grammar.common.errors import Span
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.conditions import (
    Clauses,
    Conditions,
    Misplaced,
    clause,
    divided,
    escaped,
    unquoted,
)
from abluent.grammar.rules.words import STRANGE
from lark import v_args
from lark.tree import Meta

_PLACE = re.compile(r"\{([^\W\d]\w*(?::\w+)?)\}")
_MARKED = re.compile(r"\{\?[^\W\d]\w*(?::\w+)?\}")


@v_args(meta=True)
class Builder(Conditions):
    """A block of the language, from the parser library's tree of it."""

    def name_constant(self, meta: Meta, children: list[Any]) -> ast.Constant:
        return ast.Constant(
            _familiar(str(children[0]), self.span(meta)), self.span(meta)
        )

    def scale(self, meta: Meta, children: list[Any]) -> ast.Standings:
        names = tuple(each.text for each in children)
        return ast.Standings(names, self.span(meta))

    def saying(self, meta: Meta, children: list[Any]) -> ast.Block:
        heading, *rest = children
        clauses = Clauses(rest)
        span = Span(self.span(meta).start, heading.span.end)
        if clauses.once("written"):
            return _predicate(heading, clauses, span)
        named = clauses.once("rule")
        if not named:
            raise Misplaced(
                "this sentence has no name",
                heading.span,
                "Add `rule` and a name, or `written` and how a predicate is written.",
            )
        return _ruling(heading, clauses, span)

    def sentence(self, meta: Meta, children: list[Any]) -> _Heading:
        text = str(children[0])
        marked = _MARKED.search(text)
        if marked:
            start = self.span(meta).start
            place = Span(start + marked.start(), start + marked.end())
            hint = f"Write `{marked[0].replace('?', '')}`."
            raise Misplaced("a place in a sentence has no mark", place, hint)
        return _Heading(text, self.span(meta))

    def unsaid(self, meta: Meta, children: list[Any]) -> _Heading:
        return _Heading(None, self.span(meta))

    because = clause("because")
    unless = clause("unless")
    so = clause("so")
    stops = clause("stops")
    written = clause("written")
    otherwise = clause("or else")
    standing = clause("standing")
    source = clause("source")
    memory = clause("from memory")

    def named(self, meta: Meta, children: list[Any]) -> tuple[str, Any, Span]:
        return "rule", tuple(children), self.span(meta)

    def atom(self, meta: Meta, children: list[Any]) -> ast.Atom:
        if len(children) == 1:
            return ast.Atom(str(_predicate_name(children[0])), (), self.span(meta))
        subject, name, *rest = children
        args = (_subject(subject), *rest)
        return ast.Atom(str(_predicate_name(name)), args, self.span(meta))

    def word(self, meta: Meta, children: list[Any]) -> ast.Word:
        (token,) = children
        quoted = token.type == "STRING"
        text = unquoted(token) if quoted else str(token)
        return ast.Word("quoted" if quoted else "bare", text, self.span(meta))


@dataclass(frozen=True, slots=True)
class _Heading:
    """The sentence of a block as written, or none."""

    text: str | None
    span: Span

    def of_rule(self) -> str | None:
        """The sentence with its places as the tree has them."""
        return None if self.text is None else _sentence(self.text)

    def of_predicate(self) -> str | None:
        return None if self.text is None else unquoted(self.text)


def _sentence(text: str) -> str:
    """A text in quotes, read; `{film}` is a place, and `\\{film}` those letters."""
    return re.sub(r"\\(.)|" + _PLACE.pattern, _read_in_sentence, text[1:-1])


def _read_in_sentence(found: re.Match[str]) -> str:
    return escaped(found[1]) if found[1] else f"{{?{found[2]}}}"


def _predicate(heading: _Heading, clauses: Clauses, span: Span) -> ast.Predicate:
    clauses.allow("written", "or else", what="a predicate")
    ((content, _),) = clauses.of("written")
    *before, name = content[:2] if len(content) > 1 else content
    absent = clauses.once("or else")
    return ast.Predicate(
        _predicate_name(name),
        tuple(map(_column, (*before, *content[2:]))),
        heading.of_predicate(),
        unquoted(absent[0]) if absent else None,
        span,
    )


def _column(term: ast.Variable | ast.Constant) -> str:
    return term.name if isinstance(term, ast.Variable) else str(term.value)


def _ruling(heading: _Heading, clauses: Clauses, span: Span) -> ast.Rule | ast.Override:
    name, details, words = _named(clauses)
    if heading.text is not None:
        words.append(ast.Word("sentence", heading.text, heading.span))
    standing = details.once("standing")
    details.once("from memory")
    shared: dict[str, Any] = {
        "conditions": clauses.joined("because"),
        "unless": clauses.groups("unless"),
        "says": heading.of_rule(),
        "sources": tuple(each.text for each in details.joined("source")),
        "standing": standing[0].text if standing else None,
        "from_memory": bool(details.of("from memory")),
        "span": span,
    }
    stops = clauses.once("stops")
    if not stops:
        clauses.allow("because", "unless", "so", "rule", what="a rule")
        heads = clauses.joined("so")
        return ast.Rule(name.text, heads=heads, words=tuple(words), **shared)
    clauses.forbid("so", "an exception has no `so`: it stops its rule")
    clauses.allow("because", "unless", "stops", "rule", what="an exception")
    words.append(ast.Word("stops", stops[0].text, stops[0].span))
    return ast.Override(name.text, stops[0].text, words=tuple(words), **shared)


def _named(clauses: Clauses) -> tuple[ast.Word, Clauses, list[ast.Word]]:
    """The name of a block, what stands behind it, and the words that may be wrong."""
    name, *rest = clauses.joined("rule")
    details = Clauses(rest)
    words = [ast.Word("name", name.text, name.span)]
    for kind in ("source", "standing"):
        found = details.joined(kind)
        words += [ast.Word(kind, each.text, each.span) for each in found]
    return name, details, words


def _predicate_name(word: ast.Word) -> str:
    return _familiar(word.text, word.span) if word.kind == "bare" else word.text


def _familiar(name: str, span: Span) -> str:
    """A bare name, unless it is a word that means something elsewhere.

    Raises:
        Misplaced: it is one.
    """
    if name in STRANGE:
        raise Misplaced(f"`{name}` cannot stand here", span, STRANGE[name])
    return name


def _subject(value: Any) -> ast.TermNode:
    """What an atom speaks of first: a term, though the grammar lets it be a sum."""
    if isinstance(value, ast.Variable | ast.Constant | ast.Anything):
        return value
    if isinstance(value, ast.Operation) and value.operator == "/":
        found = [
            each.value for each in value.operands if isinstance(each, ast.Constant)
        ]
        numbers = [each for each in found if isinstance(each, int | Fraction)]
        if len(numbers) == 2:
            over, under = numbers
            return ast.Constant(divided(over, under, value.span), value.span)
    hint = "Give the result a name by `comes to`, and speak of that."
    raise Misplaced("a condition speaks of a thing, and not of a sum", value.span, hint)
