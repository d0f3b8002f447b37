"""All minimal supports, and the facts that are in each."""

from __future__ import annotations

from itertools import combinations

import pytest
from abluent.engine.logic.facts import Basis
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.nodes import FactNode, Ground
from abluent.engine.proof.proofs import NotProven
from abluent.engine.proof.supports import (
    fewest_works,
    load_bearing,
    supports,
)
from abluent.engine.proof.without import stands_without
from hypothesis import given, settings
from hypothesis import strategies as st
from toys import REACH, SAME, fact, known


def edges(pairs: str) -> list[Ground]:
    return [("edge", tuple(pair)) for pair in pairs.split()]


def roads(pairs: str) -> Knowledge:
    return known(REACH, [fact("edge", *pair) for pair in pairs.split()])


def test_every_way_round_is_a_support_and_the_shortest_is_first() -> None:
    """Three roads lead from a to d; each is found once."""
    found = supports(roads("ab bd ac cd ad").prover, "path", ("a", "d"))
    assert found.complete
    assert str(found) == "all 3"
    assert set(map(frozenset, found.sets)) == {
        frozenset(edges("ad")),
        frozenset(edges("ab bd")),
        frozenset(edges("ac cd")),
    }
    assert found.sets[0] == tuple(edges("ad"))


def test_a_circle_adds_no_support() -> None:
    """Going round before arriving is never minimal."""
    found = supports(roads("ab ba bc").prover, "path", ("a", "c"))
    assert found.sets == (tuple(edges("ab bc")),)


def test_too_many_supports_are_capped_and_it_says_so() -> None:
    """Eight diamonds in a row have 256 ways through; ten are given."""
    pairs = " ".join(f"{a}{m} {m}{b}" for a, b, m in _diamonds(8))
    found = supports(roads(pairs).prover, "path", ("A", "I"), most=10)
    assert not found.complete
    assert len(found.sets) == 10
    assert str(found) == "10 and more"
    assert all(len(each) == 16 for each in found.sets)


def _diamonds(count: int) -> list[tuple[str, str, str]]:
    letters = "ABCDEFGHIJ"
    middles = "abcdefghijklmnopqrstuvwxyz"
    return [
        (letters[n], letters[n + 1], middles[2 * n + side])
        for n in range(count)
        for side in (0, 1)
    ]


def test_load_bearing_facts_are_in_every_support() -> None:
    """All roads cross one bridge."""
    prover = roads("ab ac bd cd de ef").prover
    assert load_bearing(prover, "path", ("a", "f")) == tuple(edges("de ef"))
    assert load_bearing(prover, "path", ("a", "d")) == ()


def test_a_goal_that_needs_no_fact_has_the_empty_support() -> None:
    """What follows from an absence alone rests on no assertion."""
    rules = (
        '"quiet"\n'
        "  because nothing shows anything noise\n"
        "  so      quiet\n"
        "  rule    quiet, standing law\n"
    )
    knowledge = known(rules, fact("other", "x"))
    assert supports(knowledge.prover, "quiet", ()).sets == ((),)


def test_what_does_not_hold_has_no_supports() -> None:
    """Asking is an error, not an empty list."""
    with pytest.raises(NotProven):
        supports(roads("ab").prover, "path", ("b", "a"))


NODES = "abcd"
PAIRS = st.lists(
    st.tuples(st.sampled_from(NODES), st.sampled_from(NODES)), max_size=7, unique=True
)


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(PAIRS)
def test_supports_are_those_found_by_trying_every_set(
    pairs: list[tuple[str, str]],
) -> None:
    """On small symmetric relations the search agrees with brute force."""
    knowledge = known(SAME, [fact("same", *pair) for pair in pairs])
    for goal in sorted(knowledge.all_rows("same"))[:3]:
        found = supports(knowledge.prover, *goal)
        assert found.complete
        assert set(map(frozenset, found.sets)) == _by_trying(pairs, goal)
        every = [set(each) for each in found.sets]
        bearing = load_bearing(knowledge.prover, *goal)
        assert set(bearing) == set.intersection(*every)


@settings(max_examples=30, deadline=None)
@given(PAIRS, st.sets(st.sampled_from(NODES), max_size=2))
def test_what_stands_without_some_facts_is_what_follows_from_the_others(
    pairs: list[tuple[str, str]], spared: set[str]
) -> None:
    """Circles among what is left hold nothing up."""
    prover = known(SAME, [fact("same", *pair) for pair in pairs]).prover
    gone = [pair for pair in pairs if not spared & set(pair)]
    nodes = [prover.prove("same", pair).root for pair in gone]
    facts = [node for node in nodes if isinstance(node, FactNode)]
    left = tuple(pair for pair in pairs if pair not in gone)
    for pair in pairs:
        stands = stands_without(prover, "same", pair, facts)
        assert stands == _linked(left, *pair)


def _by_trying(pairs: list[tuple[str, str]], goal: Ground) -> set[frozenset[Ground]]:
    found: set[frozenset[Ground]] = set()
    for size in range(len(pairs) + 1):
        for chosen in combinations(pairs, size):
            facts = frozenset(("same", pair) for pair in chosen)
            if any(each <= facts for each in found):
                continue
            if _linked(chosen, *goal[1]):
                found.add(facts)
    return found


def _linked(pairs: tuple[tuple[str, str], ...], start: object, end: object) -> bool:
    """Whether `end` is reached from `start` over at least one pair, either way."""
    reached: set[object] = set()
    waiting = [start]
    while waiting:
        here = waiting.pop()
        for a, b in (*pairs, *((b, a) for a, b in pairs)):
            if a == here and b not in reached:
                reached.add(b)
                waiting.append(b)
    return end in reached


def cited(pairs: str) -> Knowledge:
    """Roads, each told by one work: `ab-map` is the road from a to b by the map."""
    told = [pair.split("-") for pair in pairs.split()]
    return known(
        REACH,
        [
            fact("edge", *road)._replace(basis=Basis(sources=(work,)))
            for road, work in told
        ],
    )


def test_without_a_step_a_fact_falls_unless_another_chain_stands() -> None:
    """Of two roads either may go, and not both."""
    prover = roads("ab bd ac cd").prover
    nodes = [prover.prove("edge", tuple(pair)).root for pair in ("ab", "ac")]
    assert stands_without(prover, "path", ("a", "d"), nodes[:1])
    assert not stands_without(prover, "path", ("a", "d"), nodes)


def test_the_fewest_works_are_those_that_all_roads_need() -> None:
    """One, or two together where none alone is on every road."""
    one = cited("ab-map bd-map ac-atlas cd-map").prover
    assert fewest_works(one, "path", ("a", "d")) == (("map",),)
    two = cited("ab-map bd-map ac-atlas cd-atlas").prover
    assert fewest_works(two, "path", ("a", "d")) == (("atlas", "map"),)
    assert fewest_works(two, "path", ("a", "d"), spared={"map"}) == ()
