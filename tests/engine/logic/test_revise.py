"""A revised model is the model of the revised facts."""

from __future__ import annotations

import pytest
from abluent.engine.errors import EvaluationError
from abluent.engine.logic import _costs as costs
from abluent.engine.logic.facts import Basis, Fact, Table
from abluent.engine.logic.instances import Premise, rule_instances
from abluent.engine.logic.program import load_program
from abluent.engine.logic.reasoner import Model, evaluate
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.printer import print_rules
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from programs import LEVELS, Case, cases, facts

NAMES = [name for columns in LEVELS.values() for name in columns]


@pytest.mark.long
@settings(deadline=None, max_examples=150, suppress_health_check=list(HealthCheck))
@given(case=cases(), other=facts(), share=st.integers(0, 3), sweeping=st.booleans())
def test_a_revised_model_is_the_model_of_the_revised_facts(
    case: Case,
    other: tuple[tuple[str, tuple[object, ...]], ...],
    share: int,
    sweeping: bool,
) -> None:
    """After adding and removing, all predicates and all stages are as from anew."""
    with pytest.MonkeyPatch.context() as patch:
        if sweeping:
            patch.setattr(costs, "CHEAP", -1.0)
            patch.setattr(costs, "sweep_cost", lambda *_: -1e9)
        program = load_program([("random", print_rules(ast.RuleFile(case.rules)))])
        old = [Fact(*each) for each in case.facts]
        new = [Fact(*each) for each in other if each not in case.facts]
        removed = old[:: share + 1]
        added = new[: 1 + share * 2]
        before = evaluate(program, old)
        for name in NAMES[share:]:
            before.count(name)
        after = before.revise(added, removed)
        again = evaluate(program, [f for f in old if f not in removed] + added)
        for name in NAMES:
            assert set(after.match(name)) == set(again.match(name)), name
            assert after.count(name) == again.count(name)
        kept = evaluate(program, old)
        for name in NAMES:
            assert set(before.match(name)) == set(kept.match(name)), name
        assert_supported(after)
        back = after.revise(removed, added)
        for name in NAMES:
            assert set(back.match(name)) == set(kept.match(name)), name


def assert_supported(model: Model) -> None:
    """Every inferred fact has an instance from earlier ones of its component."""
    component = model.program.component_of
    for name in NAMES:
        for args in model.match(name):
            if model.asserted(name, args):
                continue
            stage = model.stage(name, args)
            assert stage is not None
            assert any(
                all(
                    (model.stage(each.predicate, each.args) or 0) < stage
                    for each in instance.supports
                    if isinstance(each, Premise)
                    and component[each.predicate] == component[name]
                )
                for instance in rule_instances(model, name, args)
            )


PATHS = """
"so"
  because the x edge the y
  so      the x path the y
  rule    step

"so"
  because the x edge the z
      and the z path the y
  so      the x path the y
  rule    far

"so"
  because the x node
      and the y node
      and nothing shows the x path the y
  so      the x cut the y
  rule    cut

"so"
  because the x number
      and the y comes to 1 / the x
  so      the y inverse
  rule    inverse
"""


def model(*facts_: tuple[object, ...], tables: list[Table] | None = None) -> Model:
    made = [Fact(str(name), tuple(args)) for name, *args in facts_]  # type: ignore[arg-type]
    return evaluate(load_program([("paths", PATHS)]), made, tables or [])


def test_rows_cannot_keep_each_other_alive() -> None:
    """When the way into a circle is cut, the circle does not go on feeding itself."""
    edges = [("edge", "a", "b"), ("edge", "b", "c"), ("edge", "c", "b")]
    before = model(*edges)
    assert before.holds("path", ("a", "c"))
    after = before.revise(removed=[Fact("edge", ("a", "b"))])
    assert set(after.match("path")) == {(x, y) for x in "bc" for y in "bc"}
    last = after.revise(removed=[Fact("edge", ("b", "c"))])
    assert set(last.match("path")) == {("c", "b")}


def test_absences_change_with_what_they_deny() -> None:
    """A new path closes a cut, and taking it back opens it again."""
    before = model(("node", 1), ("node", 2))
    assert before.holds("cut", (1, 2))
    edge = Fact("edge", (1, 2))
    after = before.revise([edge])
    assert not after.holds("cut", (1, 2))
    assert after.revise(removed=[edge]).holds("cut", (1, 2))


def test_an_assertion_goes_with_its_basis() -> None:
    """A fact asserted twice stays when one of the assertions is taken back."""
    one, two = (Fact("edge", (1, 2), Basis(origin=name)) for name in "ab")
    before = evaluate(load_program([("paths", PATHS)]), [one, two])
    assert before.count("path") == 1
    after = before.revise(removed=[one])
    assert after.asserted("edge", (1, 2)) == (two,)
    assert after.holds("path", (1, 2))
    assert not after.revise(removed=[two]).holds("path", (1, 2))


def test_facts_of_tables_can_be_removed() -> None:
    """Bulk facts are taken back one by one, as they were asserted."""
    basis = Basis(origin="table")
    before = model(tables=[Table("edge", [[1, 2, 3], [2, 3, 4]], basis)])
    assert before.holds("path", (1, 4))
    after = before.revise(removed=before.asserted("edge", (2, 3)))
    assert set(after.match("path")) == {(1, 2), (3, 4)}
    assert before.holds("path", (1, 4))


def test_what_goes_wrong_goes_wrong_when_it_is_asked_for() -> None:
    """As with `evaluate`, an error waits for its predicate."""
    before = model(("number", 2))
    assert before.count("inverse") == 1
    after = before.revise([Fact("number", (0,))])
    assert after.count("path") == 0
    with pytest.raises(EvaluationError, match="rule `inverse`"):
        after.count("inverse")


def test_predicates_outside_the_program_are_revised_too() -> None:
    """A fact that no rule looks at is still a fact."""
    before = model(("note", "x"))
    assert before.count("note") == 1
    after = before.revise([Fact("note", ("y",)), Fact("other", (1, 2))])
    assert set(after.match("note")) == {("x",), ("y",)}
    assert after.holds("other", (1, 2))
