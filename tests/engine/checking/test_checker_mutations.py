"""The checker against forged traces.

Every mutant is checked against the base of the true trace. One that is accepted must
be harmless: everything it still says is so, by the reasoner's own account
(`truth.py`), and why it was let through is named. Mutants that kept the old hashes
must besides be refused without any base.

`ABLUENT_MUTANTS` sets how many mutants are made; 10,000 take some minutes. With
`ABLUENT_MUTANTS_LIST` the accepted ones are written to that file.
"""

from __future__ import annotations

import os
import random
from collections import Counter
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from abluent.engine.checking import checker
from abluent.engine.proof.encode import term_from
from abluent.engine.proof.knowledge import Knowledge
from bound_mutations import BOUND_MUTATIONS
from brine import valid
from forging import rehashed, restate
from mutating import MUTATIONS, NotHere
from mutations import mutated
from traced import base_of, samples
from truth import false_claims

MUTANTS = int(os.environ.get("ABLUENT_MUTANTS", "300"))
SAMPLES = samples()
BASES = {name: base_of(*each) for name, each in SAMPLES.items()}

# Why an accepted mutant is harmless, by the parts of the trace that differ. What is
# not listed here may not differ in an accepted mutant.
HARMLESS = {
    frozenset(): "the same trace under its right hashes",
    frozenset({"facts"}): "facts left out, repeated or reordered; the base has them",
    frozenset({"question"}): "the wording of the question; nothing is proven by it",
    frozenset({"canonical"}): "the wording of the question; nothing is proven by it",
    frozenset({"cautions"}): "cautions; they are proven by nothing",
    frozenset({"bounds"}): "another proof of the same bounds, or another order of them",
    frozenset({"labels"}): "how the notes on a label are cut and explained",
    frozenset({"names"}): "a name that no sentence uses",
    frozenset({"program"}): "sentences of a predicate that are left out",
    frozenset({"goals"}): "the order of goals, or of what they show",
}
PROOF = {"goals", "nodes", "verdict", "names", "program"}
SUPPOSING = "a supposition that says it is one"
OTHER_PROOF = "a smaller answer, or another proof that is just as true"


def reason(original: Any, mutant: Any) -> str:
    """The class of harmless mutants that a mutant belongs to, or nothing."""
    differ = {k for k in mutant if mutant[k] != original[k]} - {"digest"}
    known = HARMLESS.get(frozenset(differ))
    if known is None and differ <= PROOF:
        return OTHER_PROOF
    return known or ""


def supposed(knowledge: Knowledge, mutant: Any) -> Knowledge:
    """The knowledge without the facts that a mutant openly takes away."""
    assert not mutant["supposed"]["added"]
    removed = [
        (name, tuple(map(term_from, args)))
        for name, *args in mutant["supposed"]["removed"]
    ]
    return knowledge.but(removed=removed)


def chosen(number: int) -> str:
    return sorted(SAMPLES)[number % len(SAMPLES)]


@pytest.mark.slow
def test_no_mutant_is_accepted_that_says_anything_false() -> None:
    """And each accepted one belongs to a class that is known to be harmless."""
    wrong, accepted = [], Counter[tuple[str, str]]()
    made = Counter[tuple[str, str]]()
    lines = []
    for seed in range(MUTANTS):
        name = chosen(seed)
        knowledge, original = SAMPLES[name]
        mutation, cover, mutant = mutated(seed, original)
        made[mutation, cover] += 1
        result = checker.check(mutant, BASES[name])
        if not result.ok:
            continue
        why = reason(original, mutant)
        if result.supposed:
            # It says so; then it must be true of what it supposes.
            why, knowledge = SUPPOSING, supposed(knowledge, mutant)
        accepted[mutation, why] += 1
        lines.append(f"{seed}\t{name}\t{cover}\t{mutation}\t{why}")
        claims = false_claims(knowledge, original, mutant)
        if claims or not why:
            wrong.append((seed, name, cover, mutation, claims[:2], why))
    _write(lines, made)
    assert wrong == []
    assert sum(accepted.values()) < MUTANTS / 5


def _write(lines: list[str], made: Counter[tuple[str, str]]) -> None:
    place = os.environ.get("ABLUENT_MUTANTS_LIST")
    if place:
        counts = [f"# {c}\t{m}\t{n}" for (m, c), n in sorted(made.items())]
        Path(place).write_text("\n".join([*counts, *lines, ""]), "utf-8")


@pytest.mark.slow
def test_with_the_old_hashes_no_mutant_passes_even_without_a_base() -> None:
    """Only a mutation that changed nothing is accepted."""
    tried = 0
    for seed in range(MUTANTS):
        name = chosen(seed)
        _, original = SAMPLES[name]
        _, cover, mutant = mutated(seed, original)
        if cover == "kept" and mutant != original:
            tried += 1
            assert not checker.check(mutant).ok, seed
    assert tried > MUTANTS / 5


def test_refusals_name_a_place() -> None:
    """A refusal says where and what, for every mutant."""
    for seed in range(0, MUTANTS, 7):
        name = chosen(seed)
        result = checker.check(mutated(seed, SAMPLES[name][1])[2], BASES[name])
        for place, text in result.problems:
            assert place
            assert text


@pytest.mark.parametrize("name", sorted(SAMPLES))
def test_the_judge_finds_nothing_false_in_true_traces(name: str) -> None:
    """Or it could not be trusted with the others."""
    knowledge, trace = SAMPLES[name]
    assert false_claims(knowledge, trace, trace) == []


@pytest.mark.parametrize("name", sorted(MUTATIONS))
def test_every_mutation_is_tried(name: str) -> None:
    """Each changes some sample, under a few throws of the dice."""
    for dice in map(random.Random, range(20)):
        for _, original in SAMPLES.values():
            mutant = deepcopy(original)
            try:
                MUTATIONS[name](dice, mutant)
            except NotHere:
                continue
            if mutant != original:
                return
    pytest.fail(f"{name} changes nothing")


# Figures in a trace that its proofs need not use: limits that would lift another if
# they were higher, and the mass of an ion where that of the salt is known.
IDLE = {"high", "low", "ionMass"}


@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(BOUND_MUTATIONS))
def test_no_bound_is_falsified_even_without_a_base(name: str) -> None:
    """What is accepted still proves every interval, and from the same figures."""
    _, original = SAMPLES["brine"]
    told = {str(fact) for fact in original["facts"]}
    for seed in range(MUTANTS // 25):
        mutant = deepcopy(original)
        try:
            MUTATIONS[name](random.Random(seed), mutant)
        except NotHere:
            continue
        for made in (rehashed(mutant), restated(rehashed(mutant))):
            if checker.check(made).ok:
                assert all(map(valid, made["bounds"])), seed
                changed = [f for f in made["facts"] if str(f) not in told]
                assert {f["atom"][0] for f in changed} <= IDLE, seed


def restated(trace: Any) -> Any:
    restate(trace)
    return trace
