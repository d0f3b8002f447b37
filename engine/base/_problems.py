"""What can be wrong in the files of the base, told so that it can be put right."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from abluent.engine.errors import EngineError


class BaseProblem(NamedTuple):
    """One thing that is wrong in a file of the base.

    Args:
        file: the file, below the base or as the user gave it.
        line: the line on which the subject starts, from one; 0 for a whole file.
        subject: what the problem is about, such as `ing:glycerin`; may be empty.
        message: what is wrong.
        fix: what to do about it.
    """

    file: str
    line: int
    subject: str
    message: str
    fix: str

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        subject = f"`{self.subject}`: " if self.subject else ""
        return f"{place}: {subject}{self.message}\n  {self.fix}"


class BaseError(EngineError):
    """A base that was refused; `problems` holds every reason."""

    def __init__(self, problems: Iterable[BaseProblem]) -> None:
        self.problems = tuple(sorted(set(problems)))
        super().__init__("\n".join(map(str, self.problems)))
