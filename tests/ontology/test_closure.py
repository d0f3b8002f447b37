"""The rules of the base put everything into the classes that OWL puts it into.

`test_owl.py` compares the base's own closure with a description-logic reasoner;
this compares the rules with that closure.
"""

import pytest
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.program import Program
from abluent.engine.logic.reasoner import Model, evaluate


def conclude(rules: Program, facts: list[Fact]) -> Model:
    wanted = rules.arities
    return evaluate(rules, [fact for fact in facts if fact.predicate in wanted])


def kinds(model: Model, symbol: str) -> set[str]:
    return {str(row[1]) for row in model.match("isa", (symbol, None))}


@pytest.mark.slow
def test_same_members(base: Base, rules: Program) -> None:
    """`isa` holds of everything as the base's closure says.

    A rule that names a class of its own, such as the water-soluble films, may add
    that class and those above it; what a claim names by itself is a class of one.
    """
    model = conclude(rules, list(base.facts))
    heads = [rule.head.args[-1] for rule in rules.concluding("isa")]
    ruled = {
        up for head in heads if isinstance(head, str) for up in base.ancestors(head)
    }
    alone = {f.args[1] for f in base.facts if f.predicate in {"agent", "film"}}
    for symbol in base.instances("Ingredient"):
        expected = set(base.classes_of(symbol))
        more = ruled | ({symbol} & alone)
        assert expected <= kinds(model, symbol) <= expected | more, symbol


@pytest.mark.parametrize(
    ("facts", "kind"),
    [
        ([("type", "Surfactant"), ("charge", "anionic")], "AnionicSurfactant"),
        ([("type", "Silicone"), ("waterSolubility", "soluble")], "SolubleSilicone"),
        ([("type", "Silicone"), ("volatile",)], "VolatileSilicone"),
    ],
)
def test_a_class_follows_from_a_property(
    base: Base, rules: Program, facts: list[tuple[str, ...]], kind: str
) -> None:
    """Each property that a definition uses has its rule."""
    classes = [symbol for symbol in base.symbols if base.is_class(symbol)]
    own = [Fact(name, ("test-thing", *values)) for name, *values in facts]
    model = conclude(rules, [*base.facts_about(classes), *own])
    assert kind in kinds(model, "test-thing")


def test_every_definition_has_a_rule(base: Base) -> None:
    """No definition uses a property for which the rules have nothing."""
    used = {
        (fact.predicate, fact.args[2])
        for fact in base.facts
        if fact.predicate.startswith("definedBy")
    }
    assert used == {
        ("definedByValue", "charge"),
        ("definedByValue", "waterSolubility"),
        ("definedByTrait", "volatile"),
    }
