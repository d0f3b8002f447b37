"""One routine of a file, as it was found."""

from __future__ import annotations

from dataclasses import dataclass

from abluent.engine.faults import DataError
from abluent.grammar.routine import tree as ast


@dataclass(frozen=True)
class Found:
    """One routine of a file, or what was wrong with it."""

    place: str
    routine: ast.Routine | None = None
    error: DataError | None = None
