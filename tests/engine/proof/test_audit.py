"""What in a base does no work, and what hangs on one source."""

from __future__ import annotations

from abluent.engine.proof.audit import Fragile, audit
from toys import BIRD_FACTS, BIRDS, REACH, fact, known


def test_rules_without_an_instance_are_unused() -> None:
    """Nothing carries a rocket here."""
    found = audit(known(BIRDS, BIRD_FACTS), ["flies"])
    assert [rule.id for rule in found.unused_rules] == ["rocket-packs"]


def test_facts_that_support_and_stop_nothing_are_idle() -> None:
    """Tom's weight counts for nothing; that tux is a penguin stops a rule."""
    found = audit(known(BIRDS, BIRD_FACTS), ["flies"])
    idle = {(each.predicate, each.args) for each in found.idle_facts}
    assert ("weight", ("tom", 4)) in idle
    assert ("kind", ("tom", "cat")) in idle
    assert ("kind", ("tux", "penguin")) not in idle
    assert ("kind", ("ike", "sparrow")) not in idle


def test_answers_that_one_source_holds_up_are_fragile() -> None:
    """One path has a detour by another source, one has not."""
    facts = [
        fact("edge", "a", "b", by="map"),
        fact("edge", "a", "b", by="walk"),
        fact("edge", "b", "c", by="map"),
    ]
    steps: list[tuple[int, int]] = []
    found = audit(
        known(REACH, facts), ["path"], progress=lambda *each: steps.append(each)
    )
    assert found.fragile == (
        Fragile(("path", ("a", "c")), "map"),
        Fragile(("path", ("b", "c")), "map"),
    )
    assert steps == [(0, 2), (1, 2)]


def test_spared_sources_are_not_tried() -> None:
    """Conventions are not counted as what an answer hangs on."""
    found = audit(known(REACH, fact("edge", "a", "b", by="map")), ["path"], {"map"})
    assert found.fragile == ()
