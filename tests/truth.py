"""What a trace claims, judged by the reasoner: the other side of the checker's tests.

Of the checker only the words are used. A trace is true of some knowledge if every node
is, by the reasoner's own instances, terms and sentences, and if its goals and labels
say what is so.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from abluent.engine.checking.reword import Words
from abluent.engine.logic.instances import Instance, Missing, Premise, rule_instances
from abluent.engine.proof import encode
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.nodes import node_json
from abluent.engine.proof.proofs import Scale
from abluent.engine.proof.sentences import ANY, Sentences, plain
from brine import valid
from traced import citations

Trace = dict[str, Any]


def false_claims(knowledge: Knowledge, original: Trace, trace: Trace) -> list[str]:
    """What a trace says that is not so; the original is known to be true."""
    return list(_Truth(knowledge, original, trace).claims())


class _Truth:
    def __init__(self, knowledge: Knowledge, original: Trace, trace: Trace) -> None:
        self._knowledge, self._original, self._trace = knowledge, original, trace
        self._nodes = trace["nodes"]
        self._sentences = Sentences(knowledge.program)
        self._asserted = [encode.fact_json(fact) for fact in knowledge.facts]
        names = encode.rule_names(knowledge.program)
        self._rules = {names[r.id, r.head]: r for r in knowledge.program.rules}
        self._known = {
            encode.digest(node_json(node))[:16]: node
            for goal in original["goals"]
            for node in self._proof_of(goal["atom"]).nodes.values()
        }

    def _proof_of(self, atom: Any) -> Any:
        return self._knowledge.proof((atom[0], tuple(map(_term, atom[1:]))))

    def claims(self) -> Iterator[str]:
        for key, node in self._nodes.items():
            if key != encode.digest(node)[:16]:
                yield f"{key}: hash"
            if not self._node(node):
                yield f"{key}: {node}"
            if not self._worded(node):
                yield f"{key}: {self._said(node)}"
        for goal in self._trace["goals"]:
            yield from self._goal(goal)
        yield from self._verdict()
        yield from self._rules_and_facts()
        yield from self._labels()
        for entry in self._trace["bounds"]:
            if not valid(entry):
                yield f"bound {entry}"

    # -- nodes ------------------------------------------------------------------------

    def _node(self, node: Any) -> bool:
        kind = node["kind"]
        if kind == "fact":
            return {k: v for k, v in node.items() if k != "kind"} in self._asserted
        if kind == "absent":
            return not self._knowledge.holds((node["atom"][0], _pattern(node["atom"])))
        if kind == "rule":
            return any(self._is_instance(node, each) for each in self._instances(node))
        # What was worked out must be as the reasoner works it out somewhere.
        return any(self._alike(node, node_json(each)) for each in self._known.values())

    def _instances(self, node: Any) -> list[Instance]:
        predicate, *args = node["atom"]
        terms = tuple(map(encode.term_from, args))
        found = rule_instances(self._knowledge.model, predicate, terms)
        return [each for each in found if each.rule == self._rules.get(node["rule"])]

    def _is_instance(self, node: Any, instance: Instance) -> bool:
        bind = {name: encode.term_json(term) for name, term in instance.bindings}
        if node["bind"] != bind or len(node["premises"]) != len(instance.supports):
            return False
        pairs = zip(node["premises"], instance.supports, strict=True)
        return all(self._supports(self._nodes[key], each) for key, each in pairs)

    @staticmethod
    def _supports(node: Any, support: Any) -> bool:
        if isinstance(support, Premise):
            atom = encode.atom_json(support.predicate, support.args)
            return node["kind"] in ("fact", "rule") and node["atom"] == atom
        if isinstance(support, Missing):
            atom = encode.atom_json(support.predicate, support.pattern)
            parts = (node["kind"], node.get("atom"), node.get("form"))
            return parts == ("absent", atom, support.form)
        kinds = {"Compared": "compare", "Computed": "compute", "Collected": "collect"}
        return node["kind"] == kinds[type(support).__name__]

    def _alike(self, node: Any, other: Any) -> bool:
        """Whether two nodes say the same, members in any order and way of proof."""
        if node["kind"] != "collect" or other["kind"] != "collect":
            return bool(node == other)
        own, others = dict(node), dict(other)
        mine, theirs = own.pop("members"), others.pop("members")
        binds = [encode.canonical(each["bind"]) for each in mine]
        return own == others and sorted(binds) == sorted(
            encode.canonical(each["bind"]) for each in theirs
        )

    def _said(self, node: Any) -> str:
        return Words(self._trace["names"], self._trace["program"]).sentence(node)

    def _worded(self, node: Any) -> bool:
        said = self._said(node)
        if node["kind"] == "rule":
            rule = self._rules.get(node["rule"])
            if rule is not None and rule.says:
                terms = {n: encode.term_from(t) for n, t in node["bind"].items()}
                return bool(said == self._sentences.fill(rule.says, terms))
        if "atom" in node:
            predicate, pattern = node["atom"][0], _pattern(node["atom"])
            if node["kind"] == "absent":
                return bool(said == self._sentences.absence(predicate, pattern))
            return bool(said == self._sentences.claim(predicate, pattern))
        return any(
            self._alike(node, node_json(each)) and said == self._sentences.node(each)
            for each in self._known.values()
        )

    # -- goals, verdict, the rest -----------------------------------------------------

    def _goal(self, goal: Any) -> Iterator[str]:
        root = self._nodes[goal["root"]]
        holds = root["kind"] in ("fact", "rule")
        if goal["holds"] is not holds or goal["atom"] != root["atom"]:
            yield f"goal {goal['atom']} is not what its root concludes"
        ranks = {key: self._rank(key) for key in self._below(goal["root"])}
        lowest = max(rank for rank, _, _ in ranks.values())
        weakest = sorted(k for k, (rank, _, _) in ranks.items() if rank == lowest >= 0)
        stands = ranks[weakest[0]][1:] if weakest else ("", False)
        if (goal["weakest"], goal["standing"], goal["memory"]) != (weakest, *stands):
            yield f"goal {goal['atom']} stands as {stands}"

    def _below(self, root: str) -> set[str]:
        found: set[str] = set()
        waiting = [root]
        while waiting:
            key = waiting.pop()
            if key not in found:
                found.add(key)
                node = self._nodes[key]
                waiting += node.get("premises", [])
                waiting += [p for m in node.get("members", []) for p in m["premises"]]
        return found

    def _rank(self, key: str) -> tuple[int, str, bool]:
        node = self._nodes[key]
        if node["kind"] == "rule":
            rule = self._rules[node["rule"]]
            rank = Scale(self._knowledge.program.standings).rank(rule)
            return rank, rule.standing, rule.from_memory
        if node["kind"] != "fact":
            return -1, "", False
        scale = self._knowledge.program.standings
        place = 2 * scale.index(node["standing"]) if node["standing"] else -1
        return place + node["memory"], node["standing"], node["memory"]

    def _verdict(self) -> Iterator[str]:
        """Each row says what its goal shows, and there are no others."""
        rows = []
        for goal in self._trace["goals"]:
            if goal["row"] != len(rows) or goal["part"]:
                yield f"goal {goal['atom']} is of row {goal['row']}"
            terms = enumerate(goal["atom"][1:], 1)
            rows.append(
                {
                    **{f"term {n}": plain(_term(t), "") for n, t in terms if t},
                    **{key: goal[key] for key in ("holds", "standing", "memory")},
                    "proof": goal["root"],
                }
            )
        if self._trace["verdict"] != {"answers": rows}:
            yield f"verdict: {self._trace['verdict']}"

    def _rules_and_facts(self) -> Iterator[str]:
        program = self._trace["program"]
        if program["standings"] != list(self._knowledge.program.standings):
            yield "the scale of standings"
        for name, rule in program["rules"].items():
            true = self._rules.get(name)
            if true is None or encode.rule_json(true) != rule:
                yield f"rule {name}"
        for name, templates in program["predicates"].items():
            if tuple(templates) != self._sentences.templates(name):
                yield f"sentences of {name}"
        for fact in self._trace["facts"]:
            if fact not in self._asserted:
                yield f"fact {fact['atom']}"
        cited = citations(self._knowledge)
        for name, text in self._trace["sources"].items():
            if cited.get(name) != text:
                yield f"citation of {name}"
        yield from self._names()

    def _names(self) -> Iterator[str]:
        for key, text in self._trace["names"].items():
            term, how = _parsed(key)
            if text != (ANY if term is None else plain(term, how)):
                yield f"name {key}: {text}"

    def _labels(self) -> Iterator[str]:
        true = {each["product"]: each for each in self._original["labels"]}
        if len(true) != len(self._trace["labels"]):
            yield "number of labels"
        for label in self._trace["labels"]:
            own = true.get(label["product"])
            if own is None or (own["text"], own["lines"]) != (
                label["text"],
                label["lines"],
            ):
                yield f"label of {label['product']}"


def _term(data: Any) -> Any:
    return None if data is None else encode.term_from(data)


def _pattern(atom: Any) -> tuple[Any, ...]:
    return tuple(map(_term, atom[1:]))


def _parsed(key: str) -> tuple[Any, str]:
    import json  # noqa: PLC0415 - used in this one place

    term, how = json.loads(key)
    return _term(term), how
