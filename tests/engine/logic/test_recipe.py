"""A plan that is used again for other facts finds what a new one finds."""

from __future__ import annotations

import marshal

import pytest
from abluent.engine.logic._recipe import Recipes
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.instances import rule_instances
from abluent.engine.logic.program import Program, load_program
from abluent.engine.logic.reasoner import Model, evaluate
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.printer import print_rules
from hypothesis import HealthCheck, given, settings
from programs import LEVELS, Case, cases, facts

NAMES = [name for columns in LEVELS.values() for name in columns]


@pytest.mark.long
@settings(deadline=None, max_examples=100, suppress_health_check=list(HealthCheck))
@given(case=cases(), other=facts())
def test_recipes_change_no_answer(
    case: Case, other: tuple[tuple[str, tuple[object, ...]], ...]
) -> None:
    """Whatever facts they were found with, and kept on disk between the two."""
    text = print_rules(ast.RuleFile(case.rules))
    used, anew = (load_program([("random", text)]) for _ in range(2))
    _everything(evaluate(used, [Fact(*each) for each in case.facts]))
    again = Program.undump(marshal.loads(marshal.dumps(used.dump())))
    again.recipes.undump(marshal.loads(marshal.dumps(used.recipes.dump())))
    new = [Fact(*each) for each in other]
    wanted = _everything(evaluate(anew, new))
    assert _everything(evaluate(used, new)) == wanted
    assert _everything(evaluate(again, new)) == wanted


def _everything(model: Model) -> dict[str, list[tuple[object, list[object]]]]:
    """Every fact of a model, with every way in which a rule derives it."""
    return {
        name: sorted(
            (
                (args, [*rule_instances(model, name, args)])
                for args in model.match(name)
            ),
            key=repr,
        )
        for name in NAMES
    }


TEXT = """
"so"
  because the a at the place
      and the b at the place
      and the a differs from the b
  so      the a meets the b
  rule    meets
"""


def _met(program: Program, places: int) -> int:
    given = [Fact("at", (f"guest{n}", f"room{n % places}")) for n in range(2 * places)]
    return evaluate(program, given).count("meets")


def test_facts_of_about_the_same_number_share_a_recipe() -> None:
    """A recipe is looked for once, and again where there are many more facts."""
    program = load_program([("rules", TEXT)])
    assert _met(program, 5) == 10
    found = program.recipes.dump()
    program.recipes.grown = False
    assert _met(program, 6) == 12
    assert not program.recipes.grown
    assert _met(program, 400) == 800
    assert program.recipes.grown
    assert found.items() < program.recipes.dump().items()


def test_a_rule_of_another_program_has_no_key() -> None:
    """Recipes are those of one program, whatever its rules say."""
    one, other = (load_program([("rules", TEXT)]) for _ in range(2))
    recipes = Recipes(one.rules)
    assert recipes.key(one.rules[0], 1) == (0, 1)
    assert recipes.key(other.rules[0], 1) is None
