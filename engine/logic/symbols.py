"""Terms as small whole numbers, numbered apart for columns that never meet.

Two columns meet when one variable of a rule stands in both. Columns that meet,
directly or through others, hold one *sort* of thing, and every sort numbers its
own terms from zero. The numbers stay small and dense, which is what makes a set
of terms cheap as the bits of one integer: a base of a million places and fifty
classes still has classes of fifty bits.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from abluent.engine.logic.clauses import Atom, Rule, Variable, body_atoms
from abluent.engine.logic.terms import Term


class Symbols(dict[Term, int]):
    """The terms of one sort and their numbers; looking one up adds it.

    Use `get` to look without adding. `terms[n]` is the term of number `n`.
    """

    __slots__ = ("terms",)

    def __init__(self) -> None:
        super().__init__()
        self.terms: list[Term] = []

    def __missing__(self, term: Term) -> int:
        number = self[term] = len(self.terms)
        self.terms.append(term)
        return number


Column = tuple[str, int]


def infer_sorts(
    rules: Iterable[Rule], arities: dict[str, int]
) -> dict[str, tuple[int, ...]]:
    """The sort of every column of every predicate, as numbers from zero."""
    parent: dict[Column, Column] = {
        (name, place): (name, place)
        for name, arity in arities.items()
        for place in range(arity)
    }

    def root(column: Column) -> Column:
        while parent[column] != column:
            parent[column] = parent[parent[column]]
            column = parent[column]
        return column

    for rule in rules:
        first: dict[str, Column] = {}
        for name, column in _occurrences((rule.head, *body_atoms(rule.body))):
            other = first.setdefault(name, column)
            parent[root(column)] = root(other)
    numbers: dict[Column, int] = {}
    return {
        name: tuple(
            numbers.setdefault(root((name, place)), len(numbers))
            for place in range(arity)
        )
        for name, arity in arities.items()
    }


def _occurrences(atoms: Iterable[Atom]) -> Iterator[tuple[str, Column]]:
    for atom in atoms:
        for place, argument in enumerate(atom.args):
            if isinstance(argument, Variable):
                yield argument.name, (atom.predicate, place)
