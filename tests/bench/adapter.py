"""The benchmark's rules on this project's own engine, from the rule file beside this.

The four functions are those that the benchmark's `peers/project.py` asks for; to plug
them in, replace its four stubs by

    import sys
    sys.path.insert(0, "<this folder>")
    from adapter import answers, explain, proof, proofs

Nothing here knows a rule: facts are read from the CSV files, the rules are evaluated
by the general engine, and proofs are put together from its rule instances. The
compiled rules are kept between runs, as the tool itself keeps its own.
"""

from __future__ import annotations

import marshal
import os
from collections.abc import Iterator
from itertools import compress
from typing import TypeAlias

from abluent.engine.logic import clauses, program
from abluent.engine.logic import term_data as _plain
from abluent.engine.logic.facts import Table
from abluent.engine.logic.program import Program, load_program
from abluent.engine.logic.reasoner import Model, evaluate
from abluent.engine.logic.terms import Term

Goal: TypeAlias = tuple[str, tuple[Term, ...]]

HERE = os.path.dirname(os.path.abspath(__file__))
RULES = os.path.join(HERE, "bench.rules")
CODE = (clauses.__file__, _plain.__file__, program.__file__)
# Beside the compiled Python, and as little a part of the project.
KEPT = os.path.join(HERE, "__pycache__", "bench-rules.marshal")
RELATIONS = {
    "class": 1,
    "subclass": 2,
    "isa": 2,
    "charge": 2,
    "solubility": 2,
    "persistent": 1,
    "kind": 2,
    "contains": 3,
    "removes": 2,
    "exception": 2,
}


def answers(
    data: str,
) -> tuple[Iterator[tuple[str, ...]], list[str], list[str]]:
    """The pairs that clear, the dirty washes and the stuck treatments."""
    model = _model(data)
    dirty = [wash for (wash,) in model.match("dirty")]
    stuck = [product for (product,) in model.match("stuck")]
    return model.match("clears"), dirty, stuck


def explain(
    data: str, wash: str, product: str
) -> tuple[bool, list[tuple[str, str]], list[str], list[str]]:
    """Whether a wash clears a product, and what speaks for and against it."""
    model = _model(data, (wash, product))
    active = [each for _, each in model.match("active", (wash, None))]
    lifts = [
        (film, surfactant)
        for film, class_ in _deposited(model, product)
        for surfactant in active
        if model.holds("strips", (surfactant, class_))
    ]
    left, dirty = (
        [
            film
            for film, class_ in _deposited(model, each)
            if not model.holds("lift", (wash, class_))
        ]
        for each in (product, wash)
    )
    return model.holds("clears", (wash, product)), lifts, left, dirty


def proof(data: str, wash: str, product: str) -> str:
    """The whole justification of an answer, step by step."""
    model = _model(data, (wash, product))
    goals: list[Goal] = [("clears", (wash, product))]
    if not model.holds(*goals[0]):
        against: list[Goal] = [("uncleared", (wash, product)), ("dirty", (wash,))]
        goals = [goal for goal in against if model.holds(*goal)]
    return "\n".join(_best_proof(model, goal) for goal in goals)


def proofs(data: str) -> Iterator[str]:
    """A derivation of every `lift` and of every `deposits`.

    Derivations share steps: each is written once, with the first that needs it, and
    the others name it. Where a fact has several, the rule that stands first is taken;
    `proof` looks for the best instead.
    """
    from derivations import Derivations  # noqa: PLC0415 - not for answers

    model = _model(data)
    derivations = Derivations(model)
    for name in ("lift", "deposits"):
        for args in model.match(name):
            yield "\n".join(derivations.steps((name, args)))


def _best_proof(model: Model, goal: Goal) -> str:
    from abluent.engine.proof.proofs import Prover  # noqa: PLC0415 - not for answers
    from abluent.engine.proof.sentences import Sentences  # noqa: PLC0415

    reasons = Sentences(model.program).reasons(Prover(model).prove(*goal))
    return "\n".join(
        f"{each.number}. {each.text} {each.premises or ''}" for each in reasons
    )


def _deposited(model: Model, product: str) -> Iterator[tuple[str, str]]:
    for _, film in model.match("deposits", (product, None)):
        for _, class_ in model.match("film", (film, None)):
            yield film, class_


def _model(data: str, wanted: tuple[str, ...] = ()) -> Model:
    """The model of a folder, of all its products or of those that are wanted."""
    tables = {name: _columns(data, name, width) for name, width in RELATIONS.items()}
    products, places, ingredients = tables["contains"]
    if wanted:
        kept = [each in wanted for each in products]
        products, places, ingredients = (
            list(compress(each, kept)) for each in tables["contains"]
        )
    tables["contains"] = [products, list(map(int, places)), ingredients]
    tables["want"] = [wanted or tables["kind"][0]]
    return evaluate(_program(), (), [Table(*each) for each in tables.items()])


def _columns(data: str, name: str, width: int) -> list[list[str]]:
    """The columns of a file; no field of the benchmark has a comma in it."""
    with open(f"{data}/{name}.csv", encoding="utf-8") as file:
        fields = file.read().replace("\n", ",").split(",")
    return [fields[column:-1:width] for column in range(width)]


def _program() -> Program:
    """The compiled rules, from the last run if they and the engine are the same."""
    stamp = [os.stat(path).st_mtime_ns for path in (RULES, *CODE)]
    if os.path.exists(KEPT):
        with open(KEPT, "rb") as stored:
            before, plain = marshal.load(stored)
        if before == stamp:
            return Program.undump(plain)
    with open(RULES, encoding="utf-8") as file:
        program = load_program([("bench.rules", file.read())])
    os.makedirs(os.path.dirname(KEPT), exist_ok=True)
    with open(KEPT, "wb") as stored:
        marshal.dump((stamp, program.dump()), stored)
    return program
