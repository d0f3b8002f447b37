"""The rules and the asserted facts that bear on some predicates.

Whoever evaluates these rules on these facts alone gets the same answer for the
predicates, and for everything whose absence their proofs rest on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TypeAlias

from abluent.engine.logic.clauses import Rule, body_atoms
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.program import Program
from abluent.engine.logic.reasoner import Model
from abluent.engine.logic.terms import Term

Pattern: TypeAlias = tuple[str, tuple[Term | None, ...]]
"""A predicate and its terms; `None` stands for any term."""


def predicates_below(program: Program, predicates: Iterable[str]) -> set[str]:
    """Some predicates and all that they depend on, below negations too."""
    found: set[str] = set()
    waiting = list(predicates)
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            for rule in program.concluding(name):
                waiting.extend(atom.predicate for atom in body_atoms(rule.body))
    return found


def rules_below(program: Program, predicates: Iterable[str]) -> list[Rule]:
    """The rules that some predicates depend on, in the order of the program."""
    found = predicates_below(program, predicates)
    return [rule for rule in program.rules if rule.head.predicate in found]


def asserted_of(model: Model, predicate: str) -> Iterator[Fact]:
    """Every assertion of one predicate."""
    if predicate in model.predicates():
        for row in model.match(predicate):
            yield from model.asserted(predicate, row)
