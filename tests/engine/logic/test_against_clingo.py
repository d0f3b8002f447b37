"""The reasoner against an outside solver, on random stratified programs.

A stratified program has one answer set; clingo's (https://potassco.org) is taken
as the truth. `ABLUENT_RANDOM_PROGRAMS` sets how many programs are tried.
"""

from __future__ import annotations

import os
from collections import defaultdict
from typing import Any

import clingo
import pytest
from abluent.engine.logic import _costs as costs
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.instances import (
    Missing,
    Premise,
    first_instances,
    rule_instances,
)
from abluent.engine.logic.program import load_program
from abluent.engine.logic.reasoner import Model, evaluate
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.printer import print_rules
from hypothesis import HealthCheck, given, settings
from programs import LEVELS, Case, cases

PROGRAMS = int(os.environ.get("ABLUENT_RANDOM_PROGRAMS", "100"))
NAMES = [name for columns in LEVELS.values() for name in columns]
EXAMPLES = settings(
    max_examples=PROGRAMS,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)


def model_of(case: Case) -> Model:
    """The model of a case, its rules read from their printed form."""
    program = load_program([("random", print_rules(ast.RuleFile(case.rules)))])
    return evaluate(program, [Fact(name, args) for name, args in case.facts])


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


@pytest.mark.slow
@pytest.mark.parametrize("cheap", [costs.CHEAP, -1.0], ids=["as-is", "sweeping"])
@EXAMPLES
@given(case=cases())
def test_answers_are_those_of_clingo(cheap: float, case: Case) -> None:
    """Every predicate has the rows of the answer set, by rows and by masks alike."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(costs, "CHEAP", cheap)
        if cheap < 0:
            patch.setattr(costs, "sweep_cost", lambda *_: -1e9)
        model, expected = model_of(case), solved(case)
        for name in NAMES:
            assert set(model.match(name)) == expected[name], name


@pytest.mark.long
@EXAMPLES
@given(case=cases())
def test_every_inferred_fact_has_an_instance_that_holds(case: Case) -> None:
    """An instance's premises hold, its absences do, and earlier stages support it."""
    model = model_of(case)
    given_facts = set(case.facts)
    for name in NAMES:
        for args in model.match(name):
            instances = list(rule_instances(model, name, args))
            assert instances or (name, args) in given_facts
            for each in instances:
                assert each.args == args
                assert all(supported(model, support) for support in each.supports)
            if (name, args) not in given_facts:
                assert any(earlier(model, name, args, each) for each in instances)


@pytest.mark.long
@EXAMPLES
@given(case=cases())
def test_one_instance_of_every_fact_makes_a_derivation_of_all(case: Case) -> None:
    """Every inferred fact has one, and following them never leads back."""
    model = model_of(case)
    given_facts = set(case.facts)
    for name in NAMES:
        firsts = first_instances(model, name)
        for args in model.match(name):
            assert args in firsts or (name, args) in given_facts
        for args, instance in firsts.items():
            assert instance in rule_instances(model, name, args)
            assert (name, args) in given_facts or earlier(model, name, args, instance)


def supported(model: Model, support: Any) -> bool:
    """Whether what an instance says of one condition is so."""
    if isinstance(support, Premise):
        return model.holds(support.predicate, support.args)
    if isinstance(support, Missing):
        return not any(model.match(support.predicate, support.pattern))
    return True


def earlier(model: Model, name: str, args: tuple[Any, ...], instance: Any) -> bool:
    """Whether all premises of the fact's own component have smaller stages."""
    component = model.program.component_of
    stage = model.stage(name, args)
    return all(
        model.stage(each.predicate, each.args) < stage
        for each in instance.supports
        if isinstance(each, Premise) and component[each.predicate] == component[name]
    )
