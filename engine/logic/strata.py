"""The order in which predicates can be finished.

Predicates that depend on each other form a component; components are put in an
order in which each depends only on earlier ones and on itself. A negated
condition or a collection must look at finished predicates only, so a dependency
of that kind inside one component is refused, with the cycle named.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from abluent.engine.logic.clauses import Absence, Atom, Collection, Literal, Rule


class Component(NamedTuple):
    """Predicates finished together.

    Args:
        predicates: their names, in the order of the program.
        rules: positions in the program of the rules that conclude them.
        recursive: whether one of them depends on itself.
    """

    predicates: tuple[str, ...]
    rules: tuple[int, ...]
    recursive: bool


class Need(NamedTuple):
    """A predicate looked at by a body; `finished` if it must be complete."""

    predicate: str
    finished: bool


def needs(body: Sequence[Literal], finished: bool = False) -> Iterator[Need]:
    """The predicates that a body looks at, those inside collections too."""
    for literal in body:
        if isinstance(literal, Atom):
            yield Need(literal.predicate, finished)
        elif isinstance(literal, Absence):
            yield Need(literal.atom.predicate, True)
        elif isinstance(literal, Collection):
            yield from needs(literal.body, True)


def components(rules: Sequence[Rule]) -> tuple[Component, ...]:
    """The components of a program, each after those it depends on."""
    graph = _graph(rules)
    concluding: dict[str, list[int]] = {}
    for position, rule in enumerate(rules):
        concluding.setdefault(rule.head.predicate, []).append(position)
    return tuple(
        Component(
            group,
            tuple(sorted(i for name in group for i in concluding.get(name, ()))),
            len(group) > 1 or group[0] in graph[group[0]],
        )
        for group in _groups(graph)
    )


def unfinished(
    rules: Sequence[Rule], parts: Sequence[Component]
) -> Iterator[tuple[int, tuple[str, ...]]]:
    """Rules that look at an unfinished predicate, each with the cycle it closes.

    The cycle starts and ends with the head of the rule.
    """
    graph = _graph(rules)
    where = {name: part for part in parts for name in part.predicates}
    for position, rule in enumerate(rules):
        part = where[rule.head.predicate]
        for need in needs(rule.body):
            if need.finished and need.predicate in part.predicates:
                path = _path(graph, need.predicate, rule.head.predicate)
                yield position, (rule.head.predicate, *path)
                break


def _graph(rules: Sequence[Rule]) -> dict[str, dict[str, None]]:
    graph: dict[str, dict[str, None]] = {}
    for rule in rules:
        targets = graph.setdefault(rule.head.predicate, {})
        for need in needs(rule.body):
            targets[need.predicate] = None
            graph.setdefault(need.predicate, {})
    return graph


def _groups(graph: Mapping[str, Mapping[str, None]]) -> list[tuple[str, ...]]:
    """Strongly connected components, dependencies first (Tarjan, iterative)."""
    order = {name: place for place, name in enumerate(graph)}
    index: dict[str, int] = {}
    low: dict[str, int] = {}
    stack: list[str] = []
    on_stack: set[str] = set()
    found: list[tuple[str, ...]] = []
    for root in graph:
        if root in index:
            continue
        work = [(root, iter(graph[root]))]
        index[root] = low[root] = len(index)
        stack.append(root)
        on_stack.add(root)
        while work:
            name, targets = work[-1]
            for target in targets:
                if target not in index:
                    index[target] = low[target] = len(index)
                    stack.append(target)
                    on_stack.add(target)
                    work.append((target, iter(graph[target])))
                    break
                if target in on_stack:
                    low[name] = min(low[name], index[target])
            else:
                work.pop()
                if work:
                    parent = work[-1][0]
                    low[parent] = min(low[parent], low[name])
                if low[name] == index[name]:
                    cut = stack.index(name)
                    group = stack[cut:]
                    del stack[cut:]
                    on_stack.difference_update(group)
                    found.append(tuple(sorted(group, key=order.__getitem__)))
    return found


def _path(
    graph: Mapping[str, Mapping[str, None]], start: str, goal: str
) -> tuple[str, ...]:
    """A shortest way from one predicate to another along dependencies."""
    before: dict[str, str] = {}
    queue = deque([start])
    seen = {start}
    while queue:
        name = queue.popleft()
        if name == goal:
            break
        for target in graph[name]:
            if target not in seen:
                seen.add(target)
                before[target] = name
                queue.append(target)
    path = [goal]
    while path[-1] != start:
        path.append(before[path[-1]])
    return tuple(reversed(path))
