"""Syntax trees of rules back to text, in the one canonical layout.

`parse_rules(print_rules(tree)) == tree` for every tree that a text can make.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from itertools import chain, repeat
from typing import Any

from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.words import FUNCTIONS, KEPT, SIGNS, STRANGE

_NAME = re.compile(r"[^\W\d]\w*([-:]\w+)*")
_VARIABLE = re.compile(r"[^\W\d]\w*")
# A place in a sentence as the tree has it, and letters that would be read as one.
_PLACE = re.compile(r"\{\?([^\W\d]\w*(?::\w+)?)\}|\{(?=[^\W\d]\w*(?::\w+)?\})")
_BINDS = {"+": 1, "-": 1, "*": 2, "/": 2}
_WIDTH, _INDENT, _DEEPER = 88, 10, 14
# What stays on one line: a text, a variable with its article, a word.
_UNBROKEN = re.compile(r'(?:"(?:\\.|[^"\\])*"|the\s+\w+|[^\s"])+\s*')
_UNSAID = "unsaid"
_NEXT = "\n    above "


def print_rules(tree: ast.RuleFile) -> str:
    """The whole file, blocks parted by one empty line."""
    return "\n".join(print_block(block) for block in tree.blocks)


def print_block(block: ast.Block) -> str:
    """One block, with its last line end."""
    return _BLOCKS[type(block)](block)


def print_condition(condition: ast.Condition) -> str:
    """One condition of a rule, as it would be written in a file."""
    return _CONDITIONS[type(condition)](condition)


def print_name(name: str) -> str:
    """A name bare where that reads back as itself, else quoted."""
    if _NAME.fullmatch(name) and name not in KEPT and name not in STRANGE:
        return name
    return _quoted(name)


def print_value(value: str | int | Fraction | ast.Range) -> str:
    """A constant as a term of an atom."""
    if isinstance(value, str):
        return print_name(value)
    if isinstance(value, ast.Range):
        return _range(value)
    return str(value)


def _quoted(text: str) -> str:
    return f'"{_escaped(text)}"'


def _escaped(text: str) -> str:
    return text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")


def _range(value: ast.Range) -> str:
    low = "" if value.low is None else str(value.low)
    high = "" if value.high is None else str(value.high)
    left = "(" if value.low_open else "["
    return f"{left}{low}, {high}{')' if value.high_open else ']'}"


# -- blocks -------------------------------------------------------------------


def _standings(block: ast.Standings) -> str:
    names = list(map(print_name, block.names))
    line = f"standings {' above '.join(names)}\n"
    if len(line) <= _WIDTH:
        return line
    return f"standings {_NEXT.join(names)}\n"


def _predicate(block: ast.Predicate) -> str:
    heading = _UNSAID if block.says is None else _quoted(block.says)
    absent = [] if block.absent is None else [f"  or else {_quoted(block.absent)}"]
    columns = [
        f"the {each}" if _VARIABLE.fullmatch(each) else _quoted(each)
        for each in block.columns
    ]
    written = _fitted(_spoken(block.name, columns))
    return "\n".join([heading, *absent, f"  written {written}\n"])


def _rule(block: ast.Rule) -> str:
    heads = _clause("so", map(_condition, block.heads))
    return _ruling(block, heads)


def _override(block: ast.Override) -> str:
    return _ruling(block, [f"  stops   {print_name(block.target)}"])


def _ruling(block: ast.Rule | ast.Override, follows: list[str]) -> str:
    heading = _UNSAID if block.says is None else _sentence(block.says)
    lines = [heading, *_clause("because", map(_condition, block.conditions))]
    for group in block.unless:
        lines += _clause("unless", map(_condition, group))
    return "\n".join([*lines, *follows, *_named(block), ""])


def _sentence(text: str) -> str:
    """A sentence of a rule, its places without the mark that the tree has."""
    parts, end = [], 0
    for found in _PLACE.finditer(text):
        parts.append(_escaped(text[end : found.start()]))
        parts.append(f"{{{found[1]}}}" if found[1] else "\\{")
        end = found.end()
    return f'"{"".join(parts)}{_escaped(text[end:])}"'


def _clause(word: str, parts: Iterable[str]) -> list[str]:
    words = chain([word], repeat("and".rjust(len("because"))))
    return [
        f"  {opening:<7} {part}" for opening, part in zip(words, parts, strict=False)
    ]


def _named(block: ast.Rule | ast.Override) -> list[str]:
    """The line that names a block and says on what it rests, or its lines."""
    details = [print_name(block.name)]
    if block.standing is not None:
        details.append(f"standing {print_name(block.standing)}")
    if block.sources:
        details.append(f"source {' and '.join(map(print_name, block.sources))}")
    if block.from_memory:
        details.append("from memory")
    lines, line = [], "  rule    "
    for number, detail in enumerate(details):
        part = detail + ("," if number < len(details) - 1 else "")
        if len(line) + len(part) > _WIDTH and line.strip() != "rule":
            lines.append(line.rstrip())
            line = " " * _INDENT
        line += part + " "
    return [*lines, line.rstrip()]


# -- conditions ---------------------------------------------------------------


def _condition(condition: ast.Condition) -> str:
    """A condition in a file, a long one on several lines."""
    text = print_condition(condition)
    if len(text) + _INDENT <= _WIDTH or not isinstance(condition, ast.Collection):
        return _fitted(text)
    inner = list(map(print_condition, condition.conditions))
    lines = [_collection_head(condition), f"{' ' * _DEEPER}where {inner[0]}"]
    lines += [f"{' ' * _DEEPER}  and {each}" for each in inner[1:]]
    return "\n".join(lines) + ")"


def _fitted(text: str) -> str:
    """A condition, broken between words that are no part of a text if it is long."""
    if len(text) + _INDENT <= _WIDTH:
        return text
    lines: list[str] = [""]
    for word in _UNBROKEN.findall(text):
        room = _WIDTH - (_DEEPER if len(lines) > 1 else _INDENT)
        if lines[-1] and len(lines[-1]) + len(word) > room and word[0] != '"':
            lines.append("")
        lines[-1] += word
    return f"\n{' ' * _DEEPER}".join(line.rstrip() for line in lines)


def _atom(atom: ast.Atom, some: str = "something") -> str:
    return _spoken(atom.predicate, [_term(each, some) for each in atom.args])


def _spoken(predicate: str, terms: Sequence[str]) -> str:
    """The first term, the word, the rest."""
    name = print_name(predicate)
    if not terms:
        return name
    first, *rest = terms
    return " ".join(filter(None, (first, name, ", ".join(rest))))


def _absence(condition: ast.Absence) -> str:
    return f"nothing shows {_atom(condition.atom, 'anything')}"


def _comparison(condition: ast.Comparison) -> str:
    left, right = print_expression(condition.left), print_expression(condition.right)
    perhaps = "perhaps " if condition.perhaps else ""
    return f"{perhaps}{left} {SIGNS[condition.operator]} {right}"


def _assignment(condition: ast.Assignment) -> str:
    expression = print_expression(condition.expression)
    return f"the {condition.variable.name} comes to {expression}"


def _collection(condition: ast.Collection) -> str:
    conditions = " and ".join(map(print_condition, condition.conditions))
    return f"{_collection_head(condition)} where {conditions})"


def _collection_head(condition: ast.Collection) -> str:
    terms = ", ".join(map(print_expression, condition.terms))
    function = FUNCTIONS[condition.function]
    return f"the {condition.variable.name} comes to {function} ({terms}"


def _term(term: ast.TermNode, some: str = "something") -> str:
    if isinstance(term, ast.Variable):
        return f"the {term.name}"
    return some if isinstance(term, ast.Anything) else print_value(term.value)


def print_expression(expression: ast.Expression, outer: int = 0) -> str:
    """Arithmetic with the fewest parentheses that keep its meaning.

    Args:
        expression: the tree.
        outer: how tightly the place around it binds; 0 is not at all.
    """
    if isinstance(expression, ast.Operation):
        return _operation(expression, outer)
    if isinstance(expression, ast.Constant) and isinstance(expression.value, Fraction):
        return _decimal(expression.value)
    return _term(expression)


def _decimal(value: Fraction) -> str:
    """A number without `/`, which would be read as a division here."""
    digits = 0
    while (value * 10**digits).denominator != 1:
        digits += 1
    sign = "-" if value < 0 else ""
    figures = str(abs(value * 10**digits).numerator).rjust(digits + 1, "0")
    return f"{sign}{figures[:-digits]}.{figures[-digits:]}"


def _operation(expression: ast.Operation, outer: int) -> str:
    operator, operands = expression.operator, expression.operands
    if operator not in _BINDS:
        return f"{FUNCTIONS[operator]} ({', '.join(map(print_expression, operands))})"
    if len(operands) == 1:
        return f"-{print_expression(operands[0], 3)}"
    binds = _BINDS[operator]
    left, right = operands
    text = (
        f"{print_expression(left, binds)} {operator} "
        f"{print_expression(right, binds + 1)}"
    )
    return f"({text})" if binds < outer else text


_BLOCKS: dict[type[Any], Callable[[Any], str]] = {
    ast.Standings: _standings,
    ast.Predicate: _predicate,
    ast.Rule: _rule,
    ast.Override: _override,
}
_CONDITIONS: dict[type[Any], Callable[[Any], str]] = {
    ast.Atom: _atom,
    ast.Absence: _absence,
    ast.Comparison: _comparison,
    ast.Assignment: _assignment,
    ast.Collection: _collection,
}
