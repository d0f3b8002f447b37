"""Where in a rule file a name of a compiled rule stands; the file is read again."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress

from abluent.engine.base.files import BaseFile
from abluent.engine.logic.clauses import Atom, Rule
from abluent.grammar.common.errors import (
    GrammarError,
    Span,
    excerpt,
    line_and_column,
)
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.parse import parse_rules


def mark(
    files: Iterable[BaseFile], rule: Rule, name: str, atom: Atom | None, place: int
) -> tuple[int, str]:
    """The line and the marked excerpt of a name of a rule.

    Args:
        files: the rule files, one of which holds the rule.
        rule: the rule.
        name: the name.
        atom: the atom in which it stands; none if it is a source.
        place: which term it is, from zero; -1 for the predicate.
    """
    for file in files:
        if file.name != rule.place.file:
            continue
        with suppress(OSError, UnicodeDecodeError, GrammarError):
            text = file.text()
            for block in parse_rules(text, file.name).blocks:
                if block.span.start == rule.place.start and _is(block, rule):
                    span = _span(block, name, atom, place)
                    return line_and_column(text, span.start)[0], excerpt(text, span)
    return rule.place.line, ""


def _is(block: ast.Block, rule: Rule) -> bool:
    if not isinstance(block, ast.Rule | ast.Override):
        return False
    return rule.generated or block.name == rule.id


def _span(block: ast.Block, name: str, atom: Atom | None, place: int) -> Span:
    assert isinstance(block, ast.Rule | ast.Override)
    if atom is None:
        found = (e.span for e in block.words if (e.kind, e.text) == ("source", name))
        return next(found, block.span)
    for each in ast.atoms(block):
        if each.predicate != atom.predicate or len(each.args) != len(atom.args):
            continue
        if place < 0:
            return each.span
        term = each.args[place]
        if isinstance(term, ast.Constant) and term.value == name:
            return term.span
    return block.span
