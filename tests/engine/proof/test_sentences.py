"""Proofs as numbered sentences."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from abluent.engine.logic.terms import Term, interval
from abluent.engine.proof.sentences import Sentences, plain
from toys import BIRD_FACTS, BIRDS, FAMILY, FAMILY_FACTS, fact, known


def spoken(term: Term, how: str) -> str:
    """A naming that shows what it was asked for."""
    return f"<{plain(term)}{':' + how if how else ''}>"


def test_reasons_are_numbered_with_premises_first() -> None:
    """Each step once, after what it rests on, in the words of the rule files."""
    knowledge = known(FAMILY, FAMILY_FACTS)
    proof = knowledge.prover.prove("ancestor", ("bea", "dot"))
    reasons = Sentences(knowledge.program).reasons(proof)
    assert [(each.number, each.text, each.premises) for each in reasons] == [
        (1, "bea is a parent of cy", ()),
        (2, "cy is a parent of dot", ()),
        (3, "cy is a parent of dot", (2,)),
        (4, "bea is a parent of cy, an ancestor of dot", (1, 3)),
    ]


def test_an_absence_is_worded_as_its_predicate_declares() -> None:
    """Absence is no evidence, never falsity; an open place is anything."""
    knowledge = known(FAMILY, FAMILY_FACTS)
    sentences = Sentences(knowledge.program, spoken)
    assert sentences.absence("parent", ("dot", None)) == (
        "<dot> is not known to be a parent of anything"
    )


@pytest.mark.parametrize(
    ("predicate", "pattern", "text"),
    [
        ("bird", ("tom",), "no evidence in this base that bird holds of <tom>"),
        (
            "weight",
            ("tom", None),
            "no evidence in this base that weight holds of <tom> and anything",
        ),
        (
            "exception penguins",
            ("ike",),
            "no evidence in this base that <ike> is a penguin",
        ),
        (
            "exception rocket-packs",
            ("ike",),
            "no evidence in this base that <ike> carries the rocket anything",
        ),
    ],
)
def test_what_has_no_template_still_reads_as_a_sentence(
    predicate: str, pattern: tuple[str | None, ...], text: str
) -> None:
    """An undeclared predicate and an exception are put into words too."""
    sentences = Sentences(known(BIRDS, BIRD_FACTS).program, spoken)
    assert sentences.absence(predicate, pattern) == text


def test_an_unless_group_reads_as_its_conditions() -> None:
    """A group of several conditions has no sentence of its own in the file."""
    rules = """
"{1} is wet"
  or else "{1} is not wet"
  written the thing wet

"{a} burns"
  because the a wood
      and the a age the n
  unless  the a wet
      and the n is below 2
  so      the a burns
  rule    burns, standing law
"""
    knowledge = known(rules, fact("wood", "oak"), fact("age", "oak", 1))
    proof = knowledge.prover.prove("burns", ("oak",))
    texts = [each.text for each in Sentences(knowledge.program).reasons(proof)]
    absent = next(text for text in texts if text.startswith("no evidence"))
    assert "oak is wet" in absent
    assert "1 is below 2" in absent


def test_how_a_template_wants_a_term_reaches_the_naming() -> None:
    """`{1:a}` and `{?x:plural}` ask the naming for a form of the term."""
    rules = """
"{1} is {2:a}"
  or else "{1} is not {2:a}"
  written the thing isa the class

"there are {c:plural}"
  because the x isa the c
  so      the c many
  rule    many, standing law
"""
    knowledge = known(rules, fact("isa", "rex", "dog"))
    sentences = Sentences(knowledge.program, spoken)
    assert sentences.claim("isa", ("rex", "dog")) == "<rex> is <dog:a>"
    proof = knowledge.prover.prove("many", ("dog",))
    assert sentences.node(proof.root) == "there are <dog:plural>"


@pytest.mark.parametrize(
    ("term", "text"),
    [
        ("word", "word"),
        (7, "7"),
        (-3, "-3"),
        (Fraction(1, 2), "0.5"),
        (Fraction(-1, 8), "-0.125"),
        (Fraction(5, 4), "1.25"),
        (Fraction(1, 3), "1/3"),
        (interval(0, 1), "0 to 1"),
        (interval(0, 1, True, False), "above 0 and at most 1"),
        (interval(0, Fraction(1, 2), False, True), "at least 0 and below 0.5"),
        (interval(2, None), "at least 2"),
        (interval(None, 2, True, True), "below 2"),
    ],
)
def test_plain_terms_are_exact(term: Term, text: str) -> None:
    """Numbers are written in full, intervals with both ends."""
    assert plain(term) == text


def test_comparisons_arithmetic_and_collections_have_sentences() -> None:
    """Every construct of a rule is explained, none left out (blawx#415)."""
    rules = """
"{p} owns {n}"
  because the p person
      and the n comes to count of (the c where the p owns the c)
      and the m comes to the n * 2 - 1
      and the m is at least 3
      and perhaps the m is below 9
  so      the p rich
  rule    rich, standing law
"""
    coins = [fact("owns", "ann", coin) for coin in ("a", "b")]
    knowledge = known(rules, fact("person", "ann"), coins)
    proof = knowledge.prover.prove("rich", ("ann",))
    texts = [each.text for each in Sentences(knowledge.program).reasons(proof)]
    assert "count over 2 found = 2" in texts
    assert "((2 * 2) - 1) = 3" in texts
    assert "3 >= 3" in texts
    assert "3 < 9 is possible" in texts
    assert not any(re.search(r"[{}?]", text) for text in texts)
