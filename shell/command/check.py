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

    Args:
        place: where the trace was found.
        result: what the checker says of it.
    """

    place: str
    result: checker.Result

    @property
    def ok(self) -> bool:
        """Whether the trace holds."""
        return self.result.ok

    @property
    def supposed(self) -> tuple[str, ...]:
        """What the trace openly takes to be otherwise than it is."""
        return self.result.supposed

    def as_data(self) -> dict[str, Any]:
        """Return the outcome as plain data."""
        problems = self.result.problems
        found = [{"at": at, "problem": text} for at, text in problems]
        return {
            "trace": self.place,
            "holds": self.ok,
            "base": self.result.base or None,
            "said": str(self.result),
            "supposed": list(self.supposed),
            "problems": found,
        }

    def __str__(self) -> str:
        """Return the outcome as lines of text."""
        lines = [f"{self.place}: {self.result}"]
        lines += [f"  {at}: {text}" for at, text in self.result.problems]
        return "\n".join(lines)


def check_word(
    word: str,
    base_for: Callable[[Any], Any] | None = None,
    unsigned: Callable[[int, str], str] | None = None,
) -> Iterator[Checked]:
    """Check every trace of a file, or of standard input for `-`.

    Args:
        word: the file; one JSON object, or one on each line.
        base_for: gives, for a trace, the base that its rules, facts and citations
            must agree with.
        unsigned: says, for a trace by its number and digest, what is wrong with its
            signature; nothing if that is good.

    Raises:
        CommandError: there is no such file.
        DataError: it cannot be read, or holds no trace.
    """
    for number, (where, trace) in enumerate(traces_in(word)):
        result = checker.check(trace)
        wrong = unsigned(number, trace["digest"]) if unsigned and result.ok else ""
        if wrong:
            result = checker.Result(False, (("signature", wrong),))
        if result.ok and base_for is not None:
            # Only a trace that holds by itself can be looked at any closer.
            result = checker.check(trace, base_for(trace))
        yield Checked(where, result)


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
