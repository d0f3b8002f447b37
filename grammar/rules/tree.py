"""The syntax tree of a rule file.

    RuleFile
    ├── Standings   the scale, best first
    ├── Predicate   a name, its columns, the sentences that show it
    ├── Rule        a sentence, conditions, "unless" groups, heads, its source
    └── Override    a block that `stops` a rule: one more "unless" for it

Nodes are frozen; their span says where they stood in the text and does not
count in equality, so `parse(print_rules(tree)) == tree` holds for every tree.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, fields, is_dataclass
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from abluent.grammar.common.errors import NOWHERE, Span


@dataclass(frozen=True, slots=True)
class Range:
    """An interval as written; a missing bound is `None` and is open."""

    low: int | Fraction | None
    high: int | Fraction | None
    low_open: bool = False
    high_open: bool = False


@dataclass(frozen=True, slots=True)
class Variable:
    """`the name`; the name is kept without its article."""

    name: str
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Anything:
    """`something`: some value, nobody cares which."""

    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Constant:
    """A name or quoted text, a number, or an interval."""

    value: str | int | Fraction | Range
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Operation:
    """Arithmetic: `+ - * /` on two operands, `-` on one, `min` and `max` on any.

    `min` and `max` are written `least of` and `most of`.
    """

    operator: str
    operands: tuple[Expression, ...]
    span: Span = field(default=NOWHERE, compare=False)


TermNode: TypeAlias = Variable | Anything | Constant
Expression: TypeAlias = Variable | Constant | Operation


@dataclass(frozen=True, slots=True)
class Atom:
    """`term predicate term, ...`, as a condition or as a head."""

    predicate: str
    args: tuple[TermNode, ...] = ()
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Absence:
    """`nothing shows term predicate term, ...`."""

    atom: Atom
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Comparison:
    """`left is below right`; with `perhaps` it need only be possible.

    `operator` is one of `= != < <= > >=`.
    """

    operator: str
    left: Expression
    right: Expression
    perhaps: bool = False
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Assignment:
    """`the x comes to expression`."""

    variable: Variable
    expression: Expression
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Collection:
    """`the x comes to count of (the i where conditions)`, over distinct values.

    `function` is one of `count`, `sum`, `min` and `max`.
    """

    variable: Variable
    function: str
    terms: tuple[Variable | Constant, ...]
    conditions: tuple[Condition, ...]
    span: Span = field(default=NOWHERE, compare=False)


Condition: TypeAlias = Atom | Absence | Comparison | Assignment | Collection


class Word(NamedTuple):
    """A word of a block that may be wrong by itself, and its place.

    `kind` is `sentence`, `standing`, `source`, `name` or `stops`.
    """

    kind: str
    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Standings:
    """The scale of standings of a base, the best first."""

    names: tuple[str, ...]
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Predicate:
    """A declared predicate; `None` where a sentence is not given."""

    name: str
    columns: tuple[str, ...]
    says: str | None = None
    absent: str | None = None
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Rule:
    """A sentence and what it says; each "unless" clause is one group of conditions.

    Args:
        words: where the names and the sentence of the block stand.
    """

    name: str
    conditions: tuple[Condition, ...] = ()
    unless: tuple[tuple[Condition, ...], ...] = ()
    heads: tuple[Atom, ...] = ()
    says: str | None = None
    sources: tuple[str, ...] = ()
    standing: str | None = None
    from_memory: bool = False
    span: Span = field(default=NOWHERE, compare=False)
    words: tuple[Word, ...] = field(default=(), compare=False)


@dataclass(frozen=True, slots=True)
class Override:
    """A block that stops the rule `target`, whose variables it shares."""

    name: str
    target: str
    conditions: tuple[Condition, ...] = ()
    unless: tuple[tuple[Condition, ...], ...] = ()
    says: str | None = None
    sources: tuple[str, ...] = ()
    standing: str | None = None
    from_memory: bool = False
    span: Span = field(default=NOWHERE, compare=False)
    words: tuple[Word, ...] = field(default=(), compare=False)


Block: TypeAlias = Standings | Predicate | Rule | Override


@dataclass(frozen=True, slots=True)
class RuleFile:
    """The blocks of one file, in its order."""

    blocks: tuple[Block, ...]


def nodes(tree: object) -> Iterator[object]:
    """Every node of a tree, or of a tuple of trees, in the order of the text."""
    pending = [tree]
    while pending:
        node = pending.pop()
        if isinstance(node, tuple):
            pending.extend(reversed(node))
        elif is_dataclass(node):
            yield node
            parts = [getattr(node, each.name) for each in fields(node)]
            pending.extend(reversed(parts))


def atoms(tree: object) -> Iterator[Atom]:
    """Every atom of a tree, in the order of the text."""
    return (node for node in nodes(tree) if isinstance(node, Atom))
