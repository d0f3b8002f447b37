"""What can go wrong at the edge of the program, and how it is said.

    ShellError                 anything the shell reports as text and an exit code
    ├── DataError      exit 1  the data is wrong: a shelf, a label, a trace
    └── CommandError   exit 2  the command is wrong: a flag, a name, a path

Every one of them carries `Problem`s, so that a file with three faults is
reported with all three.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from abluent.grammar.common.errors import GrammarError

EXCERPT_WIDTH = 72


def installed_with(extra: str) -> str:
    """Return the command that brings the libraries of an extra.

    It names no index of packages, and works where the project's folder is.
    """
    return f"in the folder of abluent: pip install '.[{extra}]'"


class Problem(NamedTuple):
    """One fault: the thing, the place and what to try.

    `excerpt` is one line of the text at fault and `caret` the place in it, as
    zero-based start and end; both are left out where there is no text.
    """

    what: str
    place: str = ""
    hint: str = ""
    excerpt: str = ""
    caret: tuple[int, int] = (0, 0)

    def __str__(self) -> str:
        """Return the fault as lines of text, without a final line end."""
        head = f"{self.place}: {self.what}" if self.place else self.what
        lines = [head]
        if self.excerpt:
            lines += _pointed(self.excerpt, self.caret)
        if self.hint:
            lines.append(f"  {self.hint}")
        return "\n".join(lines)


def _pointed(line: str, caret: tuple[int, int]) -> list[str]:
    """Return the line and a caret under it, cut so that the caret is in sight."""
    start, end = caret
    start = min(start, len(line))
    cut = max(0, start - EXCERPT_WIDTH // 2)
    shown = line[cut : cut + EXCERPT_WIDTH]
    before = "…" if cut else ""
    after = "…" if cut + EXCERPT_WIDTH < len(line) else ""
    width = max(1, min(end, cut + len(shown)) - start)
    shown = "".join(c if c.isprintable() else " " for c in shown)
    return [
        f"    {before}{shown}{after}",
        "    " + " " * (len(before) + start - cut) + "^" * width,
    ]


class ShellError(Exception):
    """A fault to be reported as text; `exit_code` is what the process leaves with."""

    exit_code = 1

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        """Carry one problem or several."""
        found = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__(found)
        self.problems = found

    def __str__(self) -> str:
        """Return every problem, one under the other."""
        return "\n".join(str(problem) for problem in self.problems)


class DataError(ShellError):
    """The data is wrong."""

    exit_code = 1


def as_data(error: GrammarError) -> DataError:
    """Return a fault in the text of a file as wrong data: it is data, not a command."""
    return DataError(Problem(error.render()))


class CommandError(ShellError):
    """The command is wrong."""

    exit_code = 2
