"""Rules as the reasoner sees them: the parts of a compiled program.

    Rule      head  ←  body, with its sentence, its source and its standing
    body      Atom | Absence | Comparison | Assignment | Collection
    term      Variable | ANYTHING | a value of `abluent.engine.logic.terms`

They differ from the syntax tree in three ways: there are no spans, an interval is
a value, and every "unless" and every exception has become an `Absence`.

They are named tuples and not dataclasses because a cold start makes thousands of
them, and a named tuple is made several times faster.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from abluent.engine.logic.terms import Interval
from abluent.grammar.rules import words


class Variable(NamedTuple):
    """A variable of one rule, by name."""

    name: str

    def __str__(self) -> str:
        return f"the {self.name}"


class Anything:
    """`something`: some value, nobody cares which. All of them are equal."""

    __slots__ = ()

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Anything)

    def __hash__(self) -> int:
        return hash(Anything)

    def __repr__(self) -> str:
        return "Anything()"

    def __str__(self) -> str:
        return "something"


ANYTHING = Anything()

Argument: TypeAlias = Variable | Anything | str | int | Fraction | Interval


class Operation(NamedTuple):
    """Arithmetic on expressions; `operator` as in `terms.OPERATIONS`."""

    operator: str
    operands: tuple[Expression, ...]

    def __str__(self) -> str:
        if self.operator in {"min", "max"}:
            parts = ", ".join(map(str, self.operands))
            return f"{words.FUNCTIONS[self.operator]} ({parts})"
        if len(self.operands) == 1:
            return f"-{self.operands[0]}"
        return f"({f' {self.operator} '.join(map(str, self.operands))})"


Expression: TypeAlias = Variable | str | int | Fraction | Interval | Operation


class Atom(NamedTuple):
    """A predicate and its terms, required in a body or concluded as a head."""

    predicate: str
    args: tuple[Argument, ...]

    def __str__(self) -> str:
        if not self.args:
            return self.predicate
        first, *rest = map(str, self.args)
        return " ".join(filter(None, (first, self.predicate, ", ".join(rest))))


class Absence(NamedTuple):
    """No fact matches the atom, whose unbound places are `ANYTHING`.

    `form` says how it was written: `not`, `unless` or `exception`.
    """

    atom: Atom
    form: str = "not"

    def __str__(self) -> str:
        return f"nothing shows {self.atom}".replace("something", "anything")


class Comparison(NamedTuple):
    """A comparison that must be certain, or with `perhaps` not excluded."""

    operator: str
    left: Expression
    right: Expression
    perhaps: bool = False

    def __str__(self) -> str:
        perhaps = "perhaps " if self.perhaps else ""
        return f"{perhaps}{self.left} {words.SIGNS[self.operator]} {self.right}"


class Assignment(NamedTuple):
    """The variable has the value of the expression."""

    variable: Variable
    expression: Expression

    def __str__(self) -> str:
        return f"{self.variable} comes to {self.expression}"


class Collection(NamedTuple):
    """The variable has the count, sum, minimum or maximum over a finished body.

    Counted are the distinct values of `terms`; a sum, a minimum and a maximum are
    over the first of them. `groups` are the variables of the body that the rest of
    the rule binds. A minimum or maximum of nothing has no value.
    """

    variable: Variable
    function: str
    terms: tuple[Argument, ...]
    body: tuple[Literal, ...]
    groups: tuple[str, ...]

    def __str__(self) -> str:
        terms = ", ".join(map(str, self.terms))
        body = " and ".join(map(str, self.body))
        function = words.FUNCTIONS[self.function]
        return f"{self.variable} comes to {function} ({terms} where {body})"


Literal: TypeAlias = Atom | Absence | Comparison | Assignment | Collection


class Place(NamedTuple):
    """Where a block stands: file, first line (from one), and offsets."""

    file: str
    line: int
    start: int
    end: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}"


NO_PLACE = Place("", 0, 0, 0)


class Rule(NamedTuple):
    """One head with its body; a block with several heads makes several of these.

    Args:
        id: the name of the block; unique among blocks.
        head: what it concludes.
        body: its conditions, "unless" groups and exceptions last, as absences.
        says: its sentence, with `{?variable}` places.
        sources: names of cited works.
        standing: a name of the program's scale, or empty where there is none.
        from_memory: nobody re-read it in its source.
        place: where it is written.
        target: for an exception, the id of the rule it stops; else empty.
        generated: it has no block of its own but stands for an "unless" group.
    """

    id: str
    head: Atom
    body: tuple[Literal, ...]
    says: str
    sources: tuple[str, ...]
    standing: str
    from_memory: bool
    place: Place
    target: str = ""
    generated: bool = False

    def __str__(self) -> str:
        body = " and ".join(map(str, self.body))
        return f"{self.head} because {body}" if body else str(self.head)


class Declaration(NamedTuple):
    """A declared predicate: its columns and the sentences that show it.

    `says` and `absent` have `{1}`, `{2}`, ... for the terms; empty if not given.
    """

    predicate: str
    columns: tuple[str, ...]
    says: str
    absent: str


def expression_variables(expression: Expression) -> Iterator[str]:
    """The names of the variables of an expression, from left to right."""
    pending: list[Expression] = [expression]
    while pending:
        each = pending.pop()
        if isinstance(each, Variable):
            yield each.name
        elif isinstance(each, Operation):
            pending.extend(reversed(each.operands))


def atom_variables(atom: Atom) -> Iterator[str]:
    """The names of the variables of an atom, from left to right."""
    return (each.name for each in atom.args if isinstance(each, Variable))


def literal_variables(literal: Literal) -> Iterator[str]:
    """The names that a literal shares with its rule, from left to right.

    Of a collection these are its variable and its groups.
    """
    if isinstance(literal, Atom):
        yield from atom_variables(literal)
    elif isinstance(literal, Absence):
        yield from atom_variables(literal.atom)
    elif isinstance(literal, Comparison):
        yield from expression_variables(literal.left)
        yield from expression_variables(literal.right)
    elif isinstance(literal, Assignment):
        yield literal.variable.name
        yield from expression_variables(literal.expression)
    else:
        yield literal.variable.name
        yield from literal.groups


def body_atoms(body: tuple[Literal, ...]) -> Iterator[Atom]:
    """Every atom a body looks at, negated and collected ones too."""
    for literal in body:
        if isinstance(literal, Atom):
            yield literal
        elif isinstance(literal, Absence):
            yield literal.atom
        elif isinstance(literal, Collection):
            yield from body_atoms(literal.body)
