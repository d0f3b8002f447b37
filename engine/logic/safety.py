"""Which variables of a body are bound, and where one is not.

A rule is safe when every variable it uses gets its value from a positive
condition, from arithmetic on bound variables, or from a collection. Anything else
would ask the reasoner to try all values there are, so it is refused.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from abluent.engine.logic.clauses import (
    Absence,
    Anything,
    Assignment,
    Atom,
    Collection,
    Comparison,
    Literal,
    Variable,
    atom_variables,
    expression_variables,
    literal_variables,
)


class Unbound(NamedTuple):
    """A variable without a value: its name, the kind of place, what to do."""

    name: str
    code: str
    message: str


def bound_variables(body: Iterable[Literal], start: Iterable[str] = ()) -> set[str]:
    """The variables that a body binds, given those bound at its start."""
    bound = set(start)
    waiting: list[Literal] = []
    for literal in body:
        if isinstance(literal, Atom):
            bound.update(atom_variables(literal))
        elif isinstance(literal, Assignment | Collection):
            waiting.append(literal)
    progress = True
    while progress:
        progress = False
        for literal in list(waiting):
            if set(needed_variables(literal)) <= bound:
                waiting.remove(literal)
                bound.update(literal_variables(literal))
                progress = True
    return bound


def needed_variables(literal: Literal) -> Iterator[str]:
    """The variables that must have a value before a literal can be looked at."""
    if isinstance(literal, Assignment):
        yield from expression_variables(literal.expression)
    elif isinstance(literal, Collection):
        yield from literal.groups
    elif not isinstance(literal, Atom):
        yield from literal_variables(literal)


def unbound_in_body(
    body: tuple[Literal, ...], start: Iterable[str] = ()
) -> Iterator[Unbound]:
    """Every variable that a body uses and does not bind."""
    bound = bound_variables(body, start)
    for literal in body:
        for name in needed_variables(literal):
            if name not in bound:
                yield _unbound(literal, name)
        if isinstance(literal, Collection):
            yield from _unbound_inside(literal)


def unbound_in_head(head: Atom, body: tuple[Literal, ...]) -> Iterator[Unbound]:
    """Every variable of a head, and every `_`, that has no value."""
    bound = bound_variables(body)
    for argument in head.args:
        if isinstance(argument, Variable):
            if argument.name not in bound:
                yield Unbound(
                    argument.name,
                    "unbound-head",
                    f"`{argument}` in `{head}` is bound by no condition",
                )
        elif isinstance(argument, Anything):
            yield Unbound("_", "open-head", f"`{head}` cannot leave a place open")


def _unbound_inside(collection: Collection) -> Iterator[Unbound]:
    yield from unbound_in_body(collection.body, collection.groups)
    bound = bound_variables(collection.body, collection.groups)
    for term in collection.terms:
        if not isinstance(term, Variable):
            continue
        if term.name not in bound:
            yield Unbound(
                term.name,
                "unbound-collection",
                f"`{term}` is collected by `{collection}` and bound by no "
                "condition in it",
            )


def _unbound(literal: Literal, name: str) -> Unbound:
    if isinstance(literal, Absence):
        return Unbound(
            name,
            "unbound-absence",
            f"`the {name}` occurs only in `{literal}`",
        )
    if isinstance(literal, Comparison):
        return Unbound(
            name,
            "unbound-comparison",
            f"`the {name}` is compared in `{literal}` and bound by no condition",
        )
    if isinstance(literal, Collection):
        return Unbound(
            name,
            "unbound-collection",
            f"`the {name}` groups `{literal}` and is bound by no condition beside it",
        )
    return Unbound(
        name,
        "unbound-arithmetic",
        f"`the {name}` is used in `{literal}` and bound by no condition",
    )
