"""The cone of a goal: every fact and rule instance that can take part in its proofs.

The cone is read off the finished model, on demand. It is a graph of two kinds of
points: facts, and memberships of collections. Each has the rule instances that
conclude it, and each instance has the points it requires.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple, TypeAlias

from abluent.engine.logic.clauses import Atom, Collection, Place, Rule
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.instances import (
    Collected,
    Instance,
    Premise,
    Support,
    body_instances,
    rule_instances,
)
from abluent.engine.logic.reasoner import Model
from abluent.engine.logic.terms import Term
from abluent.engine.proof.nodes import Bindings, Ground


class Membership(NamedTuple):
    """That some terms belong to a collection, for given values of its groups."""

    condition: Collection
    groups: Bindings
    terms: tuple[Term, ...]


Point: TypeAlias = Ground | Membership


class Reading(NamedTuple):
    """How a point comes about: who asserts it, which instances conclude it.

    `needed` has for each instance the points that it requires.
    """

    facts: tuple[Fact, ...]
    instances: tuple[Instance, ...]
    needed: tuple[tuple[Point, ...], ...]


class Cone:
    """The readings of one model, each made once."""

    def __init__(self, model: Model) -> None:
        self.model = model
        self._readings: dict[Point, Reading] = {}

    def reading(self, point: Point) -> Reading:
        """How a point comes about; empty for a fact that does not hold."""
        known = self._readings.get(point)
        if known is None:
            known = self._readings[point] = self._read(point)
        return known

    def _read(self, point: Point) -> Reading:
        if isinstance(point, Membership):
            found = member_instances(self.model, point.condition, dict(point.groups))
            return _reading((), (i for i in found if i.args == point.terms))
        instances = rule_instances(self.model, *point)
        return _reading(self.model.asserted(*point), instances)

    def below(self, points: Iterable[Point]) -> dict[Point, Reading]:
        """The readings of some points and of all they can rest on."""
        found: dict[Point, Reading] = {}
        waiting = list(points)
        while waiting:
            point = waiting.pop()
            if point not in found:
                found[point] = self.reading(point)
                for needed in found[point].needed:
                    waiting.extend(needed)
        return found


def _reading(facts: tuple[Fact, ...], found: Iterable[Instance]) -> Reading:
    instances = tuple(found)
    needed = tuple([tuple(required(instance)) for instance in instances])
    return Reading(facts, instances, needed)


def required(instance: Instance) -> Iterator[Point]:
    """The points that an instance requires, in the order of its conditions."""
    for support in instance.supports:
        yield from points_of(support, instance)


def points_of(support: Support, instance: Instance) -> Iterator[Point]:
    """The points that one condition of an instance requires."""
    if isinstance(support, Premise):
        yield support.predicate, support.args
    elif isinstance(support, Collected):
        groups = group_values(support.condition, instance.binding())
        for terms, _ in support.members:
            yield Membership(support.condition, groups, terms)


def group_values(condition: Collection, binding: Mapping[str, Term]) -> Bindings:
    """The values of the variables that a collection shares with its rule."""
    return tuple((name, binding[name]) for name in condition.groups)


def member_instances(
    model: Model, condition: Collection, groups: Mapping[str, Term]
) -> Iterator[Instance]:
    """Every way to be a member of a collection; the terms are the instance's."""
    inner = Rule(
        id=str(condition),
        head=Atom("", condition.terms),
        body=condition.body,
        says="",
        sources=(),
        standing="",
        from_memory=False,
        place=_NOWHERE,
    )
    return body_instances(model, inner, groups)


_NOWHERE = Place("", 0, 0, 0)
