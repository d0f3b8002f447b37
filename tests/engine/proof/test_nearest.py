"""Which rule comes nearest to a conclusion, and what it lacks."""

from __future__ import annotations

import pytest
from abluent.engine.proof.nearest import nearest
from abluent.engine.proof.obstacles import Failing, Lacking, Standing
from hypothesis import given, settings
from hypothesis import strategies as st
from toys import fact, known

RULES = """
"{who} paid"
  because the who member
      and the who fee the sum
      and the sum is at least 10
  unless  the who banned
  so      the who enters
  rule    paid, standing law

"{who} was invited"
  because the who guest
      and the host host
      and the host knows the who
  so      the who enters
  rule    invited, standing law
"""
ANN = ("enters", ("ann",))


def test_what_lacks_is_named_with_what_is_met() -> None:
    """Of two rules the one that lacks less; the fee is there and enough."""
    base = known(RULES, fact("fee", "ann", 12), fact("host", "bob"))
    (miss,) = nearest(base, ANN)
    assert miss.rule.id == "paid"
    assert miss.failing == (Lacking("member", ("ann",)),)
    assert miss.met == (("fee", ("ann", 12)),)


def test_what_stands_in_the_way_is_named() -> None:
    base = known(
        RULES, fact("member", "ann"), fact("fee", "ann", 12), fact("banned", "ann")
    )
    (miss,) = nearest(base, ANN)
    (stands,) = miss.failing
    assert isinstance(stands, Standing)
    assert stands.rows == (("banned", ("ann",)),)


def test_a_comparison_that_fails_is_named_with_its_values() -> None:
    base = known(RULES, fact("member", "ann"), fact("fee", "ann", 7))
    (miss,) = nearest(base, ANN)
    (fails,) = miss.failing
    assert isinstance(fails, Failing)
    assert (fails.left, fails.right) == (7, 10)


def test_rules_that_lack_as_little_are_all_given() -> None:
    """One fact short either way."""
    base = known(
        RULES, fact("fee", "ann", 12), fact("guest", "ann"), fact("host", "bob")
    )
    assert {miss.rule.id for miss in nearest(base, ANN)} == {"paid", "invited"}


def test_an_open_place_stays_open() -> None:
    base = known(RULES, fact("guest", "ann"))
    misses = nearest(base, ANN)
    lacking = [o for miss in misses for o in miss.failing if isinstance(o, Lacking)]
    assert Lacking("host", (None,)) in lacking


def test_what_no_rule_concludes_has_no_near_miss() -> None:
    assert nearest(known(RULES, fact("guest", "ann")), ("leaves", ("ann",))) == []


@pytest.mark.slow
@given(st.sets(st.sampled_from(["member", "guest", "host", "fee", "knows"])))
@settings(deadline=None)
def test_supplying_what_lacks_makes_it_so(there: set[str]) -> None:
    """Where every lacking fact is whole, adding them is enough."""
    every = {
        "member": fact("member", "ann"),
        "guest": fact("guest", "ann"),
        "host": fact("host", "bob"),
        "fee": fact("fee", "ann", 12),
        "knows": fact("knows", "bob", "ann"),
    }
    base = known(RULES, [every[name] for name in sorted(there)] or fact("x", "y"))
    if base.holds(ANN):
        return
    for miss in nearest(base, ANN):
        lacks = [o for o in miss.failing if isinstance(o, Lacking)]
        if all(None not in lack.pattern for lack in lacks):
            added = [fact(lack.predicate, *lack.pattern) for lack in lacks]  # type: ignore[arg-type]
            assert base.but(added).holds(ANN)
