"""The best proof of a fact, its shape and its standing."""

from __future__ import annotations

import sys
from fractions import Fraction

import pytest
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.terms import interval
from abluent.engine.proof.nodes import (
    AbsenceNode,
    CollectionNode,
    ComparisonNode,
    ComputationNode,
    FactNode,
    RuleNode,
)
from abluent.engine.proof.proofs import NotProven, Proof, prove
from toys import (
    BIRD_FACTS,
    BIRDS,
    FAMILY,
    FAMILY_FACTS,
    REACH,
    SAME,
    fact,
    known,
    used,
)


def test_a_chain_stands_as_its_weakest_step_and_names_it() -> None:
    """One letter in a chain of surveys: the chain stands as the letter does."""
    proof = prove(known(FAMILY, FAMILY_FACTS).model, "ancestor", ("ann", "dot"))
    assert proof.standing == "handbook"
    (weakest,) = proof.weakest
    assert isinstance(weakest, FactNode)
    assert weakest.fact.args == ("cy", "dot")
    assert proof.sources == ("survey", "letters")
    assert [rule.id for rule in proof.rules] == ["parents-are", "further-back"]


def test_the_highest_standing_comes_before_the_fewest_steps() -> None:
    """Three measured edges are shown before one that is mere practice."""
    edges = [fact("edge", n, n + 1) for n in range(3)]
    short = fact("edge", 0, 3, standing="practice")
    knowledge = known(REACH, edges, short)
    assert prove(knowledge.model, "path", (0, 3)).standing == "measured"
    assert len(prove(knowledge.model, "path", (0, 3)).facts) == 3


def test_of_two_chains_that_stand_alike_the_shorter_is_shown() -> None:
    """A direct edge beats a detour of the same standing, whichever comes first."""
    edges = [fact("edge", "a", "b"), fact("edge", "b", "c"), fact("edge", "a", "c")]
    for order in (edges, edges[::-1]):
        proof = prove(known(REACH, order).model, "path", ("a", "c"))
        assert used(proof) == {("edge", ("a", "c"))}


def test_a_short_chain_is_found_though_a_long_one_is_derived_first() -> None:
    """Rules of a lower stratum finish first; the shown proof does not care."""
    rules = """
"one"
  because the x base
  so      the x one
  rule    slow-1, standing law

"two"
  because the x one
  so      the x two
  rule    slow-2, standing law

"slow"
  because the x two
  so      the x goal
  rule    slow-3, standing law

"quick"
  because the x base
      and nothing shows the x blocked
  so      the x goal
  rule    quick, standing law

"blocked"
  because the x never
  so      the x blocked
  rule    blocks, standing law
"""
    proof = prove(known(rules, fact("base", "x")).model, "goal", ("x",))
    assert [rule.id for rule in proof.rules] == ["quick"]


def test_from_memory_ranks_just_below_the_same_standing() -> None:
    """A value re-read in its source is preferred; one from memory beats the next."""
    read = fact("edge", "a", "b", by="read")
    memory = fact("edge", "a", "b", by="recalled", memory=True)
    lower = fact("edge", "a", "b", by="book", standing="handbook")
    assert prove(known(REACH, memory, read).model, "path", ("a", "b")).sources == (
        "read",
    )
    proof = prove(known(REACH, lower, memory).model, "path", ("a", "b"))
    assert (proof.sources, proof.standing, proof.from_memory) == (
        ("recalled",),
        "measured",
        True,
    )


def test_of_equal_proofs_the_one_listed_first_is_shown() -> None:
    """Two lines of a label do the same; the one that stands higher is told."""
    rules = """
"{x} is good"
  because the p line the n, the x
      and the x good
  so      the p fine
  rule    any, standing law
"""
    lines = [fact("line", "p", 9, "a"), fact("line", "p", 2, "b")]
    good = [fact("good", "a"), fact("good", "b")]
    proof = prove(known(rules, lines, good).model, "fine", ("p",))
    assert ("line", ("p", 2, "b")) in used(proof)


def test_ties_go_to_the_first_hash_whatever_the_order_of_facts() -> None:
    """Four equally good proofs: the same one is shown for every order of the facts."""
    edges = [fact("edge", "a", m) for m in "wxyz"] + [
        fact("edge", m, "b") for m in "wxyz"
    ]
    shown = {
        prove(known(REACH, order).model, "path", ("a", "b")).root.key
        for order in (edges, edges[::-1], edges[3:] + edges[:3])
    }
    assert len(shown) == 1


@pytest.mark.parametrize("goal", [("same", ("a", "a")), ("called", ("d", "Dee"))])
def test_symmetric_and_transitive_rules_never_support_themselves(
    goal: tuple[str, tuple[str, ...]],
) -> None:
    """On a circle of sameness every proof is a finite graph without circles."""
    circle = [fact("same", a, b) for a, b in ("ab", "bc", "cd", "da")]
    knowledge = known(SAME, circle, fact("name", "a", "Dee"))
    proof = knowledge.prover.prove(*goal)
    assert_well_founded(proof)


def assert_well_founded(proof: Proof) -> None:
    """Every premise comes before what rests on it, so nothing rests on itself."""
    seen: set[str] = set()
    for key, node in proof.nodes.items():
        assert set(node.premises) <= seen
        seen.add(key)
    assert key == proof.root.key


@pytest.mark.slow
def test_a_chain_of_ten_thousand_steps_is_proven_without_recursion() -> None:
    """Depth is no limit: nothing in finding or walking a proof recurses."""
    steps = 10_000
    rules = (
        '"{m}"\n'
        "  because the n at\n"
        "      and the n next the m\n"
        "  so      the m at\n"
        "  rule    on, standing law\n"
    )
    facts = [fact("next", n, n + 1) for n in range(steps)]
    knowledge = known(rules, fact("at", 0), facts)
    assert sys.getrecursionlimit() < steps
    proof = knowledge.prover.prove("at", (steps,))
    assert len(proof.nodes) == 2 * steps + 1
    assert proof.standing == "measured"


def test_shared_steps_are_one_node() -> None:
    """A lemma that is used twice appears once."""
    rules = """
"lemma"
  because the x base
  so      the x lemma
  rule    lemma, standing law

"left"
  because the x lemma
  so      the x left
  rule    left, standing law

"right"
  because the x lemma
  so      the x right
  rule    right, standing law

"both"
  because the x left
      and the x right
  so      the x both
  rule    both, standing law
"""
    proof = prove(known(rules, fact("base", "x")).model, "both", ("x",))
    assert len(proof.nodes) == 5


def test_an_absence_is_a_node_with_its_pattern() -> None:
    """Having no children is shown as the absence of any child."""
    proof = prove(known(FAMILY, FAMILY_FACTS).model, "childless", ("dot",))
    (absence,) = proof.absences
    assert (absence.predicate, absence.pattern) == ("parent", ("dot", None))
    assert absence.form == "not"
    assert proof.standing == "practice"


def test_exceptions_that_were_considered_are_shown() -> None:
    """A sparrow flies; that it is no penguin is part of why."""
    proof = prove(known(BIRDS, BIRD_FACTS).model, "flies", ("ike",))
    (absence,) = proof.absences
    assert (absence.predicate, absence.pattern) == ("exception penguins", ("ike",))
    assert absence.form == "exception"


def test_an_exception_to_an_exception_restores_the_rule() -> None:
    """A penguin with a rocket flies, and the proof shows that the exception fails."""
    rocket = [fact("carries", "tux", "r1"), fact("rocket", "r1")]
    knowledge = known(BIRDS, BIRD_FACTS, rocket)
    assert not known(BIRDS, BIRD_FACTS).model.holds("flies", ("tux",))
    proof = knowledge.prover.prove("flies", ("tux",))
    assert [each.predicate for each in proof.absences] == ["exception penguins"]
    stopped = knowledge.prover.prove("exception rocket-packs", ("tux",))
    assert used(stopped) == {("carries", ("tux", "r1")), ("rocket", ("r1",))}


def test_two_comparisons_in_one_rule_keep_their_own_values() -> None:
    """Soufflé printed `1 < 1` for years (souffle-lang/souffle#2466)."""
    rules = """
"{l} < {v} <= {h}"
  because the x value the v
      and the l low
      and the h high
      and the l is below the v
      and the v is at most the h
  so      the x between
  rule    between, standing law
"""
    facts = [fact("value", "x", 3), fact("low", 1), fact("high", 7)]
    proof = prove(known(rules, facts).model, "between", ("x",))
    shown = [
        (n.left, n.operator, n.right)
        for n in proof.nodes.values()
        if isinstance(n, ComparisonNode)
    ]
    assert shown == [(1, "<", 3), (3, "<=", 7)]


def test_arithmetic_and_intervals_are_nodes_with_operands_and_result() -> None:
    """A sum of an interval and a fraction is shown with what went in."""
    rules = """
"{t}"
  because the a part the x
      and the a other the y
      and the t comes to the x + the y * 2
      and perhaps the t is at least 3
  so      the a total the t
  rule    total, standing law
"""
    facts = [fact("part", "p", interval(1, 2)), fact("other", "p", Fraction(1, 2))]
    total = interval(2, 3)
    proof = prove(known(rules, facts).model, "total", ("p", total))
    (computed,) = [n for n in proof.nodes.values() if isinstance(n, ComputationNode)]
    (compared,) = [n for n in proof.nodes.values() if isinstance(n, ComparisonNode)]
    assert str(computed.expression) == "([1, 2] + (1/2 * 2))"
    assert computed.value == total
    assert (compared.left, compared.perhaps) == (total, True)


def test_a_collection_shows_every_member_by_its_best_proof() -> None:
    """A count over reachable places lists each place, reached the best way."""
    rules = (
        REACH
        + """
"{a} reaches {n} places"
  because the a place
      and the n comes to count of (the b where the a path the b)
      and the n is at least 3
  so      the a hub
  rule    hub, standing law
"""
    )
    edges = [fact("edge", a, b) for a, b in ("ab", "bc", "cd", "ad")]
    proof = prove(known(rules, edges, fact("place", "a")).model, "hub", ("a",))
    (node,) = [n for n in proof.nodes.values() if isinstance(n, CollectionNode)]
    assert node.value == 3
    assert [member.terms for member in node.members] == [("b",), ("c",), ("d",)]
    last = proof.nodes[node.members[-1].premises[0]]
    assert isinstance(last, RuleNode)
    assert last.rule.id == "edge"


def test_a_fact_both_asserted_and_derived_is_shown_as_it_stands_best() -> None:
    """The assertion is shown where it stands higher than the derivation."""
    weak = [fact("edge", "a", "b", standing="practice")]
    strong = Fact("path", ("a", "b"), Basis("law", ("statute",), False, "code"))
    proof = prove(known(REACH, weak, strong).model, "path", ("a", "b"))
    assert isinstance(proof.root, FactNode)
    assert proof.standing == "law"


def test_what_does_not_hold_has_no_proof_but_its_absence_has() -> None:
    """No explanation is an error, never an empty page."""
    prover = known(FAMILY, FAMILY_FACTS).prover
    with pytest.raises(NotProven, match="dot ancestor ann"):
        prover.prove("ancestor", ("dot", "ann"))
    proof = prover.prove_absence("ancestor", ("dot", None))
    assert isinstance(proof.root, AbsenceNode)
    assert proof.standing == ""
    with pytest.raises(NotProven, match="ancestor"):
        prover.prove_absence("ancestor", ("ann", None))


def test_a_predicate_that_was_never_met_is_absent() -> None:
    """Asking about something no file mentions is answered, not a crash."""
    prover = known(FAMILY, FAMILY_FACTS).prover
    with pytest.raises(NotProven):
        prover.prove("sings", ("ann",))
    assert prover.prove_absence("sings", ("ann",)).nodes


def test_facts_without_a_standing_weaken_nothing() -> None:
    """A line on a label is what it is; the chain stands as its other steps do."""
    line = Fact("edge", ("a", "b"), Basis("", (), False, "label x 0-3"))
    proof = prove(known(REACH, line).model, "path", ("a", "b"))
    assert proof.standing == "law"


KINDS = """
"{a} is a {word}"
  because the a called the word
  so      the a kind the word
  rule    kept-in-words, standing none, source words

"{a} has wings"
  because the a kind bird
  so      the a winged
  rule    of-a-kind, standing measured, source survey
"""


@pytest.mark.parametrize("standing", ["law", "handbook", "practice"])
def test_a_rule_without_standing_lends_none(standing: str) -> None:
    """What follows by a definition stands as its premise does, high or low."""
    said = fact("called", "tweety", "bird", standing=standing)
    model = known(KINDS, said).model
    assert prove(model, "kind", ("tweety", "bird")).standing == standing
    lower = "measured" if standing == "law" else standing
    assert prove(model, "winged", ("tweety",)).standing == lower


def test_definitions_alone_have_no_standing() -> None:
    """A chain of nothing but definitions stands as nothing, not as law."""
    said = fact("called", "tweety", "bird", standing="")
    proof = prove(known(KINDS, said).model, "kind", ("tweety", "bird"))
    assert proof.standing == ""
    assert proof.weakest == ()
