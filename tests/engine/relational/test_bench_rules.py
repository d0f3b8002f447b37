"""The rules of the benchmark have the same answers in bulk as by the reasoner."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from abluent.engine.logic.facts import Fact, Table
from abluent.engine.logic.program import load_program
from abluent.engine.logic.reasoner import evaluate
from abluent.engine.logic.terms import Term
from abluent.engine.relational.duck import Duck
from abluent.engine.relational.evaluate import Bulk
from abluent.engine.relational.things import Reckoning

pytest.importorskip("duckdb", reason="evaluating in bulk needs DuckDB")
pytest.importorskip("numpy", reason="evaluating in bulk needs numpy")

RULES = Path(__file__).parents[2] / "bench" / "bench.rules"
GOALS = ["clears", "dirty", "stuck", "lift", "deposits"]
CLASSES = [
    *(("oil", "film_former"), ("gum", "film_former"), ("wax", "oil")),
    *(("sulfate", "surfactant"), ("mild", "surfactant"), ("soap", "sulfate")),
    *(("cationic_surfactant", "surfactant"), ("cationic_polymer", "film_former")),
]
LEAVES = ["oil", "gum", "wax", "sulfate", "mild", "soap", "cationic_surfactant"]
LEAVES += ["cationic_polymer", "line_marker"]


def facts(seed: int) -> dict[str, list[tuple[Term, ...]]]:
    """A base of forty ingredients and sixty products."""
    dice = random.Random(seed)
    names = sorted({name for pair in CLASSES for name in pair} | {"line_marker"})
    items = [f"i{at}" for at in range(40)]
    products = [f"p{at}" for at in range(60)]
    kinds = ("wash", "conditioner", "leave_in")
    return {
        "class": [(name,) for name in names],
        "subclass": list(CLASSES),
        "isa": [(item, dice.choice(LEAVES)) for item in items],
        "charge": [
            (i, dice.choice(("anionic", "cationic", "nonionic"))) for i in items
        ],
        "solubility": [(i, dice.choice(("soluble", "insoluble"))) for i in items],
        "persistent": [(item,) for item in items if dice.random() < 0.7],
        "kind": [(product, dice.choice(kinds)) for product in products],
        "contains": [
            (product, place, item)
            for product in products
            for place, item in enumerate(dice.sample(items, dice.randint(2, 9)), 1)
        ],
        "removes": [("sulfate", "oil"), ("mild", "gum"), ("surfactant", "wax")],
        "exception": [("soap", "wax"), ("cationic_surfactant", "oil")],
        "want": [(product,) for product in products],
    }


@pytest.mark.parametrize("seed", range(3))
def test_the_benchmark_has_the_same_answers_in_bulk(seed: int) -> None:
    """Row by row, with every fact in bulk, and with one product for all alike."""
    program = load_program([("bench", RULES.read_text("utf-8"))])
    rows = facts(seed)
    given = [Fact(name, row) for name, each in rows.items() for row in each]
    whole = evaluate(program, given)
    tables = {n: Table(n, list(zip(*each, strict=True))) for n, each in rows.items()}
    everything = Bulk(
        program, GOALS, evaluate(program, ()), list(tables.values()), Duck(threads=1)
    )
    moving = ("kind", "contains", "want")
    known = [fact for fact in given if fact.predicate not in moving]
    alike = Reckoning(
        program,
        GOALS,
        evaluate(program, known),
        moving,
        ("contains", 0),
        Duck(threads=1),
    )
    own = [tables[name] for name in moving]
    alike.meet(own)
    alike.take(own)
    alike.finish()
    for goal in GOALS:
        wanted = set(whole.match(goal))
        assert set(everything.match(goal)) == wanted, goal
        assert set(alike.match(goal)) == wanted, goal
    assert whole.count("clears")
    assert whole.count("stuck")
