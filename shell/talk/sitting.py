"""A sitting at the interactive shell, as every order of it knows it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, TextIO

from abluent.engine.faults import ShellError
from abluent.shell.ground import reports
from abluent.shell.session.session import Session
from abluent.shell.talk.lines import Reader

if TYPE_CHECKING:
    from pathlib import Path

    from abluent.shell.session.unexact import Unexact


class Leave(Exception):
    """The user asked to leave."""


class Sitting:
    """One sitting: a session, where lines come from, and where answers go."""

    def __init__(
        self,
        session: Session,
        reader: Reader,
        out: TextIO,
        *,
        page: Callable[[], tuple[int, bool]] = lambda: (80, False),
        rows: Callable[[], int] = lambda: 24,
    ) -> None:
        """Sit down.

        Args:
            session: what answers.
            reader: where lines come from.
            out: where answers go.
            page: the columns there are and whether bold text may be used, asked
                anew for each answer.
            rows: the rows of the screen there are, asked likewise.
        """
        self.session = session
        self.reader = reader
        self.page = page
        self._rows = rows
        self._out = out
        self.code = reports.ANSWERED
        self.could: tuple[str, ...] = ()
        """What could have stood where the last line could not be read."""
        self.rows_page: Callable[[], str] | None = None
        """The whole of what was shown last, where that was no answer to a question."""
        self.offered: Unexact | None = None
        """What the last line can be read as, until one of it is taken."""
        self.added = ""
        """The name of what was put on the shelf last, which `it` means then."""
        self.unread = ""
        """The last line, if it was not understood: it may name what follows."""
        self.open_desk: Callable[[Session, Callable[[str], None]], None] | None = None
        """Opens the desk on a session until it is closed, where there is one."""
        self.signs = False
        """Whether verdicts are marked with their signs."""
        self.written: Path | None = None
        """The last file that was written."""

    @property
    def width(self) -> int:
        """The columns there are."""
        return self.page()[0]

    def say(self, text: str) -> None:
        """Print one text and a line end."""
        print(text, file=self._out, flush=True)

    def show(self, text: str) -> None:
        """Print a text that may be long, a screen at a time where somebody reads it.

        Whoever stops before its end is told how much was left out.
        """
        from abluent.shell.talk.pager import screens

        for piece, left in screens(text, self.width, self._rows()):
            self.say(piece)
            if left and not self.reader.more(left):
                self.say(f"… {left} more line{'' if left == 1 else 's'}")
                return

    def complain(self, error: ShellError) -> None:
        """Say what was wrong, and go on."""
        self.code = max(self.code, error.exit_code)
        self.say(str(error))

    def _example(self) -> str:
        from abluent.shell.talk.help import examples

        return examples(self.session.shelf)[0]

    def offer(self, error: Unexact) -> None:
        """Show what a line can be read as; a number or Enter takes one of them."""
        self.code = max(self.code, error.exit_code)
        self.say(str(error))
        if not error.options:
            self.say(f"What can be asked: {self._example()}; `help` shows more.")
        else:
            many = len(error.options) > 1
            takes = "A number or Enter takes one." if many else "Enter takes it."
            if error.heard.parts and error.options[0] is error.heard.readings[0]:
                takes = f"A number takes one, Enter takes 1 to {error.heard.parts}."
            self.say(takes)
            self.offered = error
