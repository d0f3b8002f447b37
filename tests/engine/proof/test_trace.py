"""What a trace holds; that it is true is the checker's matter."""

from __future__ import annotations

import json

import pytest
from abluent.engine.checking.reword import sentences
from abluent.engine.proof.origins import LabelOrigin, label_origin
from abluent.engine.proof.proofs import NotProven
from abluent.engine.proof.trace import Setting, Told, TracedGoal, build_trace
from toys import BIRD_FACTS, BIRDS, FAMILY, FAMILY_FACTS, fact, known
from traced import bread, citations, traced

TOLD = Told("typed", "understood")


def test_it_holds_the_rules_and_facts_that_bear_on_the_goals() -> None:
    """Below negations and exceptions as far as there are facts, and nothing else."""
    other = (
        '"sings"\n  because the x tune\n  so the x sings\n  rule sing, standing law\n'
    )
    knowledge = known(BIRDS + other, BIRD_FACTS, fact("tune", "ike"))
    trace = traced(knowledge, ("flies", ("ike",)))
    # Nothing is told of ike that would make him a penguin.
    assert set(trace["program"]["rules"]) == {"flies", "bird-kinds"}
    predicates = {each["atom"][0] for each in trace["facts"]}
    assert predicates == {"kind", "birdKind", "weight"}


def test_it_is_the_same_whatever_the_order_of_the_facts() -> None:
    """Two runs over one base can be compared byte by byte."""
    one = traced(known(FAMILY, FAMILY_FACTS), ("childless", ("dot",)))
    two = traced(known(FAMILY, FAMILY_FACTS[::-1]), ("childless", ("dot",)))
    assert json.dumps(one, sort_keys=True) == json.dumps(two, sort_keys=True)


def test_words_are_written_by_the_naming_of_the_caller() -> None:
    """And every name that was used is kept with how it was wanted."""
    knowledge = known(FAMILY, FAMILY_FACTS)
    setting = Setting(citations(knowledge), naming=lambda term, how: f"<{term}>")
    goals = [TracedGoal("childless", ("dot",))]
    trace = build_trace(knowledge.prover, goals, TOLD, setting)
    assert "<dot> has no children" in sentences(trace).values()
    assert trace["names"]['["dot",""]'] == "<dot>"


def test_a_source_without_a_citation_is_an_error() -> None:
    """A trace never cites what nobody can look up."""
    knowledge = known(FAMILY, FAMILY_FACTS)
    goals = [TracedGoal("childless", ("dot",))]
    with pytest.raises(KeyError, match="survey"):
        build_trace(knowledge.prover, goals, TOLD, Setting({"census": "Census"}))


def test_an_open_goal_can_only_be_denied() -> None:
    """That somebody is a parent of ann is not a fact but a question."""
    knowledge = known(FAMILY, FAMILY_FACTS)
    setting = Setting(citations(knowledge))
    denied = [TracedGoal("parent", (None, "ann"))]
    trace = build_trace(knowledge.prover, denied, TOLD, setting)
    assert not trace["goals"][0]["holds"]
    open_goal = [TracedGoal("parent", ("ann", None))]
    with pytest.raises(NotProven):
        build_trace(knowledge.prover, open_goal, TOLD, setting)


def test_a_label_is_kept_word_for_word_with_its_facts() -> None:
    """Facts of lines that no rule looks at are there as well."""
    knowledge, label = bread()
    trace = traced(knowledge, ("product", ("product/loaf",)), labels=[label])
    (kept,) = trace["labels"]
    assert kept["text"] == label.text
    assert [line["printed"] for line in kept["lines"]] == ["Flour", "Water", "Salt"]
    assert len(trace["facts"]) == len(label.facts)


@pytest.mark.parametrize(
    "origin",
    [
        LabelOrigin("Harbour Cream", 0, 12),
        LabelOrigin("a 1-2 b", 3, 4),
        LabelOrigin("two\nlines", 5, 6),
    ],
)
def test_an_origin_on_a_label_can_be_read_back(origin: LabelOrigin) -> None:
    """Whatever a product is called."""
    assert label_origin(str(origin)) == origin


@pytest.mark.parametrize("origin", ["", "surfactants.ttl", "label x", "label x 1-"])
def test_other_origins_are_no_place_on_a_label(origin: str) -> None:
    """A file is a file."""
    assert label_origin(origin) is None
