"""What `abluent check` does: hand each trace to the checker and report.

The checker shares no code with the reasoner; this module only reads files for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from abluent.engine.checking import checker
from abluent.engine.disk import STDIN, read_text
from abluent.engine.faults import DataError, Problem
from abluent.shell.shelf.label_files import standard_input


@dataclass(frozen=True)
class Checked:
    """What came of one trace.

    `problems` are (place in the trace, sentence); `supposing` tells that the trace
    openly takes some facts to be otherwise than they are.
    """

    place: str
    problems: tuple[tuple[str, str], ...]
    supposing: bool = False

    @property
    def ok(self) -> bool:
        """Whether the trace holds."""
        return not self.problems

    def as_data(self) -> dict[str, Any]:
        """Return the outcome as plain data."""
        found = [{"at": at, "problem": text} for at, text in self.problems]
        return {
            "trace": self.place,
            "holds": self.ok,
            "supposing": self.supposing,
            "problems": found,
        }

    def __str__(self) -> str:
        """Return the outcome as lines of text."""
        if self.ok:
            under = ", supposing facts to be otherwise" if self.supposing else ""
            return f"{self.place}: holds{under}"
        lines = [f"{self.place}: does not hold"]
        lines += [f"  {at}: {text}" for at, text in self.problems]
        return "\n".join(lines)


def check_word(
    word: str, base_for: Callable[[Any], Any] | None = None
) -> Iterator[Checked]:
    """Check every trace of a file, or of standard input for `-`.

    Args:
        word: the file; one JSON object, or one on each line.
        base_for: gives, for a trace, the base that its rules, facts and citations
            must agree with.

    Raises:
        CommandError: there is no such file.
        DataError: it cannot be read, or holds no trace.
    """
    for where, trace in traces_in(word):
        result = checker.check(trace)
        if result.ok and base_for is not None:
            # Only a trace that holds by itself can be looked at any closer.
            result = checker.check(trace, base_for(trace))
        yield Checked(where, result.problems, result.supposing)


def traces_in(word: str) -> Iterator[tuple[str, Any]]:
    """Yield every trace of a file, or of standard input for `-`, with its place.

    Raises:
        CommandError: there is no such file.
        DataError: it cannot be read, or holds no trace.
    """
    place = "standard input" if word == STDIN else word
    text = standard_input() if word == STDIN else read_text(Path(word))
    lines = [line for line in text.split("\n") if line.strip()]
    if len(lines) > 1 and lines[1].lstrip().startswith("{"):
        for number, line in enumerate(lines, start=1):
            yield f"{place}:{number}", _read(line, f"{place}:{number}")
    else:
        yield place, _read(text, place)


def _read(text: str, place: str) -> Any:
    try:
        return checker.read(text)
    except (ValueError, RecursionError) as error:
        what = f"this is no trace: {error}"
        hint = "`abluent trace --to why.json QUERY` writes one"
        raise DataError(Problem(what, place, hint)) from error
