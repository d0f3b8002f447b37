"""Programs and models of a few rules as text, for what the reasoner makes of them."""

from __future__ import annotations

from abluent.engine.logic.facts import Fact
from abluent.engine.logic.program import Program, load_program
from abluent.engine.logic.reasoner import Model, evaluate


def program(text: str) -> Program:
    """A program of rules without sentences, which these tests do not need."""
    return load_program([("test", text.replace("unsaid", '"so"'))])


def model(text: str, *facts: tuple[object, ...]) -> Model:
    """A model of rules and of facts given as predicate and terms."""
    made = [Fact(str(name), args) for name, *args_ in facts for args in [tuple(args_)]]
    return evaluate(program(text), made)  # type: ignore[arg-type]  # terms as objects
