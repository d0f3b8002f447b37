"""How a forger covers the tracks of a change to a trace."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from typing import Any

from abluent.engine.checking import checker, kernel, reword

Trace = dict[str, Any]


def rehashed(trace: Trace) -> Trace:
    """The trace with every node under the hash of its content, and a new digest."""
    order, new = _order(trace["nodes"]), dict[str, str]()
    for key in order:
        new[key] = kernel.named(renamed(trace["nodes"][key], new))
    trace = renamed(trace, new)
    trace["digest"] = _digest(trace)
    return trace


def _digest(trace: Trace) -> str:
    return kernel.digest({k: part for k, part in trace.items() if k != "digest"})


def _order(nodes: Any) -> list[str]:
    """The keys, each after those that its node mentions, as far as that goes."""
    done: dict[str, None] = {}

    def visit(key: str, path: tuple[str, ...]) -> None:
        if key in done or key in path or key not in nodes:
            return
        if isinstance(nodes[key], dict):
            for text in texts(nodes[key]):
                visit(text, (*path, key))
        done[key] = None

    for key in nodes:
        visit(key, ())
    return list(done)


def texts(data: Any) -> Iterator[str]:
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict | list):
        for part in data.values() if isinstance(data, dict) else data:
            yield from texts(part)


def renamed(data: Any, names: dict[str, str]) -> Any:
    if isinstance(data, str):
        return names.get(data, data)
    if isinstance(data, list):
        return [renamed(each, names) for each in data]
    if isinstance(data, dict):
        return {names.get(k, k): renamed(part, names) for k, part in data.items()}
    return data


def restate(trace: Trace) -> None:
    """Compute anew what follows from the nodes, as far as they make sense."""
    for goal in trace["goals"]:
        try:
            _restate_goal(trace, goal)
        except (KeyError, ValueError, IndexError, TypeError, checker.Bad):
            continue
    with suppress(KeyError, ValueError, IndexError, TypeError, AttributeError):
        _restate_rows(trace)
    _restate_sources(trace)
    for label in trace["labels"]:
        try:
            for line in label["lines"]:
                line["printed"] = label["text"][line["start"] : line["end"]]
        except (KeyError, TypeError):
            continue
    trace["digest"] = _digest(trace)


def _restate_goal(trace: Trace, goal: Any) -> None:
    nodes, rules = trace["nodes"], trace["program"]["rules"]
    scale = trace["program"]["standings"]
    reached = kernel.below(nodes, [goal["root"]])
    parts = {
        key: nodes[key] if nodes[key]["kind"] == "fact" else rules[nodes[key]["rule"]]
        for key in reached
        if nodes[key]["kind"] in ("fact", "rule")
    }
    ranks = {
        key: 2 * scale.index(part["standing"]) + part["memory"]
        for key, part in parts.items()
        if part["standing"] in scale
    }
    lowest = max(ranks.values(), default=-1)
    goal["weakest"] = sorted(k for k, rank in ranks.items() if rank == lowest >= 0)
    basis = parts[goal["weakest"][0]] if goal["weakest"] else {}
    goal["standing"] = basis.get("standing", "")
    goal["memory"] = basis.get("memory", False)
    root = nodes[goal["root"]]
    goal["atom"], goal["holds"] = root["atom"], root["kind"] != "absent"


def _restate_rows(trace: Trace) -> None:
    """Make the rows as the goals have them, as far as they make sense."""
    words = reword.Words(trace["names"], trace["program"])
    rows: list[Any] = []
    for goal in trace["goals"]:
        _, *terms = goal["atom"]
        said = {f"term {n}": words.name(t) for n, t in enumerate(terms, 1) if t}
        said |= {key: goal[key] for key in ("holds", "standing", "memory")}
        said["proof"] = goal["root"]
        if goal["row"] is not None:
            goal["row"] = len(rows)
            rows.append(said)
    trace["verdict"] = {"answers": rows}


def _restate_sources(trace: Trace) -> None:
    parts = [*trace["facts"], *trace["program"]["rules"].values()]
    cited = {name for part in parts for name in part.get("sources", ())}
    listed = trace["sources"]
    trace["sources"] = {name: listed.get(name, "A book") for name in sorted(cited)}
