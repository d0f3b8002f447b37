"""A portable relational plan: what to select from what, in which order.

    Plan      steps, in order
    step      Define (one table) | Loop (tables that need each other)
    Select    columns, from sources, where conditions hold; always distinct rows

Every value in it is a whole number: `codes` says which number stands for which term.
So a plan needs nothing of a database but joins, unions, counting and comparisons of
whole numbers, and arithmetic that refuses to overflow.
"""

from __future__ import annotations

from typing import NamedTuple, TypeAlias


class Column(NamedTuple):
    """A column of a source, by the alias of the source."""

    source: str
    name: str


class Number(NamedTuple):
    """A whole number."""

    value: int


class Arithmetic(NamedTuple):
    """`+`, `-` or `*` of two, `least` or `greatest` of several."""

    operator: str
    operands: tuple[Expression, ...]


class WholeOr(NamedTuple):
    """The first where there is one, else the number: what a collection of none is."""

    value: Expression
    otherwise: int


Expression: TypeAlias = Column | Number | Arithmetic | WholeOr


class Compared(NamedTuple):
    """A comparison of two whole numbers: `=`, `<` or `<=`."""

    operator: str
    left: Expression
    right: Expression


class Given(NamedTuple):
    """That a value is there at all."""

    value: Expression


class All(NamedTuple):
    """That every one of some conditions holds."""

    conditions: tuple[Condition, ...]


class Either(NamedTuple):
    """That one of some conditions holds."""

    conditions: tuple[Condition, ...]


class Opposite(NamedTuple):
    """That a condition does not hold."""

    condition: Condition


class Nothing(NamedTuple):
    """That a table has no row for which the conditions hold."""

    table: str
    alias: str
    conditions: tuple[Condition, ...]


Condition: TypeAlias = Compared | Given | All | Either | Opposite | Nothing


class Source(NamedTuple):
    """A table to take rows from.

    Args:
        table: its name.
        alias: what it is called here.
        only: the columns that are looked at, each combination once; `None` for all.
    """

    table: str
    alias: str
    only: tuple[str, ...] | None = None


class Collected(NamedTuple):
    """What is counted, summed, or is least or greatest, for each group.

    Args:
        rows: the distinct combinations: a column for each group, then the terms.
        groups: how many of the columns are groups; they are `g0`, `g1` and so on.
        function: `count`, `sum`, `min` or `max`; its value is the column `value`.
        alias: what the outcome is called.
        on: how it is joined to the rest; the rest is kept where there is none.
    """

    rows: Select
    groups: int
    function: str
    alias: str
    on: tuple[Condition, ...]


class Select(NamedTuple):
    """Distinct rows.

    Args:
        columns: each by its name.
        sources: where they are from; none for one row of numbers.
        where: what must hold of them.
        told_once: whether no row can come twice, as every row of every source shows
            in the columns.
    """

    columns: tuple[tuple[str, Expression], ...]
    sources: tuple[Source | Collected, ...]
    where: tuple[Condition, ...]
    told_once: bool = False


class Table(NamedTuple):
    """A table and its columns."""

    name: str
    columns: tuple[str, ...]


class Define(NamedTuple):
    """A table that holds what some selections give, each row once.

    Args:
        predicate: the predicate whose facts it holds.
        table: the table.
        selects: the selections.
        rules: the ids of the rules that they are made of, in the same order.
    """

    predicate: str
    table: Table
    selects: tuple[Select, ...]
    rules: tuple[str, ...]


class Loop(NamedTuple):
    """Tables that need each other, filled until nothing new is found.

    Args:
        first: what each holds at first.
        more: what each takes up in every round; they read, in one place each, what
            was new in the last round, from the table named by `fresh`.
    """

    first: tuple[Define, ...]
    more: tuple[Define, ...]


Step: TypeAlias = Define | Loop


def fresh(table: str) -> str:
    """The table of what was new in the last round."""
    return f"{table}_new"


class Plan(NamedTuple):
    """Steps that make tables out of given tables.

    Args:
        given: what must be there before the first step, by predicate.
        steps: what to do, in order.
        tables: every table that comes about, by predicate.
    """

    given: dict[str, Table]
    steps: tuple[Step, ...]
    tables: dict[str, Table]
