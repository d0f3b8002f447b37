"""Where the chains to two conclusions part."""

from __future__ import annotations

import pytest
from abluent.engine.proof.crux import crux
from abluent.engine.proof.proofs import NotProven
from toys import Knowledge, fact, known

RULES = """
"{w} says so"
  because the w says the t, the v
      and the w honest
  so      the t value the v
  rule    trust, standing law
"""


def court(*extra: tuple[str, ...]) -> Knowledge:
    facts = [
        fact("says", "ann", "car", "red"),
        fact("says", "bob", "car", "blue"),
        fact("honest", "ann"),
        fact("honest", "bob"),
    ]
    return known(RULES, facts, [fact(*each) for each in extra])


RED, BLUE = ("value", ("car", "red")), ("value", ("car", "blue"))


def test_what_only_one_side_rests_on_is_the_crux() -> None:
    """Two witnesses, two values: they part in who said what."""
    found = crux(court().prover, RED, BLUE)
    assert ("says", ("ann", "car", "red")) in found.first
    assert ("says", ("bob", "car", "blue")) in found.second
    assert not found.shared
    assert found.complete


def test_of_pairs_alike_the_first_in_order_is_taken() -> None:
    """The same in every run, however sets of texts are ordered in it."""
    more = [
        (word, *args)
        for who in "cdefg"
        for word, *args in (("says", who, "car", "red"), ("honest", who))
    ]
    found = crux(court(*more).prover, RED, BLUE)
    assert found.first == (("honest", ("ann",)), ("says", ("ann", "car", "red")))


def test_of_all_pairs_of_supports_the_closest_is_taken() -> None:
    """If one witness said both, the sides differ in two sayings only."""
    found = crux(court(("says", "ann", "car", "blue")).prover, RED, BLUE)
    assert found.first == (("says", ("ann", "car", "red")),)
    assert found.second == (("says", ("ann", "car", "blue")),)
    assert found.shared == (("honest", ("ann",)),)


def test_rules_that_only_one_side_uses_are_named() -> None:
    """Two rules over the same fact: the facts agree, the rules part."""
    rules = """
"high"
  because the a x
  so      the a high
  rule    up, standing law

"low"
  because the a x
  so      the a low
  rule    down, standing law
"""
    found = crux(known(rules, fact("x", "a")).prover, ("high", ("a",)), ("low", ("a",)))
    assert (found.first, found.second) == ((), ())
    assert [rule.id for rule in found.first_rules] == ["up"]
    assert [rule.id for rule in found.second_rules] == ["down"]


def test_both_sides_must_hold() -> None:
    """There is no crux between a conclusion and nothing."""
    with pytest.raises(NotProven):
        crux(court().prover, RED, ("value", ("car", "green")))
