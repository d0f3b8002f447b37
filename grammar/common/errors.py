"""Pointed errors: what is wrong, where in the text, and what to try.

    GrammarError          one problem at one span of one text
    └── GrammarProblems   every problem of a text, in order of place

Every parser of this package reports through these two, so that the shell can
show any of them with `render()` and never needs to know which language failed.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple


class Span(NamedTuple):
    """A stretch of a text, as offsets: `text[start:end]`."""

    start: int
    end: int


NOWHERE = Span(0, 0)


def line_and_column(text: str, offset: int) -> tuple[int, int]:
    """The line and column of an offset, both counted from one."""
    before = text[: max(0, min(offset, len(text)))]
    return before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1


def excerpt(text: str, span: Span) -> str:
    """The line a span starts on, with carets under the span.

    A tab is kept in the margin, so that the carets stand right in any terminal.
    """
    start = max(0, min(span.start, len(text)))
    begin = text.rfind("\n", 0, start) + 1
    stop = text.find("\n", start)
    line = text[begin : stop if stop >= 0 else len(text)]
    column = start - begin
    width = max(1, min(span.end, begin + len(line)) - start)
    margin = "".join("\t" if mark == "\t" else " " for mark in line[:column])
    return f"{line}\n{margin}{'^' * width}"


class GrammarError(Exception):
    """A text that cannot be read.

    Args:
        message: what is wrong, the name in back quotes.
        text: the whole text, of which `span` is a part.
        span: the place.
        expected: what could have stood there, in words.
        hint: what to try, as a sentence.
        name: the file or other origin of the text, if it has one.
    """

    def __init__(  # noqa: PLR0913, PLR0917 - one error, described in full
        self,
        message: str,
        text: str = "",
        span: Span = NOWHERE,
        expected: tuple[str, ...] = (),
        hint: str = "",
        name: str = "",
    ) -> None:
        super().__init__(message)
        self.message = message
        self.text = text
        self.span = span
        self.expected = expected
        self.hint = hint
        self.name = name

    def render(self, could: bool = False) -> str:
        """The message, the excerpt with carets, what to try.

        Args:
            could: tell also all that could have stood there.
        """
        lines = [f"{self._place()}{self.message}"]
        if self.text:
            pointed = excerpt(self.text, self.span)
            lines += [f"  {line}" for line in pointed.splitlines()]
        if self.hint:
            lines.append(self.hint)
        if could and self.expected:
            lines.append(f"There could have stood: {', '.join(self.expected)}")
        return "\n".join(lines)

    def _place(self) -> str:
        if not self.name:
            return ""
        line, column = line_and_column(self.text, self.span.start)
        return f"{self.name}:{line}:{column}: "

    def __str__(self) -> str:
        return self.render()


class GrammarProblems(GrammarError):
    """All problems of one text; the first of them gives its place."""

    def __init__(self, problems: Iterable[GrammarError]) -> None:
        self.problems = tuple(sorted(problems, key=lambda each: each.span))
        first = self.problems[0]
        super().__init__(
            first.message,
            first.text,
            first.span,
            first.expected,
            first.hint,
            first.name,
        )

    def render(self, could: bool = False) -> str:
        """Every problem, one after the other."""
        return "\n".join(problem.render(could) for problem in self.problems)
