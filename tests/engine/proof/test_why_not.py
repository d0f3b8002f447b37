"""Why something does not follow, and what would mend it."""

from __future__ import annotations

import pytest
from abluent.engine.proof.obstacles import Failing, Lacking, Repair, Standing, Unruled
from abluent.engine.proof.why_not import Holds, why_not
from toys import BIRD_FACTS, BIRDS, FAMILY, FAMILY_FACTS, REACH, fact, known


def kinds(repair: Repair) -> list[type]:
    return [type(each) for each in repair.obstacles]


def test_a_fact_that_nobody_asserts_is_lacking_and_unknown() -> None:
    """One edge is missing, and adding it was seen to help."""
    knowledge = known(REACH, fact("edge", "a", "b"), fact("edge", "c", "d"))
    found = why_not(knowledge, ("path", ("a", "d")))
    first = found.repairs[0]
    assert kinds(first) == [Lacking]
    assert first.verified
    assert not first.removed
    adding = {each.added for each in found.repairs if len(each.added) == 1}
    assert {(("edge", ("a", "d")),), (("edge", ("b", "d")),)} <= adding
    assert {(("edge", ("a", "c")),), (("edge", ("b", "c")),)} <= adding


def test_a_fact_that_is_said_otherwise_is_contradicted() -> None:
    """Tom is a cat; to be a bird he would have to be something else instead."""
    found = why_not(known(BIRDS, BIRD_FACTS), ("flies", ("tom",)))
    other = next(r for r in found.repairs if r.removed)
    (lacking,) = other.obstacles
    assert isinstance(lacking, Lacking)
    assert lacking.contradicted
    assert [each.args for each in lacking.instead] == [("tom", "cat")]
    assert other.removed == (("kind", ("tom", "cat")),)
    assert other.verified
    unknown = next(r for r in found.repairs if r.added == (("birdKind", ("cat",)),))
    assert not any(isinstance(o, Lacking) and o.contradicted for o in unknown.obstacles)


def test_an_exception_that_applies_stands_in_the_way() -> None:
    """A penguin does not fly: either it is none, or an exception to that is met."""
    found = why_not(known(BIRDS, BIRD_FACTS), ("flies", ("tux",)))
    standing = found.repairs[0].obstacles[0]
    assert isinstance(standing, Standing)
    assert standing.form == "exception"
    assert standing.rows == (("exception penguins", ("tux",)),)
    assert standing.removals == (("kind", ("tux", "penguin")),)
    assert found.repairs[0].added == (("kind", ("tux", "sparrow")),)
    assert found.repairs[0].verified
    rocket = next(r for r in found.repairs if r.rules == ("flies", "rocket-packs"))
    assert rocket.added == (("carries", ("tux", None)), ("rocket", (None,)))
    assert rocket.verified is None


def test_a_comparison_that_fails_shows_its_values() -> None:
    """An eagle of 25 kg is too heavy; nothing that could be added changes that."""
    eagle = [fact("kind", "eve", "sparrow"), fact("weight", "eve", 25)]
    found = why_not(known(BIRDS, BIRD_FACTS, eagle), ("flies", ("eve",)), most=20)
    failing = [o for r in found.repairs for o in r.obstacles if isinstance(o, Failing)]
    assert (failing[0].left, failing[0].right) == (25, 20)
    assert failing[0].condition.operator == "<"


def test_an_open_value_comes_with_what_it_must_meet() -> None:
    """A sparrow of unknown weight flies provided that it is light enough."""
    moth = fact("kind", "may", "sparrow")
    found = why_not(known(BIRDS, BIRD_FACTS, moth), ("flies", ("may",)))
    (repair,) = found.repairs
    assert repair.added == (("weight", ("may", None)),)
    (provided,) = repair.provided
    assert (provided.operator, provided.right) == ("<", 20)
    assert repair.verified is None


def test_what_no_rule_concludes_is_told_apart() -> None:
    """Nothing in this base is about singing."""
    found = why_not(known(BIRDS, BIRD_FACTS), ("sings", ("ike",)))
    (repair,) = found.repairs
    assert kinds(repair) == [Unruled]
    assert found.complete


def test_a_repair_that_sets_off_an_exception_is_not_given() -> None:
    """Every repair that is called verified makes the goal hold when it is made."""
    rules = """
    rule win if entered(?a), fast(?a) unless caught(?a) then wins(?a)
      says "{?a} wins" standing law
    end
    rule dope if fast(?a), slow(?a) then caught(?a)
      says "{?a} is caught" standing law
    end
    """
    knowledge = known(rules, fact("entered", "a"), fact("slow", "a"))
    found = why_not(knowledge, ("wins", ("a",)))
    assert all(each.verified is not False for each in found.repairs)
    assert not any(
        r.added == (("fast", ("a",)),) and not r.removed for r in found.repairs
    )


def test_only_what_may_be_assumed_is_assumed() -> None:
    """The caller can keep general knowledge fixed and vary the case in hand."""
    found = why_not(known(BIRDS, BIRD_FACTS), ("flies", ("tom",)), assume={"birdKind"})
    assert {name for r in found.repairs for name, _ in r.added} == {"birdKind"}


def test_negation_asks_for_a_removal() -> None:
    """Ann is not childless because she has a child."""
    found = why_not(known(FAMILY, FAMILY_FACTS), ("childless", ("ann",)))
    first = found.repairs[0]
    assert first.removed == (("parent", ("ann", "bea")),)
    assert first.verified


def test_only_what_may_be_assumed_is_removed() -> None:
    """What stands in the way is removed where the caller allows it, or named."""
    rules = """
    rule off if tin(?t), worn(?t, ?n) unless lacquered(?t) then dull(?t)
      says "{?t} is dull" standing law
    end
    rule coat if paint(?p), on(?t, ?p) then lacquered(?t) says "coated" standing law end
    """
    facts = [
        fact("tin", "pan"),
        fact("worn", "pan", 3),
        fact("paint", "red"),
        fact("on", "pan", "red"),
    ]
    goal = ("dull", ("pan",))
    every = why_not(known(rules, facts), goal)
    assert {r.removed for r in every.repairs} == {
        (("paint", ("red",)),),
        (("on", ("pan", "red")),),
    }
    (one,) = why_not(known(rules, facts), goal, assume={"on"}).repairs
    assert one.removed == (("on", ("pan", "red")),)
    (none,) = why_not(known(rules, facts), goal, assume={"worn"}).repairs
    assert kinds(none) == [Standing]
    assert isinstance(none.obstacles[0], Standing)
    assert none.obstacles[0].immovable
    assert none.verified is None


def test_asking_why_not_of_what_holds_is_an_error() -> None:
    """The question rests on something untrue, and that is said."""
    with pytest.raises(Holds, match="flies"):
        why_not(known(BIRDS, BIRD_FACTS), ("flies", ("ike",)))


def test_a_search_that_is_cut_short_says_so() -> None:
    """With many ways to go, a few are given and the result is not complete."""
    facts = [fact("edge", f"n{a}", f"n{b}") for a in range(5) for b in range(5)]
    found = why_not(known(REACH, facts), ("path", ("n0", "m")), most=3)
    assert len(found.repairs) == 3
    assert not found.complete
