"""The order of predicates in which rules are worked out, and the working out."""

from collections.abc import Iterable, Iterator

from .following import (
    Condition,
    Known,
    Rule,
    add,
    agrees,
    bound_by,
    filled,
    given_by,
    known_of,
    ordered,
    solutions,
)
from .values import Atom, want

Edges = dict[str, set[str]]


def looked_at(body: Iterable[Condition]) -> Iterator[tuple[str, bool]]:
    """The predicates that a body looks at, each with whether only what is met."""
    for each in body:
        if each[0] in ("is", "not"):
            yield each[1][0], each[0] == "is"
        if each[0] == "collect":
            yield from ((name, False) for name, _ in looked_at(each[4]))


def edges_of(rules: Iterable[Rule]) -> Edges:
    """What each concluded predicate looks at."""
    found: Edges = {}
    for rule in rules:
        names = {name for name, _ in looked_at(rule.body)}
        found.setdefault(rule.head[0], set()).update(names)
    return found


def turned(edges: Edges) -> Edges:
    """Edges the other way."""
    found: Edges = {}
    for start, ends in edges.items():
        for end in ends:
            found.setdefault(end, set()).add(start)
    return found


def finished(edges: Edges, starts: Iterable[str], seen: set[str]) -> list[str]:
    """What is reached from some starts, each after all that it reaches."""
    found: list[str] = []
    for start in starts:
        stack = [] if start in seen else [(start, iter(sorted(edges.get(start, ()))))]
        seen.add(start)
        while stack:
            name, ends = stack[-1]
            end = next((end for end in ends if end not in seen), None)
            if end is None:
                found.append(name)
                stack.pop()
            else:
                seen.add(end)
                stack.append((end, iter(sorted(edges.get(end, ())))))
    return found


def strata_of(rules: list[Rule]) -> list[frozenset[str]]:
    """The predicates in groups that rest on each other, the first first.

    Refused is one that depends on its own denial or on a collection of itself.
    """
    edges = edges_of(rules)
    names = finished(edges, sorted(edges), set())
    back, seen = turned(edges), set[str]()
    groups = [frozenset(finished(back, [name], seen)) for name in reversed(names)]
    groups = [group for group in groups if group][::-1]
    at = {name: index for index, group in enumerate(groups) for name in group}
    for rule in rules:
        for name, plainly in looked_at(rule.body):
            want(
                plainly or at[name] != at[rule.head[0]],
                f"program/rules/{rule.name}",
                f"{name} depends on its own denial or collection",
            )
    return groups


def follows(
    rules: list[Rule], facts: Iterable[Atom], wanted: Iterable[str] | None = None
) -> Known:
    """What follows, at least of the predicates that are wanted."""
    groups = strata_of(rules)
    edges = edges_of(rules)
    needed = set(finished(edges, edges if wanted is None else wanted, set()))
    known = known_of(facts)
    for group in groups:
        if group & needed:
            conclude(known, [rule for rule in rules if rule.head[0] in group], group)
    return known


def conclude(known: Known, rules: list[Rule], group: frozenset[str]) -> None:
    """Add all that the rules of one stratum conclude."""
    new = []
    for rule in rules:
        ways = solutions(known, ordered(rule.body, set()), {})
        new += list({filled(rule.head, way) for way in ways})
    for atom in new:
        add(known, atom)
    triggers = triggers_of(rules, group)
    if not triggers:
        return
    fresh = [atom for name in group for atom in known.atoms.get(name, ())]
    while fresh:
        new = [atom for each in fresh for atom in triggered(known, triggers, each)]
        fresh = [atom for atom in new if add(known, atom)]


Trigger = tuple[Atom, Atom, list[Condition]]


def triggers_of(rules: list[Rule], group: frozenset[str]) -> dict[str, list[Trigger]]:
    """By predicate: a pattern met first, what to conclude, and what else to meet."""
    found: dict[str, list[Trigger]] = {}
    for rule in rules:
        for index, each in enumerate(rule.body):
            if each[0] == "is" and each[1][0] in group:
                rest = rule.body[:index] + rule.body[index + 1 :]
                steps = ordered(rest, given_by([each]))
                found.setdefault(each[1][0], []).append((each[1], rule.head, steps))
    return found


def triggered(
    known: Known, triggers: dict[str, list[Trigger]], atom: Atom
) -> Iterator[Atom]:
    """What an atom that is new sets going."""
    for pattern, head, steps in triggers.get(atom[0], ()):
        if not agrees(atom, pattern):
            continue
        bind = bound_by(pattern, atom, {})
        if bind is not None:
            yield from [filled(head, way) for way in solutions(known, steps, bind)]
