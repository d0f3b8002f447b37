"""Knowledge and its variants."""

from __future__ import annotations

import pytest
from abluent.engine.errors import EngineError
from abluent.engine.proof.knowledge import Knowledge, rests_on
from toys import BIRD_FACTS, BIRDS, FAMILY, FAMILY_FACTS, REACH, fact, known


def test_the_knowledge_of_a_model_is_what_it_was_made_from() -> None:
    """Every assertion is found again, and nothing that was only inferred."""
    knowledge = known(FAMILY, FAMILY_FACTS)
    again = Knowledge.of(knowledge.model)
    assert set(again.facts) == set(FAMILY_FACTS)
    assert again.model is knowledge.model
    assert again.all_rows("ancestor") == knowledge.all_rows("ancestor")


def test_removing_a_fact_removes_every_assertion_of_it() -> None:
    """Whoever says it, it is supposed not to be so."""
    facts = [fact("edge", "a", "b", by="map"), fact("edge", "a", "b", by="walk")]
    knowledge = known(REACH, facts)
    assert not knowledge.but(removed=[("edge", ("a", "b"))]).holds(
        ("path", (None, "b"))
    )
    assert knowledge.holds(("path", (None, "b")))


def test_withdrawing_a_source_keeps_what_another_says_too() -> None:
    """Facts and rules go when all their sources are withdrawn."""
    knowledge = known(BIRDS, BIRD_FACTS)
    without = knowledge.without_sources({"polar-survey"})
    assert without.holds(("flies", ("tux",)))
    assert len(without.program.rules) == len(knowledge.program.rules) - 1
    assert rests_on(("a", "b"), {"a", "b"})
    assert not rests_on(("a", "b"), {"a"})
    assert not rests_on((), {"a"})


def test_rules_that_deny_themselves_together_are_refused() -> None:
    """A mixture of two versions may make no sense, and is not evaluated."""
    rules = """
"a"
  because the x base
      and nothing shows the x b
  so      the x c
  rule    a, standing law

"b"
  because the x base
      and nothing shows the x c
  so      the x b
  rule    b, standing law
"""
    first, second = map(known, rules.split("\n\n"))
    both = (*first.program.rules, *second.program.rules)
    with pytest.raises(EngineError, match="its own outcome"):
        first.with_rules(both)


def test_the_relaxed_knowledge_has_what_any_removal_could_bring() -> None:
    """No exception stops a rule there."""
    knowledge = known(BIRDS, BIRD_FACTS)
    assert not knowledge.holds(("flies", ("tux",)))
    assert knowledge.relaxed.holds(("flies", ("tux",)))
    rule = knowledge.relaxed.program.concluding("flies")[0]
    assert knowledge.unrelaxed(rule) == knowledge.program.concluding("flies")[0]


def test_the_proof_of_a_pattern_is_of_a_fact_or_of_its_absence() -> None:
    """A pattern that some fact meets is proven by the first of them."""
    knowledge = known(FAMILY, FAMILY_FACTS)
    assert knowledge.proof(("ancestor", ("ann", None))).rules
    assert knowledge.proof(("ancestor", ("dot", None))).absences
