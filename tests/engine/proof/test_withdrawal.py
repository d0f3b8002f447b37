"""The fewest sources whose withdrawal turns an answer round."""

from __future__ import annotations

from itertools import combinations

import pytest
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.slices import Pattern
from abluent.engine.proof.withdrawal import fewest_sources
from hypothesis import given, settings
from hypothesis import strategies as st
from toys import BIRD_FACTS, BIRDS, REACH, fact, known


def test_one_source_behind_every_way_is_enough() -> None:
    """Both roads to d use an edge of the atlas."""
    facts = [
        fact("edge", "a", "b", by="atlas"),
        fact("edge", "b", "d", by="map"),
        fact("edge", "a", "c", by="walk"),
        fact("edge", "c", "d", by="atlas"),
    ]
    found = fewest_sources(known(REACH, facts), ("path", ("a", "d")))
    assert (found.held, found.sets, found.exact) == (True, (("atlas",),), True)


def test_a_fact_with_two_sources_outlives_one_of_them() -> None:
    """Only both together take it away."""
    facts = [fact("edge", "a", "b", by=("atlas", "map"))]
    found = fewest_sources(known(REACH, facts), ("path", ("a", "b")))
    assert found.sets == (("atlas", "map"),)


def test_two_assertions_of_one_fact_count_apart() -> None:
    """The same edge from two files needs both files to go."""
    facts = [fact("edge", "a", "b", by="atlas"), fact("edge", "a", "b", by="map")]
    found = fewest_sources(known(REACH, facts), ("path", ("a", "b")))
    assert found.sets == (("atlas", "map"),)


def test_withdrawal_can_make_an_answer_appear() -> None:
    """A penguin flies as soon as the survey about penguins is withdrawn."""
    found = fewest_sources(known(BIRDS, BIRD_FACTS), ("flies", ("tux",)))
    assert not found.held
    assert found.sets == (("polar-survey",),)


def test_withdrawing_an_exception_to_an_exception_takes_an_answer_away() -> None:
    """The rocket's rumour keeps the penguin flying, through two negations."""
    rocket = [
        fact("carries", "tux", "r1", by="photo"),
        fact("rocket", "r1", by="photo"),
    ]
    found = fewest_sources(known(BIRDS, BIRD_FACTS, rocket), ("flies", ("tux",)))
    assert found.held
    singles = {each for (each,) in found.sets}
    assert {"rumour", "photo", "field-guide", "scales", "atlas", "zoo"} == singles


def test_sources_that_are_spared_are_never_withdrawn() -> None:
    """Conventions are not findings; withdrawing them says nothing."""
    found = fewest_sources(
        known(BIRDS, BIRD_FACTS), ("flies", ("ike",)), spared={"field-guide", "zoo"}
    )
    assert found.sets == (("atlas",), ("scales",))


def test_what_no_source_says_cannot_be_withdrawn() -> None:
    """An answer from facts without sources stands whatever is withdrawn."""
    facts = [fact("edge", "a", "b", by=())]
    found = fewest_sources(known(REACH, facts), ("path", ("a", "b")))
    assert (found.sets, found.exact) == ((), True)


def test_when_trials_are_used_up_it_says_so() -> None:
    """A result that may not be the smallest is not called exact."""
    facts = [fact("edge", f"n{n}", "end", by=f"s{n}") for n in range(6)]
    facts += [fact("edge", "start", f"n{n}", by=f"t{n}") for n in range(6)]
    found = fewest_sources(known(REACH, facts), ("path", ("start", "end")), trials=30)
    assert not found.exact


SOURCES = "pqrs"
RULES = """
"a"
  because the x base
      and nothing shows the x stop
  so      the x mid
  rule    a, standing law

"b"
  because the x block
      and nothing shows the x lift
  so      the x stop
  rule    b, standing law

"c"
  because the x mid
      and nothing shows the x veto
  so      the x goal
  rule    c, standing law

"d"
  because the x spare
  so      the x goal
  rule    d, standing law

"e"
  because the x mid
      and the x odd
  so      the x veto
  rule    e, standing law
"""
FACTS = st.lists(
    st.tuples(
        st.sampled_from(["base", "block", "lift", "spare", "odd"]),
        st.frozensets(st.sampled_from(SOURCES), max_size=2),
    ),
    max_size=6,
)


@pytest.mark.slow
@settings(max_examples=120, deadline=None)
@given(FACTS)
def test_the_smallest_sets_are_those_found_by_trying_all(
    facts: list[tuple[str, frozenset[str]]],
) -> None:
    """Through three negations the search agrees with brute force."""
    knowledge = known(
        RULES, [fact(name, "x", by=tuple(sorted(by))) for name, by in facts]
    )
    goal: Pattern = ("goal", ("x",))
    found = fewest_sources(knowledge, goal)
    assert found.exact
    assert list(found.sets) == _by_trying(knowledge, goal)


def _by_trying(knowledge: Knowledge, goal: Pattern) -> list[tuple[str, ...]]:
    held = knowledge.holds(goal)
    for size in range(1, len(SOURCES) + 1):
        turned = [
            names
            for names in combinations(SOURCES, size)
            if knowledge.without_sources(names).holds(goal) != held
        ]
        if turned:
            return turned
    return []
