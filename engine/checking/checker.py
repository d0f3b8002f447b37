"""Check an exported trace without the reasoner that made it.

This file and those beside it that it imports (`replay`, `reword`, `quantities` and
its own) need the standard library only, and can be run by themselves:

    python checker.py TRACE.json [--base BASE.json]

A trace carries its rules, the asserted facts they can see, the label texts, the
sources and the nodes of the proof. Recomputed are: hashes, rule instances, arithmetic
and comparisons, absence (by running the rules on the facts), sentences, spans of label
lines, bounds, standings, and the verdict. Given a base (an export with all its rules
and facts), rules, facts and citations must be its, and no fact of it be called absent.
"""

from __future__ import annotations

import hashlib
import json
import sys
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any, NamedTuple

try:
    from abluent.engine.checking import quantities, replay, reword
except ImportError:  # run as a file by itself
    import quantities  # type: ignore[import-not-found, no-redef]
    import replay  # type: ignore[import-not-found, no-redef]
    import reword  # type: ignore[import-not-found, no-redef]

FORMAT = "abluent-trace/1"
TRACE_KEYS = (
    "format question canonical verdict cautions goals program facts supposed "
    "labels bounds sources names terms nodes sentences digest"
)
NODE_KEYS = {
    "fact": "kind atom standing memory sources origin",
    "rule": "kind rule bind atom premises",
    "absent": "kind atom form",
    "compare": "kind op left right perhaps",
    "compute": "kind expr result",
    "collect": "kind function terms body groups members result",
}
RULE_KEYS = "head body says exception standing memory sources"
NO_BASIS = {"standing": "", "memory": False, "sources": []}
WRONG_KIND = (AttributeError, LookupError, TypeError, ValueError)
MALFORMED = (*WRONG_KIND, ArithmeticError, RecursionError, replay.Refused)
atom, value = replay.atom, replay.value
# The one JSON text of some data, over which hashes are taken.
canonical = json.JSONEncoder(sort_keys=True, separators=(",", ":")).encode


class Bad(Exception):
    """A trace that does not hold: where (a node's hash, a part), and what is wrong."""


class Result(NamedTuple):
    """Whether a trace holds; each problem is a place and a sentence about it.

    `supposing` tells that it openly takes some facts to be otherwise.
    """

    ok: bool
    problems: tuple[tuple[str, str], ...] = ()
    supposing: bool = False


def digest(data: object) -> str:
    """SHA-256 of the canonical JSON text, in hexadecimal."""
    return hashlib.sha256(canonical(data).encode()).hexdigest()


def need(holds: object, place: str, text: str) -> None:
    """Refuse the trace unless something holds."""
    if not holds:
        raise Bad(place, text)


def keys(data: Any, wanted: str, place: str) -> None:
    """Refuse missing and unknown keys."""
    odd = ", ".join(sorted(set(data) ^ set(wanted.split())))
    need(isinstance(data, dict) and not odd, place, f"missing or unknown keys: {odd}")


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


def leaves(data: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The path to everything that some JSON data says."""
    if not isinstance(data, dict | list) or (path and not data):
        yield path
        return
    for key, part in data.items() if isinstance(data, dict) else enumerate(data):
        yield from leaves(part, (*path, key))


class _Check:
    def __init__(self, trace: Any, base: Any) -> None:
        keys(trace, TRACE_KEYS, "trace")
        need(trace["format"] == FORMAT, "format", f"is not {FORMAT}")
        self.trace, self.base = trace, base
        self.nodes, self.program = trace["nodes"], trace["program"]
        keys(self.program, "standings rules predicates", "program")
        self.rules: dict[str, Any] = {}
        for name, rule in self.program["rules"].items():
            keys(rule, RULE_KEYS, name)
            self.rules[name] = atom(rule["head"]), replay.conditions(rule["body"])
        self.facts = {canonical(each): atom(each["atom"]) for each in trace["facts"]}
        self.words = reword.Words(trace["names"], self.program)
        self.model = replay.derive(list(self.rules.values()), self._asserted())
        self.done: dict[str, Any] = {}

    def run(self) -> None:
        trace, goals = self.trace, self.trace["goals"]
        for name in below(self.nodes, [goal["root"] for goal in goals]):
            self._node(name, self.nodes[name])
        for part in ("nodes", "sentences"):
            odd = set(self.trace[part]) ^ set(self.done)
            need(not odd, min(odd, default=""), f"does not belong to {part}")
        bound = [path for goal in goals for path in self._goal(goal)]
        for leaf in leaves(self.trace["verdict"]):
            if not any(leaf[: len(path)] == path for path in bound):
                raise Bad("verdict", f"nothing in the trace shows {leaf}")
        for each in (reword.label_list(trace), *quantities.tests(trace, self.model)):
            need(*each)
        for label in self.trace["labels"]:
            keys(label, "product text lines notes", "labels")
            product, text = label["product"], label["text"]
            known = self.base["labels"].get(product, text) if self.base else text
            need(text == known, product, "has another label")
            for each in reword.label_tests(label, self.trace):
                need(*each)
        self._sources()
        rest = {key: part for key, part in self.trace.items() if key != "digest"}
        need(self.trace["digest"] == digest(rest), "digest", "is that of another trace")

    # -- rules and facts

    def _asserted(self) -> set[Any]:
        """The facts to run the rules on: those of the trace, and of the base."""
        facts, supposed = set(self.facts.values()), self.trace["supposed"]
        keys(supposed, "added removed", "supposed")
        added, removed = (set(map(atom, supposed[key])) for key in ("added", "removed"))
        need(added <= facts and not removed & facts, "supposed", "is not so")
        if self.base is None:
            return facts
        used = self._same_rules(self.base["program"])
        for part in ("sources", "names", "terms"):
            for name, said in self.trace[part].items():
                need(self.base[part].get(name) == said, name, f"differs in the {part}")
        known = {canonical(each): atom(each["atom"]) for each in self.base["facts"]}
        own = {fact[0] for fact in known.values()}
        own.update(rule["head"][0] for rule in self.base["program"]["rules"].values())
        for part in self.trace["facts"]:
            text, fact = canonical(part), self.facts[canonical(part)]
            given = fact[0] in used - own and not (part["sources"] or part["standing"])
            need(fact in added or given or text in known, text, "is not in the base")
        return facts | (set(known.values()) - removed)

    def _same_rules(self, program: Any) -> set[str]:
        """Compare the rules with those of the base; the predicates they look at."""
        for key in ("standings", "predicates"):
            theirs, ours = program[key], self.program[key]
            if key == "predicates":
                theirs = {name: theirs[name] for name in ours}
            need(theirs == ours, key, "are not those of the base")
        ours = self.program["rules"]
        used = {goal["atom"][0] for goal in self.trace["goals"]}
        used.update(node["atom"][0] for node in self.nodes.values() if "atom" in node)
        for head, body in self.rules.values():
            used.update((head[0], *(name for name, _ in replay.needs(body))))
        for name, rule in program["rules"].items():
            if rule["head"][0] in used or name in ours:
                need(ours.get(name) == rule, name, "is not the rule of the base")
        need(not ours.keys() - program["rules"].keys(), "program", "has other rules")
        return used

    # -- nodes

    def _node(self, name: str, node: Any) -> None:
        need(name == digest(node), name, "is not the hash of what it names")
        try:
            keys(node, NODE_KEYS[node["kind"]], name)
            self.done[name] = getattr(self, f"_{node['kind']}")(name, node)
            text = self.words.sentence(node)
        except MALFORMED as error:
            raise Bad(name, f"is malformed: {error!r}") from None
        need(self.trace["sentences"].get(name) == text, name, f"should read: {text}")

    def _fact(self, name: str, node: Any) -> Any:
        entry = {key: part for key, part in node.items() if key != "kind"}
        need(canonical(entry) in self.facts, name, "is not among the facts")
        return replay.Is(atom(node["atom"]))

    def _rule(self, name: str, node: Any) -> Any:
        head, body = self.rules[node["rule"]]
        made, bind = replay.Is(atom(node["atom"])), self._bound(name, node, body)
        concludes = replay.put(head, bind) == made.atom
        need(concludes, name, "is not what its rule concludes")
        need(made.atom in self.model.all, name, "does not follow")
        self._meets(name, body, bind, node["premises"])
        return made

    def _bound(self, name: str, data: Any, body: Any) -> dict[str, Any]:
        bind = {key: value(part) for key, part in data["bind"].items()}
        need(set(bind) == replay.variables(body), name, "binds other variables")
        # Null would agree with a different value in every premise.
        plain = str | Fraction | replay.Interval
        need(all(isinstance(v, plain) for v in bind.values()), name, "binds no values")
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
        need(not self.model.rows(made.atom, {}), name, "is not absent")
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

    # -- goals, labels, sources

    def _part(self, name: str) -> Any:
        """What gives a node its standing and sources: a fact or a rule."""
        node = self.nodes[name]
        if node["kind"] == "rule":
            return self.program["rules"][node["rule"]]
        return node if node["kind"] == "fact" else NO_BASIS

    def _rank(self, name: str) -> int:
        part, scale = self._part(name), self.program["standings"]
        if part["standing"] in scale:
            return int(2 * scale.index(part["standing"]) + part["memory"])
        return 2 * len(scale) if part["standing"] else -1

    def _goal(self, goal: Any) -> list[tuple[Any, ...]]:
        """Check a goal; the paths of the verdict that it accounts for."""
        root = goal["root"]
        keys(goal, "atom holds root standing memory weakest binds", "goals")
        made, holds = self.done[root], type(self.done[root]) is replay.Is
        answers = made.atom == atom(goal["atom"]) and goal["holds"] is holds
        need(answers and hasattr(made, "atom"), root, "does not answer its goal")
        names = below(self.nodes, [root])
        lowest = max(map(self._rank, names))
        weakest = sorted(n for n in names if self._rank(n) == lowest >= 0)
        basis = self._part(weakest[0]) if weakest else NO_BASIS
        for key, want in {**basis, "weakest": weakest}.items():
            same = key not in goal or canonical(goal[key]) == canonical(want)
            need(same or key == "atom", root, f"{key} is {want}")
        for path, what in goal["binds"]:
            said = self.trace["verdict"]
            for key in path:
                said = said[key]
            known = path[-1] in self._called(goal, what)
            shown = known and self._shows(goal, names, what, said)
            need(shown, "verdict", f"{path} is not what its goal shows")
        return [tuple(path) for path, _ in goal["binds"]]

    def _called(self, goal: Any, what: Any) -> tuple[str, ...]:
        """What a part of a verdict may be called."""
        predicate, *terms = goal["atom"]
        if isinstance(what, int):
            numbered = [f"term {place}" for place in range(1, len(terms) + 1)]
            named = self.trace["terms"].get(predicate, numbered)
            return tuple(named[what : what + 1]) if what >= 0 else ()
        return (what, predicate) if what == "holds" else (what,)

    def _shows(self, goal: Any, names: list[str], what: Any, said: Any) -> bool:
        """Whether something of a verdict is what its goal comes to."""
        if isinstance(what, int):
            term = goal["atom"][what + 1]
            return bool(said in (term, self.words.name(term)))
        if what == "reasons":
            return set(said) <= {self.trace["sentences"][name] for name in names}
        if what == "sources":
            cited = {each for name in names for each in self._part(name)["sources"]}
            return bool(said == sorted(cited))
        want = {"proof": goal["root"], **goal}[what]
        return bool(canonical(said) == canonical(want))

    def _sources(self) -> None:
        listed = self.trace["sources"]
        rules = self.program["rules"].values()
        cited = {s for part in (*self.trace["facts"], *rules) for s in part["sources"]}
        for name in cited ^ set(listed):
            need(name in listed, name, "is cited and not listed")
            need(name in cited, name, "is listed and not cited")
        for name, citation in listed.items():
            need(citation.strip(), name, "has no citation")


def check(trace: Any, base: Any = None) -> Result:
    """Check a trace, and against a base if one is given.

    Args:
        trace: the data of a trace.
        base: `program`, `facts`, `sources` and `names` of a whole base, each as in a
            trace, and the texts of `labels` by product. Facts of predicates that it
            neither asserts nor concludes are taken to come with the question.

    Returns:
        Whether the trace holds, and if not the first place where it does not.
    """
    try:
        _Check(trace, base).run()
    except Bad as bad:
        return Result(False, ((bad.args[0], bad.args[1]),))
    except MALFORMED as error:
        return Result(False, (("trace", f"is malformed: {error!r}"),))
    return Result(True, (), any(trace["supposed"].values()))


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    if len(found := dict(pairs)) != len(pairs):
        raise ValueError("a key is given twice")
    return found


def read(text: str) -> Any:
    """Read a trace from JSON text; raises ValueError for a key given twice."""
    return json.loads(text, object_pairs_hook=_once)


def main(arguments: list[str]) -> int:
    """Check the file named; 0 if it holds, 1 if not, 2 for wrong use."""
    if len(arguments) not in (1, 3) or arguments[1:2] not in ([], ["--base"]):
        print("usage: checker.py TRACE.json [--base BASE.json]", file=sys.stderr)
        return 2
    try:
        data = [read(Path(name).read_text("utf-8")) for name in arguments[::2]]
    except (OSError, ValueError) as error:
        print(f"cannot read: {error}", file=sys.stderr)
        return 1
    result = check(*data)
    for place, problem in result.problems:
        print(f"{place}: {problem}")
    under = ", supposing facts to be otherwise" if result.supposing else ""
    print(f"holds{under}" if result.ok else "does not hold")
    return 0 if result.ok else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
