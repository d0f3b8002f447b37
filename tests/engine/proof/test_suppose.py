"""Suppositions answered as differences, with the steps in which they part."""

from __future__ import annotations

from abluent.engine.proof.nodes import AbsenceNode, CollectionNode, FactNode
from abluent.engine.proof.suppose import suppose
from toys import BIRD_FACTS, BIRDS, FAMILY, FAMILY_FACTS, REACH, fact, known, used


def test_adding_a_fact_gains_what_follows_from_it() -> None:
    """One new edge links two parts; each new path is given with its proof."""
    knowledge = known(REACH, fact("edge", "a", "b"), fact("edge", "c", "d"))
    found = suppose(knowledge, added=[fact("edge", "b", "c")])
    gained = {each.goal[1] for each in found.gained}
    assert gained == {("a", "c"), ("a", "d"), ("b", "c"), ("b", "d")}
    assert not found.lost
    far = next(each for each in found.gained if each.goal[1] == ("a", "d"))
    assert ("edge", ("b", "c")) in used(far.proof)
    (turn,) = far.turns
    assert isinstance(turn.node, FactNode)
    assert turn.node.fact.args == ("b", "c")


def test_adding_a_fact_can_lose_an_answer() -> None:
    """A child ends childlessness; the lost proof shows which absence fails."""
    knowledge = known(FAMILY, FAMILY_FACTS)
    found = suppose(knowledge, [fact("parent", "dot", "eli")], (), ["childless"])
    assert not found.gained
    (lost,) = found.lost
    (turn,) = lost.turns
    assert lost.goal == ("childless", ("dot",))
    assert isinstance(turn.node, AbsenceNode)
    assert turn.against is not None
    assert used(turn.against) == {("parent", ("dot", "eli"))}


def test_replacing_a_fact_is_removing_and_adding() -> None:
    """Tux as a sparrow: it flies, and every step of the change is named."""
    found = suppose(
        known(BIRDS, BIRD_FACTS),
        added=[fact("kind", "tux", "sparrow")],
        removed=[("kind", ("tux", "penguin"))],
        predicates=["flies"],
    )
    (gain,) = found.gained
    assert gain.goal == ("flies", ("tux",))
    assert {type(turn.node) for turn in gain.turns} == {FactNode, AbsenceNode}
    stopped = next(t.against for t in gain.turns if t.against is not None)
    assert used(stopped) == {("kind", ("tux", "penguin"))}


def test_a_collection_that_would_differ_is_a_turn() -> None:
    """A count that changes is where the answers part."""
    rules = """
"{s} sells {n}"
  because the s shop
      and the n comes to count of (the i where the s sells the i)
      and the n is at least 2
  so      the s many
  rule    many, standing law
"""
    knowledge = known(rules, fact("shop", "s"), fact("sells", "s", "tea"))
    found = suppose(knowledge, added=[fact("sells", "s", "jam")])
    (gain,) = found.gained
    assert {type(turn.node) for turn in gain.turns} == {FactNode, CollectionNode}


def test_a_supposition_that_changes_nothing_is_empty() -> None:
    """What is already so makes no difference."""
    assert not suppose(known(FAMILY, FAMILY_FACTS), FAMILY_FACTS[:1])
