"""What makes a forgery, and what is made anew after a change."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from contextlib import suppress
from copy import deepcopy
from typing import Any

from abluent.engine.checking import kernel, reword
from forging import Trace, rehashed
from mutating import NotHere

Forger = Callable[[random.Random, Trace], None]
ALONE: dict[str, Forger] = {}
BY_BASE: dict[str, Forger] = {}
STALE = "the digest is left as it was"
BROKEN = (KeyError, ValueError, IndexError, TypeError, AttributeError, kernel.Bad)


def alone(forger: Forger) -> Forger:
    ALONE[forger.__name__.replace("_", " ")] = forger
    return forger


def by_base(forger: Forger) -> Forger:
    BY_BASE[forger.__name__.replace("_", " ")] = forger
    return forger


def forged(kind: str, seed: int, true: Trace) -> Trace:
    """A forgery of a kind, with all that hangs on it made anew.

    Raises:
        NotHere: there is nothing of the sort in the trace.
    """
    trace = deepcopy(true)
    {**ALONE, **BY_BASE}[kind](random.Random(seed), trace)
    if kernel.canonical(trace) == kernel.canonical(true):
        raise NotHere
    if kind != STALE:
        trace["digest"] = digest(trace)
    return trace


def digest(trace: Trace) -> str:
    return kernel.digest({key: part for key, part in trace.items() if key != "digest"})


def rows(trace: Trace) -> list[Any]:
    found: list[Any] = trace["verdict"]["answers"]
    if not found:
        raise NotHere
    return found


def two(dice: random.Random, some: Any) -> list[Any]:
    some = list(some)
    if len(some) < 2:
        raise NotHere
    return dice.sample(some, 2)


def swap(one: Any, other: Any, key: str) -> None:
    if one[key] == other[key]:
        raise NotHere
    one[key], other[key] = other[key], one[key]


def nodes_of(trace: Trace, *kinds: str) -> list[Any]:
    return [node for node in trace["nodes"].values() if node["kind"] in kinds]


# -- what hangs on a change


def restated(trace: Trace) -> None:
    """Make anew what follows from the steps: their names, the goals, the rows."""
    made = rehashed(trace)
    trace.update(made)
    kept: dict[str, None] = {}
    for goal in trace["goals"]:
        with suppress(*BROKEN):
            below = kernel.below(trace["nodes"], [goal["root"]])
            kept.update(dict.fromkeys(below))
            _stand(trace, goal, below)
    trace["nodes"] = {name: trace["nodes"][name] for name in kept}
    with suppress(*BROKEN):
        trace["verdict"]["answers"] = list(each_row(trace))
    recited(trace)


def recited(trace: Trace) -> None:
    parts = (*trace["facts"], *trace["program"]["rules"].values())
    cited = {name for part in parts for name in part["sources"]}
    listed = trace["sources"]
    trace["sources"] = {name: listed.get(name, "A Handbook, 1961") for name in cited}


def _stand(trace: Trace, goal: Any, below: list[str]) -> None:
    scale, rules, nodes = trace["program"]["standings"], trace["program"]["rules"], {}
    for name in below:
        node = trace["nodes"][name]
        part = rules[node["rule"]] if node["kind"] == "rule" else node
        if part.get("standing") in scale:
            nodes[name] = 2 * scale.index(part["standing"]) + part["memory"]
    lowest = max(nodes.values(), default=-1)
    goal["weakest"] = sorted(name for name, rank in nodes.items() if rank == lowest)
    goal["standing"] = scale[lowest // 2] if nodes else ""
    goal["memory"] = bool(nodes) and lowest % 2 == 1
    root = trace["nodes"][goal["root"]]
    goal["atom"], goal["holds"] = root["atom"], root["kind"] != "absent"


OWN = ("holds", "standing", "memory", "proof")


def each_row(trace: Trace) -> Iterator[Any]:
    words = reword.Words(trace["names"], trace["program"])
    row: dict[str, Any] = {}
    for goal in trace["goals"]:
        predicate, *terms = goal["atom"]
        called = trace["terms"].get(predicate) or [
            f"term {n}" for n in range(1, len(terms) + 1)
        ]
        said = {
            name: words.name(term)
            for name, term in zip(called, terms, strict=True)
            if term is not None
        }
        said |= {key: goal[key] for key in OWN[:3]} | {"proof": goal["root"]}
        if goal["part"]:
            own = {k: v for k, v in said.items() if k in OWN or k not in row}
            row.setdefault(predicate, []).append(own)
        elif goal["row"] is not None:
            if row:
                yield row
            row = said
    if row:
        yield row


def everywhere(trace: Trace, old: Any, new: Any) -> None:
    """Change a value wherever it stands in atoms and bindings, and its name."""
    for part in ("facts", "nodes", "goals", "supposed", "bounds"):
        trace[part] = _changed(trace[part], old, new)
    trace["program"]["rules"] = _changed(trace["program"]["rules"], old, new)
    for text, said in list(trace["names"].items()):
        if kernel.canonical(old) in text:
            key = text.replace(kernel.canonical(old), kernel.canonical(new))
            trace["names"].setdefault(key, said)


def _changed(data: Any, old: Any, new: Any) -> Any:
    if data == old and type(data) is type(old):
        return new
    if isinstance(data, list):
        return [_changed(each, old, new) for each in data]
    if isinstance(data, dict):
        return {key: _changed(part, old, new) for key, part in data.items()}
    return data
