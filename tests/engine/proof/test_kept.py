"""Proofs that one model shares with another or that were kept, are those made anew."""

from __future__ import annotations

import marshal
import random
from dataclasses import replace

import pytest
from abluent.engine.logic.extended import CommonModel, ExtendedModel
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.program import Program, load_program
from abluent.engine.logic.reasoner import evaluate
from abluent.engine.logic.terms import Term
from abluent.engine.proof import proofs
from abluent.engine.proof.kept import KeptProofs
from abluent.engine.proof.proofs import Proof, Prover
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.printer import print_rules
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from programs import LEVELS, Case, cases, facts

STANDINGS = ("law", "measured", "practice")
NAMES = [name for columns in LEVELS.values() for name in columns]


def _common(program: Program, known: list[Fact]) -> CommonModel:
    def find(predicate: str, args: tuple[Term, ...]) -> tuple[Fact, ...]:
        return tuple(fact for fact in known if fact[:2] == (predicate, args))

    return CommonModel(program, lambda: known, find)


def _shown(proof: Proof) -> tuple[object, ...]:
    return proof.root, dict(proof.nodes), proof.standing, proof.sources


@pytest.mark.slow
@settings(deadline=None, max_examples=40, suppress_health_check=list(HealthCheck))
@given(
    case=cases(),
    rows=st.lists(facts(), max_size=1),
    dice=st.randoms(use_true_random=False),
)
def test_shared_and_kept_proofs_are_those_of_one_model(
    case: Case,
    rows: list[tuple[tuple[str, tuple[object, ...]], ...]],
    dice: random.Random,
) -> None:
    """Node by node, with an empty store, a filled one and one that was written."""
    rules = [
        replace(rule, says="so", standing=dice.choice(STANDINGS), sources=("s",))
        for rule in case.rules
    ]
    parts = (ast.Standings(STANDINGS), *rules)
    program = load_program([("random", print_rules(ast.RuleFile(parts)))])
    known = [Fact(*each, Basis(dice.choice(STANDINGS), ("r",))) for each in case.facts]
    known = [fact for fact in known if fact.predicate in program.arities]
    own = [Fact(*each, Basis("own")) for found in rows for each in found]
    plain = Prover(evaluate(program, known + own))
    kept = KeptProofs(program)
    for _ in range(2):
        common = _common(program, known)
        prover = Prover(ExtendedModel(common, own), Prover(common, kept=kept))
        for name in NAMES:
            for args in plain.model.match(name):
                mine, theirs = prover.prove(name, args), plain.prove(name, args)
                assert _shown(mine) == _shown(theirs)
        again = KeptProofs(program)
        again.undump(marshal.loads(marshal.dumps(kept.dump())))
        assert not again.grown
        kept = again


def test_what_was_kept_is_not_looked_for_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """A kept proof is read, without the cone of its goal."""
    program = load_program(
        [("toy", '"{x}"\n  because the x a\n  so      the x b\n  rule    r\n')]
    )
    known = [Fact("a", ("k",), Basis("measured", ("s",)))]
    kept = KeptProofs(program)
    model = _common(program, known)
    found = Prover(ExtendedModel(model, ()), Prover(model, kept=kept)).prove("b", "k")
    assert kept.grown
    monkeypatch.setattr(proofs, "_Search", None)
    model = _common(program, known)
    again = Prover(ExtendedModel(model, ()), Prover(model, kept=kept)).prove("b", "k")
    assert _shown(again) == _shown(found)
