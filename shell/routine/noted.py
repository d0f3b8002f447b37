"""What a note of a routine calls for before any wash: a sign that is no film."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.engine.base.conditions import is_note
from abluent.engine.base.signs import signs
from abluent.engine.base.store import Base
from abluent.grammar.routine import tree as ast


def noted(routine: ast.Routine, base: Base) -> Iterator[str]:
    """The cautions that the notes and the name of a routine call for."""
    parts = [routine.name or ""]
    for said in routine.washing:
        if is_note(base, said.aspect):
            first, *rest = said.words.split(", ")
            parts += [f"{said.aspect} is {first}", *rest]
    for sign in signs(base, parts):
        yield f"Your note says `{sign.words}`. {sign.text}"
