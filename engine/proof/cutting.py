"""What of the rules and facts of a model a trace must hold.

A proof brings its own facts along. What it says is absent, and what it collects, hangs
on more: a rule that would conclude the contrary fails on something, and that must be
in the trace too. It is found by trying: whatever follows wrongly from the facts so
far rests on a denial that is untrue, and the proof that it is untrue is added.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Any, NamedTuple

from abluent.engine.checking import quantities, replay
from abluent.engine.checking.follows import Follows, filed
from abluent.engine.logic.clauses import Collection, Rule
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.instances import Missing, Premise
from abluent.engine.logic.program import Program
from abluent.engine.logic.terms import Interval, Term
from abluent.engine.proof.cone import member_instances
from abluent.engine.proof.encode import atom_json, fact_json, rule_json
from abluent.engine.proof.nodes import (
    AbsenceNode,
    CollectionNode,
    FactNode,
    Node,
    RuleNode,
    node_json,
)
from abluent.engine.proof.proofs import Proof, Prover


class Cut(NamedTuple):
    """What a trace holds of rules, facts and proofs of intervals."""

    facts: tuple[Fact, ...]
    rules: tuple[Rule, ...]
    bounds: tuple[Any, ...] = ()


def cut(
    prover: Prover,
    proofs: Iterable[Proof],
    told: Iterable[Fact] = (),
    bounds: Sequence[Any] = (),
    asks: Sequence[tuple[str, Sequence[Term | None]]] = (),
) -> Cut:
    """What some proofs need to be checked by themselves.

    Args:
        prover: of the model.
        proofs: the proofs.
        told: facts that are there in any case.
        bounds: the entries that prove intervals, as `quantities` describes them.
        asks: patterns that will be asked besides.
    """
    cutting = _Cutting(prover, told, bounds, asks)
    for proof in proofs:
        cutting.show(proof)
    return cutting.finished()


class _Cutting:
    def __init__(
        self,
        prover: Prover,
        told: Iterable[Fact],
        bounds: Sequence[Any],
        asks: Sequence[tuple[str, Sequence[Term | None]]],
    ) -> None:
        self._prover, self._bounds, self._asks = prover, bounds, asks
        self._rules, self._literals = _parsed(prover.model.program)
        self._facts: dict[Fact, None] = dict.fromkeys(told)
        self._nodes: dict[str, Node] = {}
        self._shown: list[Node] = []
        self._collected: set[tuple[int, tuple[Any, ...]]] = set()

    def show(self, proof: Proof) -> None:
        """Take in a proof that the trace shows."""
        self._shown += proof.nodes.values()
        self.add(proof)

    def add(self, proof: Proof) -> None:
        """Take in a proof: its facts, and what it says is absent or collected."""
        for key, node in proof.nodes.items():
            self._nodes.setdefault(key, node)
            if isinstance(node, FactNode):
                self._facts.setdefault(node.fact)

    def finished(self) -> Cut:
        """Add what is missing until everything follows as it should."""
        while True:
            follows = self._tried()
            before = len(self._facts), len(self._nodes)
            self._mend(follows)
            if before == (len(self._facts), len(self._nodes)):
                return self._cut(follows)

    def _tried(self) -> Follows:
        """Evaluate what the checker will ask, over the facts so far."""
        facts = (atom_json(fact.predicate, fact.args) for fact in self._facts)
        rules = (pair for pair, _ in self._rules)
        follows = Follows(rules, filed(map(replay.atom, facts)))
        for node in self._nodes.values():
            if isinstance(node, AbsenceNode):
                follows.ask(replay.atom(atom_json(node.predicate, node.pattern)))
            elif isinstance(node, CollectionNode):
                follows.collected(_collection(node))
        for predicate, pattern in self._asks:
            follows.ask(replay.atom(atom_json(predicate, tuple(pattern))))
        if bounds := self._shown_bounds():
            told = {
                "facts": list(map(fact_json, self._facts)),
                "bounds": bounds,
                "program": {"standings": list(self._prover.model.program.standings)},
            }
            list(quantities.tests(told, follows))
        return follows

    def _shown_bounds(self) -> list[Any]:
        """The proofs of the intervals that are among the facts."""
        there = {str(atom_json(each.predicate, each.args)) for each in self._facts}
        return [each for each in self._bounds if str(each["atom"]) in there]

    def _mend(self, follows: Follows) -> None:
        """Find what follows though it is not so, and what does not though it is."""
        wrong: list[Any] = []
        for want, found in list(follows.asked.items()):
            true = {self._atom(want[0], row) for row in self._match(want)}
            wrong += [each for each in found if each not in true]
            for each in true.difference(found):
                self.add(self._prove(each))
        for node in list(self._nodes.values()):
            if isinstance(node, CollectionNode):
                so = {tuple(map(_value, each.terms)) for each in node.members}
                found = follows.collected(_collection(node))
                wrong += [each for each in found if each[1:] not in so]
        for part, bind in follows.assumed(wrong):
            if isinstance(part, replay.Not):
                self._deny(replay.put(part.atom, bind))
            else:
                self._collect(part, bind)

    def _deny(self, want: tuple[Any, ...]) -> None:
        """Take in why something is there after all; or else, why it is not."""
        row = next(iter(self._match(want)), None)
        if row is not None:
            self.add(self._prover.prove(want[0], row))

    def _collect(self, part: Any, bind: Mapping[str, Any]) -> None:
        """Take in every true member of a collection."""
        literal = self._literals[part]
        groups = {name: _term(bind[name]) for name in literal.groups}
        key = id(literal), tuple(groups.values())
        if key in self._collected:
            return
        self._collected.add(key)
        for instance in member_instances(self._prover.model, literal, groups):
            for support in instance.supports:
                if isinstance(support, Premise):
                    self.add(self._prover.prove(support.predicate, support.args))
                elif isinstance(support, Missing):
                    args = support.predicate, support.pattern
                    self.add(self._prover.prove_absence(*args))

    def _match(self, want: tuple[Any, ...]) -> Iterable[tuple[Term, ...]]:
        model = self._prover.model
        pattern = [
            None if each is None or isinstance(each, replay.Var) else _term(each)
            for each in want[1:]
        ]
        return model.match(want[0], pattern) if want[0] in model.predicates() else ()

    def _atom(self, predicate: str, row: Sequence[Term]) -> tuple[Any, ...]:
        return (predicate, *map(_value, row))

    def _prove(self, atom: tuple[Any, ...]) -> Proof:
        return self._prover.prove(atom[0], tuple(map(_term, atom[1:])))

    def _cut(self, follows: Follows) -> Cut:
        """The facts, and the rules that were used or for which there were facts."""
        used = {n.rule for n in self._shown if isinstance(n, RuleNode)}
        rules = tuple(
            rule
            for (head, _), rule in self._rules
            if id(head) in follows.met or rule in used
        )
        return Cut(tuple(self._facts), rules, tuple(self._shown_bounds()))


@lru_cache(maxsize=4)
def _parsed(program: Program) -> tuple[list[Any], dict[Any, Collection]]:
    """The rules of a program as the checker has them, and their collections."""
    rules, literals = [], {}
    for rule in program.rules:
        data = rule_json(rule)
        body = replay.conditions(data["body"])
        rules.append(((replay.atom(data["head"]), body), rule))
        for part, literal in zip(body, rule.body, strict=True):
            if isinstance(literal, Collection):
                literals[part] = literal
    return rules, literals


def _collection(node: CollectionNode) -> Any:
    data = node_json(node)
    terms, groups = (tuple(map(replay.value, data[key])) for key in ("terms", "groups"))
    body = replay.conditions(data["body"])
    return replay.Collect(None, data["function"], terms, body, groups)


def _value(term: Term) -> Any:
    """A term as the checker has it."""
    return replay.value(atom_json("", (term,))[1])


def _term(value: Any) -> Term:
    """A value of the checker as a term."""
    if isinstance(value, Fraction):
        return value.numerator if value.denominator == 1 else value
    if not isinstance(value, replay.Interval):
        return str(value)
    (low, low_open), (high, high_open) = value
    return Interval(
        _term(low) if isinstance(low, Fraction) else None,  # type: ignore[arg-type]
        _term(high) if isinstance(high, Fraction) else None,  # type: ignore[arg-type]
        bool(low_open),
        bool(high_open),
    )
