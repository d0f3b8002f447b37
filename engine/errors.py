"""What can go wrong in the engine.

    EngineError
    ├── BaseError         files of the base that say something it refuses
    ├── ProgramError      rule files that say something the reasoner refuses
    ├── FactError         a fact of another shape than the rules expect
    └── EvaluationError   a value that a rule cannot work with

The shell turns these into text and an exit code; nothing here prints.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple


class EngineError(Exception):
    """The base of every error of the engine."""


class Problem(NamedTuple):
    """One thing that is wrong in a rule file. Problems sort by their place.

    `code` is stable and unique per kind of problem, so that tests and readers can
    refer to it; `rule` is the id of the rule, empty for a whole file.
    """

    file: str
    line: int
    code: str
    rule: str
    message: str
    excerpt: str = ""
    advice: str = ""

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}: " if self.file else ""
        pointed = "".join(f"\n  {line}" for line in self.excerpt.splitlines())
        advice = f"\n{self.advice}" if self.advice else ""
        return f"{place}{self.message} [{self.code}]{pointed}{advice}"


class ProgramError(EngineError):
    """A program that was refused; `problems` holds every reason."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(problems))
        super().__init__("\n".join(map(str, self.problems)))


class FactError(EngineError):
    """A fact with another number of terms than its predicate has elsewhere."""


class EvaluationError(EngineError):
    """A rule met a value it cannot work with, such as an order of two kinds.

    Args:
        rule: the id of the rule.
        message: what it could not do, with the values.
    """

    def __init__(self, rule: str, message: str) -> None:
        super().__init__(f"rule `{rule}`: {message}")
        self.rule = rule
        self.message = message
