"""Printing and reading a query are inverse."""

from pathlib import Path

import pytest
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer import print_query
from abluent.grammar.query.tree import (
    Both,
    Clears,
    Differs,
    Ease,
    Hides,
    Query,
    Shifts,
    Statement,
    Strength,
    Such,
    Thing,
    Whether,
)
from hypothesis import HealthCheck, example, given, settings
from query_trees import queries

CASES = Path(__file__).parents[2] / "cases" / "queries.txt"
LINES = [
    line for line in CASES.read_text("utf-8").splitlines() if line and line[0] != "#"
]


HARD = ("in hard water",)
HARDER = Such(Thing(), (Shifts(Ease.HARDER, HARD, HARD),))
TWICE = Whether(Statement(Thing(), Clears(Thing(), HARDER, circumstances=HARD)))
"""A clause that ends in a condition, before a condition of what stands around it."""
MILDER = Differs(Strength.MILDER, Such(Thing(), (Clears(Thing(), rounds=3),)))
MILDER_AND = Whether(Statement(Thing(), Both((MILDER, Hides(Thing())))))
"""A clause at the end of what something is milder than, before a second verb."""


@pytest.mark.slow
@given(tree=queries)
@example(tree=TWICE)
@example(tree=MILDER_AND)
@settings(max_examples=200, deadline=None, suppress_health_check=list(HealthCheck))
def test_any_tree_reads_back_as_itself(tree: Query) -> None:
    """Whatever the tree, its text is read as that tree again."""
    assert parse_query(print_query(tree)) == tree


@pytest.mark.slow
@given(tree=queries)
@settings(max_examples=50, deadline=None, suppress_health_check=list(HealthCheck))
def test_canonical_text_is_settled(tree: Query) -> None:
    """Reading and printing a canonical text changes nothing more."""
    text = print_query(tree)
    assert print_query(parse_query(text)) == text


@pytest.mark.parametrize("line", LINES)
def test_line_prints_back_unchanged(line: str) -> None:
    """The usual questions are canonical as people type them."""
    assert print_query(parse_query(line)) == line
