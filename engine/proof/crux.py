"""Where the chains to two conclusions part.

When sources dispute an answer, both conclusions follow, and much of what they rest
on is the same. The crux is the least that has to be looked at to see why they
differ: of all pairs of supports the one with the fewest facts that are in only one.
"""

from __future__ import annotations

from typing import NamedTuple

from abluent.engine.logic.clauses import Rule
from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.proofs import Prover
from abluent.engine.proof.supports import supports


class Crux(NamedTuple):
    """Where two conclusions part.

    Args:
        first: the asserted facts that only the first rests on.
        second: those that only the second rests on.
        shared: those that both rest on.
        first_rules: rules of the best proof of the first that the other does not use.
        second_rules: the same for the second.
        complete: whether all supports were compared.
    """

    first: tuple[Ground, ...]
    second: tuple[Ground, ...]
    shared: tuple[Ground, ...]
    first_rules: tuple[Rule, ...]
    second_rules: tuple[Rule, ...]
    complete: bool


def crux(prover: Prover, first: Ground, second: Ground, most: int = 60) -> Crux:
    """The fewest premises in which the chains to two facts differ.

    Args:
        prover: of the model in which both hold.
        first: the one.
        second: the other.
        most: how many supports of each to compare.

    Raises:
        NotProven: one of them does not hold.
    """
    ones = supports(prover, *first, most=most)
    others = supports(prover, *second, most=most)
    pairs = [(a, b) for a in ones.sets for b in others.sets]
    nearest = min(pairs, key=_distance)
    one, other = set(nearest[0]), set(nearest[1])
    first_rules = prover.prove(*first).rules
    second_rules = prover.prove(*second).rules
    return Crux(
        _ordered(one - other),
        _ordered(other - one),
        _ordered(one & other),
        tuple(rule for rule in first_rules if rule not in second_rules),
        tuple(rule for rule in second_rules if rule not in first_rules),
        ones.complete and others.complete,
    )


def _distance(
    pair: tuple[tuple[Ground, ...], tuple[Ground, ...]],
) -> tuple[int, int, str]:
    """In how much two supports differ; of pairs alike in that one is always first."""
    one, other = map(set, pair)
    return len(one ^ other), len(one | other), repr(pair)


def _ordered(facts: set[Ground]) -> tuple[Ground, ...]:
    return tuple(sorted(facts, key=repr))
