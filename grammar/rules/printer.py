"""Syntax trees of rules back to text, in the one canonical layout.

`parse_rules(print_rules(tree)) == tree` for every tree that a text can make.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from fractions import Fraction
from typing import Any

from abluent.grammar.rules import tree as ast

_NAME = re.compile(r"[^\W\d]\w*([-:]\w+)*")
# Words that the grammar would read as something else where a name may stand.
_KEPT = frozenset(
    "_ absent count end exception from if is max memory min not perhaps predicate "
    "rule says source standing standings sum then to unless".split()
)
_BINDS = {"+": 1, "-": 1, "*": 2, "/": 2}


def print_rules(tree: ast.RuleFile) -> str:
    """The whole file, blocks parted by one empty line."""
    return "\n".join(print_block(block) for block in tree.blocks)


def print_block(block: ast.Block) -> str:
    """One block, with its closing line."""
    return _BLOCKS[type(block)](block)


def print_condition(condition: ast.Condition) -> str:
    """One condition of a rule, as it would be written in a file."""
    return _CONDITIONS[type(condition)](condition)


def print_name(name: str) -> str:
    """A name bare where that reads back as itself, else quoted."""
    if _NAME.fullmatch(name) and name not in _KEPT:
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
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{escaped}"'


def _range(value: ast.Range) -> str:
    low = "" if value.low is None else str(value.low)
    high = "" if value.high is None else str(value.high)
    left = "(" if value.low_open else "["
    return f"{left}{low}, {high}{')' if value.high_open else ']'}"


# -- blocks -------------------------------------------------------------------


def _standings(block: ast.Standings) -> str:
    return f"standings {' > '.join(map(print_name, block.names))}\n"


def _predicate(block: ast.Predicate) -> str:
    columns = ", ".join(map(print_name, block.columns))
    signature = f"({columns})" if columns else ""
    lines = [f"predicate {print_name(block.name)}{signature}"]
    lines += _sentence("says", block.says) + _sentence("absent", block.absent)
    return "\n".join([*lines, "end\n"])


def _rule(block: ast.Rule) -> str:
    heads = _clause("then", map(_atom, block.heads), ", ")
    opening = f"rule {print_name(block.name)}"
    return "\n".join([opening, *_conditions(block), *heads, *_ending(block)])


def _override(block: ast.Override) -> str:
    name, target = print_name(block.name), print_name(block.target)
    opening = f"exception {name} to {target}"
    return "\n".join([opening, *_conditions(block), *_ending(block)])


def _conditions(block: ast.Rule | ast.Override) -> list[str]:
    separator = ",\n         "
    lines = _clause("if", map(print_condition, block.conditions), separator)
    for group in block.unless:
        lines += _clause("unless", map(print_condition, group), separator)
    return lines


def _ending(block: ast.Rule | ast.Override) -> list[str]:
    lines = _sentence("says", block.says)
    lines += _clause("source", map(print_name, block.sources), ", ")
    if block.standing is not None:
        lines += _clause("standing", [print_name(block.standing)], "")
    if block.from_memory:
        lines.append("  from memory")
    return [*lines, "end\n"]


def _clause(word: str, parts: Iterable[str], separator: str) -> list[str]:
    content = separator.join(parts)
    return [f"  {word:<6} {content}"] if content else []


def _sentence(word: str, text: str | None) -> list[str]:
    return [] if text is None else [f"  {word:<6} {_quoted(text)}"]


# -- conditions ---------------------------------------------------------------


def _atom(atom: ast.Atom) -> str:
    name = print_name(atom.predicate)
    return f"{name}({', '.join(map(_term, atom.args))})" if atom.args else name


def _absence(condition: ast.Absence) -> str:
    return f"not {_atom(condition.atom)}"


def _comparison(condition: ast.Comparison) -> str:
    left, right = print_expression(condition.left), print_expression(condition.right)
    perhaps = "perhaps " if condition.perhaps else ""
    return f"{perhaps}{left} {condition.operator} {right}"


def _assignment(condition: ast.Assignment) -> str:
    expression = print_expression(condition.expression)
    return f"?{condition.variable.name} is {expression}"


def _collection(condition: ast.Collection) -> str:
    terms = ", ".join(map(print_expression, condition.terms))
    conditions = ", ".join(map(print_condition, condition.conditions))
    head = f"?{condition.variable.name} is {condition.function}"
    return f"{head}({terms} : {conditions})"


def _term(term: ast.TermNode) -> str:
    if isinstance(term, ast.Variable):
        return f"?{term.name}"
    return "_" if isinstance(term, ast.Anything) else print_value(term.value)


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
        return f"{operator}({', '.join(map(print_expression, operands))})"
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
