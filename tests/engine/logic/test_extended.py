"""A model that begins with a common one is the model of all facts together."""

from __future__ import annotations

import marshal

import pytest
from abluent.engine.errors import EvaluationError
from abluent.engine.logic import extended
from abluent.engine.logic.extended import CommonModel, ExtendedModel
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.instances import rule_instances
from abluent.engine.logic.program import Program, load_program
from abluent.engine.logic.reasoner import Model, evaluate
from abluent.engine.logic.terms import Term
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.printer import print_rules
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from programs import LEVELS, Case, cases, facts

NAMES = [name for columns in LEVELS.values() for name in columns]


def _common(program: Program, facts: list[Fact]) -> CommonModel:
    def find(predicate: str, args: tuple[Term, ...]) -> tuple[Fact, ...]:
        return tuple(fact for fact in facts if fact[:2] == (predicate, args))

    known = [fact for fact in facts if fact.predicate in program.arities]
    return CommonModel(program, lambda: known, find)


@pytest.mark.slow
@settings(deadline=None, max_examples=60, suppress_health_check=list(HealthCheck))
@given(
    case=cases(),
    others=st.lists(facts(), max_size=3),
    first=st.integers(0, 6),
    large=st.sampled_from([0, 3, 200]),
)
def test_extended_and_whole_models_agree(
    case: Case,
    others: list[tuple[tuple[str, tuple[object, ...]], ...]],
    first: int,
    large: int,
) -> None:
    """On facts, assertions, reasons and stages; one after another, kept between."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(extended, "_LARGE", large)
        _assert_agreeing(case, others, first)


def _assert_agreeing(
    case: Case, others: list[tuple[tuple[str, tuple[object, ...]], ...]], first: int
) -> None:
    program = load_program([("random", print_rules(ast.RuleFile(case.rules)))])
    shared = [Fact(*each, Basis("common")) for each in case.facts]
    shared = [fact for fact in shared if fact.predicate in program.arities]
    common = _common(program, shared)
    for rows in [(), *others]:
        own = [Fact(*each, Basis("own")) for each in rows]
        whole = evaluate(program, shared + own)
        made = ExtendedModel(common, own)
        for name in NAMES[first:] + NAMES[:first]:
            _assert_same(made, whole, name)
        removed = [*own[::2], *shared[::3]]
        added = [Fact("mark", ("new",))]
        revised, anew = (m.revise(added, removed) for m in (made, whole))
        for name in NAMES:
            assert set(revised.match(name)) == set(anew.match(name)), name
        again = _common(program, shared)
        again.undump(marshal.loads(marshal.dumps(common.dump())))
        assert not again.has_grown
        common = again


def _assert_same(one: Model, other: Model, name: str) -> None:
    assert set(one.match(name)) == set(other.match(name)), name
    for args in other.match(name):
        assert one.asserted(name, args) == other.asserted(name, args)
        assert [*rule_instances(one, name, args)] == [
            *rule_instances(other, name, args)
        ]
        assert one.stage(name, args) == other.stage(name, args)
    assert set(one.predicates()) == set(other.predicates())


TEXT = """
"so"
  because the low under the high
      and the high under the top
  so      the low under the top
  rule    above

"so"
  because the thing at the low
      and the low under the high
  so      the thing at the high
  rule    within

"so"
  because the thing amount the a
      and the half comes to the a / 2
  so      the thing share the half
  rule    half
"""
SHARED = [Fact("under", pair) for pair in (("a", "b"), ("b", "c"), ("c", "d"))]


def test_what_a_question_cannot_touch_is_worked_out_once() -> None:
    """Two questions share the very relation; only the touched one is made anew."""
    common = _common(load_program([("rules", TEXT)]), SHARED)
    one, two = (
        ExtendedModel(common, [Fact("at", (thing, "a"))]) for thing in ("x", "y")
    )
    assert one.count("under") == two.count("under") == 6
    assert one.relation("under") is two.relation("under")
    assert set(one.match("at")) == {("x", each) for each in "abcd"}
    assert set(two.match("at")) == {("y", each) for each in "abcd"}


def test_a_fact_that_is_no_news_leaves_all_shared() -> None:
    """A component that is evaluated anew and comes out the same is shared again."""
    common = _common(load_program([("rules", TEXT)]), SHARED)
    model = ExtendedModel(common, [Fact("under", ("a", "c"), Basis("own"))])
    assert model.count("under") == 6
    assert [f.basis.standing for f in model.asserted("under", ("a", "c"))] == ["own"]


def test_what_cannot_be_evaluated_says_so_each_time() -> None:
    """A common fact with which arithmetic fails is no answer to any question."""
    shared = [*SHARED, Fact("amount", ("x", "much"))]
    common = _common(load_program([("rules", TEXT)]), shared)
    for _ in range(2):
        model = ExtendedModel(common, [Fact("at", ("x", "a"))])
        assert model.count("at") == 4
        with pytest.raises(EvaluationError, match="much"):
            model.count("share")
