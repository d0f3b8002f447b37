"""The reasoner against an outside solver, on random stratified programs.

A stratified program has one answer set; clingo's (https://potassco.org) is taken
as the truth. `ABLUENT_RANDOM_PROGRAMS` sets how many programs are tried.
"""

from __future__ import annotations

import os
from collections import defaultdict
from typing import Any

import clingo
from abluent.engine.facts import Fact
from abluent.engine.program import load_program
from abluent.engine.reasoner import evaluate
from abluent.grammar import rule_ast as ast
from abluent.grammar.rule_print import print_rules
from hypothesis import HealthCheck, given, settings

from programs import LEVELS, Case, cases

PROGRAMS = int(os.environ.get("ABLUENT_RANDOM_PROGRAMS", "150"))
NAMES = [name for columns in LEVELS.values() for name in columns]


def solved(case: Case) -> dict[str, set[tuple[Any, ...]]]:
    """The answer set of a case, by predicate."""
    control = clingo.Control(["--warn=none"])
    control.add("base", [], case.clingo())
    control.ground([("base", [])])
    found: dict[str, set[tuple[Any, ...]]] = defaultdict(set)
    with control.solve(yield_=True) as handle:
        for model in handle:
            for atom in model.symbols(atoms=True):
                found[atom.name].add(tuple(map(_value, atom.arguments)))
    return found


def _value(symbol: clingo.Symbol) -> str | int:
    number = symbol.type is clingo.SymbolType.Number
    return symbol.number if number else symbol.name


@settings(
    max_examples=PROGRAMS,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)
@given(cases())
def test_answers_are_those_of_clingo(case: Case) -> None:
    """Every predicate has exactly the rows of the unique answer set."""
    program = load_program([("random", print_rules(ast.RuleFile(case.rules)))])
    model = evaluate(program, [Fact(name, args) for name, args in case.facts])
    expected = solved(case)
    for name in NAMES:
        assert set(model.match(name)) == expected[name], name
