"""Proofs of random stratified programs: true, best, checked, and without effect.

`ABLUENT_RANDOM_PROGRAMS` sets how many programs are tried.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import replace

import pytest
from abluent.engine.checking import checker
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.program import load_program
from abluent.engine.proof.cone import Cone, Membership, Point, required
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.nodes import Ground, Node
from abluent.engine.proof.proofs import Proof, Scale, basis_of
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.printer import print_rules
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from programs import LEVELS, Case, cases
from toys import REACH, fact, known
from traced import base_of, traced

PROGRAMS = int(os.environ.get("ABLUENT_RANDOM_PROGRAMS", "40"))
EXAMPLES = settings(
    max_examples=PROGRAMS, deadline=None, suppress_health_check=list(HealthCheck)
)
STANDINGS = ("law", "measured", "practice")
DERIVED = [name for level in (1, 2, 3) for name in LEVELS[level]]


@st.composite
def knowledges(draw: st.DrawFn) -> Knowledge:
    """A random program whose rules and facts stand differently and cite works."""
    case: Case = draw(cases())
    dice = draw(st.randoms(use_true_random=False))
    rules = [
        replace(
            rule,
            says=f"{rule.name} holds",
            standing=dice.choice(STANDINGS),
            sources=(dice.choice("pq"),),
            from_memory=dice.random() < 0.3,
        )
        for rule in case.rules
    ]
    text = print_rules(ast.RuleFile((ast.Standings(STANDINGS), *rules)))
    facts = [
        Fact(name, args, Basis(dice.choice(STANDINGS), (dice.choice("rs"),)))
        for name, args in case.facts
    ]
    return Knowledge(load_program([("random", text)]), facts)


def derived(knowledge: Knowledge) -> list[Ground]:
    """What follows, in a fixed order."""
    rows = (row for name in DERIVED for row in knowledge.all_rows(name))
    return sorted(rows, key=repr)


@pytest.mark.slow
@EXAMPLES
@given(knowledges())
def test_asking_for_proofs_changes_no_answer(knowledge: Knowledge) -> None:
    """Z3's datalog lost a tuple when it explained (Z3Prover/z3#5054)."""
    before = derived(knowledge)
    for goal in before:
        assert knowledge.prover.prove(*goal).root.key
    assert derived(knowledge) == before
    assert derived(Knowledge(knowledge.program, knowledge.facts)) == before


@pytest.mark.slow
@EXAMPLES
@given(knowledges())
def test_every_proof_is_accepted_by_the_checker(knowledge: Knowledge) -> None:
    """Facts that hold and facts that do not, alone and against the base."""
    goals = [*_spread(derived(knowledge), 5), *_absent(knowledge)]
    trace = traced(knowledge, *goals)
    assert checker.check(trace) == (True, (), (), "")
    base = base_of(knowledge, trace)
    result = checker.check(trace, base)
    assert result[:3] == (True, (), ())
    assert result.base


def _spread(rows: list[Ground], most: int) -> list[Ground]:
    return rows[:: max(1, len(rows) // most)][:most]


def _absent(knowledge: Knowledge) -> Iterator[Ground]:
    for name, args in (("b", ("u",)), ("g", ("w",)), ("a", ("u", "v"))):
        if not knowledge.model.holds(name, args):
            yield name, args


@pytest.mark.slow
@EXAMPLES
@given(knowledges())
def test_no_proof_stands_higher_than_the_one_that_is_shown(
    knowledge: Knowledge,
) -> None:
    """By a slow iteration over all rule instances, until nothing improves."""
    rows = derived(knowledge)
    cone, scale = Cone(knowledge.model), Scale(knowledge.program.standings)
    best = _best_ranks(cone, scale, rows)
    for goal in rows:
        proof = knowledge.prover.prove(*goal)
        assert max(_rank(scale, node) for node in proof.nodes.values()) == best[goal]


def _rank(scale: Scale, node: Node) -> int:
    basis = basis_of(node)
    return -1 if basis is None else scale.rank(basis)


def _best_ranks(cone: Cone, scale: Scale, rows: list[Ground]) -> dict[Point, int]:
    worst = 10**6
    readings = cone.below(rows)
    best: dict[Point, int] = dict.fromkeys(readings, worst)
    changed = True
    while changed:
        changed = False
        for point, reading in readings.items():
            ranks = [scale.rank(each.basis) for each in reading.facts]
            for each in reading.instances:
                member = isinstance(point, Membership)
                own = -1 if member else scale.rank(each.rule)
                ranks.append(max([own, *(best[p] for p in required(each))]))
            if min(ranks) < best[point]:
                best[point], changed = min(ranks), True
    return best


EDGES = st.dictionaries(
    st.tuples(st.sampled_from("abcde"), st.sampled_from("abcde")),
    st.sampled_from(STANDINGS),
    max_size=12,
)


@pytest.mark.slow
@settings(max_examples=100, deadline=None)
@given(EDGES)
def test_paths_are_the_strongest_then_the_shortest(
    edges: dict[tuple[str, str], str],
) -> None:
    """Every part of a path is the best path of its own, and so is the whole."""
    rows = [fact("edge", *pair, standing=each) for pair, each in edges.items()]
    knowledge = known(REACH, rows)
    best = _best_paths(edges)
    found = {args for _, args in knowledge.all_rows("path")}
    assert found == set(best)
    for pair, (rank, steps) in best.items():
        proof = knowledge.prover.prove("path", pair)
        assert (proof.standing, _edges_used(proof)) == (_name(rank), steps)


def _name(rank: int) -> str:
    return ("law", "measured", "handbook", "practice")[rank]


def _edges_used(proof: Proof) -> int:
    """How many rule steps a path takes; each uses one edge."""
    return sum(node.premises != () for node in proof.nodes.values())


def _best_paths(
    edges: dict[tuple[str, str], str],
) -> dict[tuple[str, str], tuple[int, int]]:
    order = ("law", "measured", "handbook", "practice")
    ranks = {pair: order.index(each) for pair, each in edges.items()}
    best: dict[tuple[str, str], tuple[int, int]] = {}
    for _ in range(2 * len(edges) + 2):
        new = dict.fromkeys(ranks, (0, 0))
        new = {pair: (rank, 1) for pair, rank in ranks.items()}
        for (a, b), rank in ranks.items():
            for (start, end), (worst, steps) in best.items():
                if start == b:
                    way = (max(rank, worst), steps + 1)
                    new[a, end] = min(new.get((a, end), way), way)
        if new == best:
            break
        best = new
    return best
