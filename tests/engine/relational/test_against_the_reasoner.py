"""Random programs have the same answers in bulk as by the reasoner."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from abluent.engine.logic.facts import Fact, Table
from abluent.engine.logic.program import Program, load_program
from abluent.engine.logic.reasoner import evaluate
from abluent.engine.relational.duck import Duck
from abluent.engine.relational.errors import Untranslatable
from abluent.engine.relational.evaluate import Bulk
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.printer import print_rules
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from programs import BASE, DERIVED, TOP, Case, cases

pytestmark = pytest.mark.slow

pytest.importorskip("duckdb", reason="evaluating in bulk needs DuckDB")
pytest.importorskip("numpy", reason="evaluating in bulk needs numpy")

GOALS = [*TOP, *DERIVED[1], *DERIVED[2]]
COLUMNS = list(BASE)


def program_of(case: Case) -> Program:
    """The program of a case, with what its rules do not mention left out."""
    return load_program([("random", print_rules(ast.RuleFile(case.rules)))])


def split(case: Case, varying: Sequence[str]) -> tuple[list[Fact], list[Table]]:
    """The facts that are known beforehand, and those that come in bulk."""
    closed = [Fact(name, args) for name, args in case.facts if name not in varying]
    rows = {name: [a for n, a in case.facts if n == name] for name in varying}
    tables = [Table(name, list(zip(*r, strict=True))) for name, r in rows.items() if r]
    return closed, tables


@settings(max_examples=50, deadline=None, suppress_health_check=list(HealthCheck))
@given(case=cases(), varying=st.sets(st.sampled_from(COLUMNS), min_size=1))
def test_a_random_program_has_the_same_facts_in_bulk(
    case: Case, varying: set[str]
) -> None:
    """Whichever facts come in bulk, every goal holds for the same terms."""
    program = program_of(case)
    goals = [name for name in GOALS if name in program.arities]
    closed, tables = split(case, sorted(varying))
    whole = evaluate(program, [Fact(*each) for each in case.facts])
    try:
        bulk = Bulk(
            program, goals, evaluate(program, closed), tables, Duck(threads=1), varying
        )
    except Untranslatable:
        assume(False)
    for goal in goals:
        assert set(bulk.match(goal)) == set(whole.match(goal)), goal
        assert bulk.count(goal) == whole.count(goal)
