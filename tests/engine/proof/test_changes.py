"""Which edits between two versions changed an answer."""

from __future__ import annotations

import pytest
from abluent.engine.logic.clauses import Rule
from abluent.engine.logic.facts import Fact
from abluent.engine.proof.changes import edits_between, what_changed
from toys import BIRD_FACTS, BIRDS, REACH, fact, known


def test_one_edit_among_many_is_found() -> None:
    """Two hundred facts were added; one of them built the bridge."""
    old = [fact("edge", f"a{n}", f"a{n + 1}") for n in range(5)]
    noise = [fact("edge", f"x{n}", f"y{n}") for n in range(200)]
    bridge = fact("edge", "a5", "goal")
    after = known(REACH, old, noise[:90], bridge, noise[90:])
    found = what_changed(known(REACH, old), after, ("path", ("a0", "goal")))
    assert found.gained == {("path", ("a0", "goal"))}
    (edit,) = found.edits
    assert (edit.removed, edit.added) == (None, bridge)
    assert found.tried < 60


def test_edits_that_work_only_together_are_both_given() -> None:
    """Two edges and the loss of a third; no part of them is enough."""
    old = [fact("edge", "a", "b")]
    new = [fact("edge", "a", "m"), fact("edge", "m", "z"), fact("edge", "q", "r")]
    found = what_changed(known(REACH, old), known(REACH, new), ("path", ("a", None)))
    assert found.lost == {("path", ("a", "b"))}
    changed = {
        (part.predicate, part.args)
        for edit in found.edits
        for part in (edit.removed, edit.added)
        if isinstance(part, Fact)
    }
    assert changed == {
        ("edge", ("a", "b")),
        ("edge", ("a", "m")),
        ("edge", ("m", "z")),
    }


@pytest.mark.slow
def test_a_rule_that_changed_is_one_edit() -> None:
    """The limit was lowered from 20 to 3, so tom no longer counts as light."""
    tom = [fact("kind", "tom", "sparrow"), fact("weight", "tom", 4)]
    before = known(BIRDS, tom, BIRD_FACTS[3:6])
    after = known(BIRDS.replace("is below 20", "is below 3"), tom, BIRD_FACTS[3:6])
    found = what_changed(before, after, ("flies", ("tom",)))
    (edit,) = found.edits
    assert isinstance(edit.removed, Rule)
    assert isinstance(edit.added, Rule)
    assert edit.removed.id == edit.added.id == "flies"


def test_moving_a_rule_or_facts_about_is_no_edit() -> None:
    """Order and line numbers carry no meaning."""
    before = known(REACH, fact("edge", "a", "b"), fact("edge", "b", "c"))
    first, second = REACH.split("\n\n")
    rules = f"\n\n{second}\n{first}\n"
    after = known(rules, fact("edge", "b", "c"), fact("edge", "a", "b"))
    assert edits_between(before, after, "path") == []
    assert what_changed(before, after, ("path", (None, None))).edits == ()


def test_a_new_basis_of_a_fact_is_one_edit() -> None:
    """A source was corrected: removed and added belong together."""
    before = known(REACH, fact("edge", "a", "b", by="rumour"))
    after = known(REACH, fact("edge", "a", "b", by="survey"))
    (edit,) = edits_between(before, after, "path")
    assert isinstance(edit.removed, Fact)
    assert isinstance(edit.added, Fact)
    assert edit.removed.basis.sources == ("rumour",)
    assert edit.added.basis.sources == ("survey",)


def test_rules_that_make_no_sense_apart_are_kept_together() -> None:
    """Half of the new rules alone would deny themselves; that is no explanation."""
    old = """
"a"
  because the x base
      and nothing shows the x b
  so      the x goal
  rule    a, standing law

"b"
  because the x other
  so      the x b
  rule    b, standing law
"""
    new = """
"a"
  because the x base
  so      the x goal
  rule    a, standing law

"b"
  because the x goal
      and the x other
  so      the x b
  rule    b, standing law
"""
    facts = [fact("base", "x"), fact("other", "x")]
    found = what_changed(known(old, facts), known(new, facts), ("goal", ("x",)))
    assert found.gained == {("goal", ("x",))}
    assert [edit.added.id for edit in found.edits if isinstance(edit.added, Rule)] == [
        "a"
    ]
