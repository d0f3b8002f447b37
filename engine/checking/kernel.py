"""The kernel of the checker: that each step of a proof follows.

`STATEMENT` is what it proves of nodes, rules and facts. It needs `replay` (values and
arithmetic), `follows` (what the rules conclude) and the standard library.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from typing import Any

try:
    from abluent.engine.checking import follows, replay
except ImportError:  # beside a checker that was run as a file by itself
    import follows  # type: ignore[import-not-found, no-redef]
    import replay  # type: ignore[import-not-found, no-redef]

STATEMENT = """\
Every step is a fact, or follows from the steps below it: by a rule whose conditions
they meet one by one, by comparing or working out values exactly, by finding that the
rules conclude nothing of a pattern from the facts, or by collecting all that they
conclude. No step rests on itself."""
NODE_KEYS = {
    "fact": "kind atom standing memory sources origin",
    "rule": "kind rule bind atom premises",
    "absent": "kind atom form",
    "compare": "kind op left right perhaps",
    "compute": "kind expr result",
    "collect": "kind function terms body groups members result",
}
atom, value = replay.atom, replay.value
# The one JSON text of some data, over which hashes are taken.
canonical = json.JSONEncoder(sort_keys=True, separators=(",", ":")).encode


class Bad(Exception):
    """A trace that does not hold: where (a node's hash, a part), and what is wrong."""


def digest(data: object) -> str:
    """SHA-256 of the canonical JSON text, in hexadecimal."""
    return hashlib.sha256(canonical(data).encode()).hexdigest()


def named(node: object) -> str:
    """The name of a node: the first quarter of the digest of its content."""
    return digest(node)[:16]


def need(holds: object, place: str, text: str) -> None:
    """Refuse the trace unless something holds."""
    if not holds:
        raise Bad(place, text)


def keys(data: Any, wanted: str, place: str) -> None:
    """Refuse missing and unknown keys."""
    need(isinstance(data, dict), place, "is no object")
    odd = ", ".join(sorted(set(data) ^ set(wanted.split())))
    need(not odd, place, f"missing or unknown keys: {odd}")


def premises(node: Any) -> list[str]:
    """The hashes of the nodes that a node rests on."""
    parts = [node, *node.get("members", ())]
    return [each for part in parts for each in part.get("premises", ())]


def below(nodes: Any, roots: Any) -> list[str]:
    """Every node under the roots, premises first; refuses gaps and circles."""
    done: dict[str, None] = {}
    path: set[str] = set()
    stack = [(root, False) for root in roots]
    while stack:
        name, closing = stack.pop()
        if closing:
            done[name] = None
        elif name not in done:
            need(name in nodes, name, "is not among the nodes")
            need(name not in path, name, "rests on itself")
            path.add(name)
            stack.append((name, True))
            stack.extend((each, False) for each in premises(nodes[name]))
    return list(done)


class Kernel:
    """Checks nodes one by one, each after those it rests on.

    Args:
        rules: heads and bodies by the name of the rule.
        facts: the entries that a fact node may repeat, as canonical text.
        model: what follows from rules and facts.
    """

    def __init__(
        self, rules: Mapping[str, Any], facts: Iterable[str], model: follows.Follows
    ) -> None:
        self.rules, self.facts, self.model = rules, set(facts), model
        self.done: dict[str, Any] = {}

    def node(self, name: str, node: Any) -> None:
        """Check one node; `done` then has what it shows."""
        need(name == named(node), name, "is not the hash of what it names")
        keys(node, NODE_KEYS[node["kind"]], name)
        self.done[name] = getattr(self, f"_{node['kind']}")(name, node)

    def _fact(self, name: str, node: Any) -> Any:
        entry = {key: part for key, part in node.items() if key != "kind"}
        need(canonical(entry) in self.facts, name, "is not among the facts")
        return replay.Is(atom(node["atom"]))

    def _rule(self, name: str, node: Any) -> Any:
        head, body = self.rules[node["rule"]]
        made, bind = replay.Is(atom(node["atom"])), self._bound(name, node, body)
        concludes = replay.put(head, bind) == made.atom
        need(concludes, name, "is not what its rule concludes")
        self._meets(name, body, bind, node["premises"])
        return made

    def _bound(self, name: str, data: Any, body: Any) -> dict[str, Any]:
        bind = {key: value(part) for key, part in data["bind"].items()}
        need(set(bind) == replay.variables(body), name, "binds other variables")
        # Null would agree with a different value in every premise.
        need(all(map(replay.plain, bind.values())), name, "binds no values")
        return bind

    def _meets(self, name: str, body: Any, bind: Any, names: list[str]) -> None:
        """Check that premises answer the conditions of a body one by one."""
        need(len(body) == len(names), name, "has not one premise for each condition")
        for part, premise in zip(body, names, strict=True):
            want, got = replay.put(part, bind), self.done[premise]
            if isinstance(want, replay.Compare):
                sides = replay.worth(want.left, {}), replay.worth(want.right, {})
                want = replay.Compare(want.op, *sides, want.perhaps)
            fits = type(want) is type(got) and want == got
            if isinstance(want, replay.Is) and isinstance(got, replay.Is):
                fits = replay.match(want.atom, got.atom, {}) is not None
            need(fits, name, f"premise {premise} does not answer its condition")

    def _absent(self, name: str, node: Any) -> Any:
        made = replay.Not(atom(node["atom"]), node["form"])
        known = all(each is None or replay.plain(each) for each in made.atom)
        need(known, name, "asks for no pattern")
        need(not self.model.ask(made.atom), name, "is not absent")
        return made

    def _compare(self, name: str, node: Any) -> Any:
        parts = node["op"], value(node["left"]), value(node["right"])
        held = replay.truth(*parts)
        need(held or (held is None and node["perhaps"] is True), name, "does not hold")
        return replay.Compare(*parts, node["perhaps"])

    def _compute(self, name: str, node: Any) -> Any:
        made = replay.Let(value(node["result"]), value(node["expr"]))
        need(replay.worth(made.expr, {}) == made.var, name, "is miscalculated")
        return made

    def _collect(self, name: str, node: Any) -> Any:
        terms, groups = (tuple(map(value, node[key])) for key in ("terms", "groups"))
        body = replay.conditions(node["body"])
        parts = value(node["result"]), node["function"], terms, body, groups
        made, found = replay.Collect(*parts), []
        for member in node["members"]:
            keys(member, "bind premises", name)
            bind = self._bound(name, member, body)
            self._meets(name, body, bind, member["premises"])
            found.append(replay.put(terms, bind))
        whole = set(found) == self.model.members(made) and len(set(found)) == len(found)
        need(whole, name, "does not collect every member once")
        need(replay.fold(made.function, found) == made.var, name, "is miscalculated")
        return made
