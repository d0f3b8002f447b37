"""Lines from a pipe, a file or a terminal that can do nothing else.

`PlainReader` here and `PromptReader` in `prompt` serve the interactive shell
alike; `Reader` is what it asks of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol, TextIO

PROMPT, LABEL_PROMPT = "abluent> ", "label> "
"""What stands before a line, and before one of a label that is being gathered."""


@dataclass(frozen=True)
class Typed:
    """What was typed; `whole` if it is known to be all of a pasted text."""

    text: str
    whole: bool = False


class Reader(Protocol):
    """Where the lines of the interactive shell come from.

    Both raise EOFError where there are no more, and KeyboardInterrupt where the
    user gives the line up.
    """

    def line(self, prompt: str = PROMPT) -> Typed:
        """Read one question, order or pasted text."""

    def answer(self, question: str, choices: Sequence[str] = ()) -> str:
        """Ask for one word or name; an empty answer is an answer."""

    def more(self, left: int) -> bool:
        """Ask whether to go on with a text of which so many lines are left.

        Raises nothing: a user who gives up wants no more of it.
        """


class PlainReader:
    """Reads line by line; asks aloud only if somebody is there to hear it."""

    def __init__(self, source: TextIO, out: TextIO, *, spoken: bool) -> None:
        """Read from `source`; if `spoken`, write prompts to `out`."""
        self._source = source
        self._out = out
        self._spoken = spoken

    def line(self, prompt: str = PROMPT) -> Typed:
        """Read one line."""
        return Typed(self._read(prompt))

    def answer(self, question: str, choices: Sequence[str] = ()) -> str:
        """Read the answer to a question."""
        return self._read(f"{question} ").strip()

    def more(self, left: int) -> bool:
        """Go on: what a pipe takes in, or a plain terminal prints, is never held."""
        return True

    def _read(self, prompt: str) -> str:
        if self._spoken:
            self._out.write(prompt)
            self._out.flush()
        line = self._source.readline()
        if not line:
            raise EOFError
        return line.rstrip("\r\n")
