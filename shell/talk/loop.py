"""The interactive shell: a loop over lines, each a question, an order or a label.

Ctrl-C stops the question, not the shell; Ctrl-D leaves. The same loop reads from
a pipe, from a terminal that can do nothing, and through prompt_toolkit.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, TypeAlias

from abluent.shell.ground import reports
from abluent.shell.session.session import Session
from abluent.shell.shelf.words import knowing
from abluent.shell.talk.lines import PlainReader, Reader, Typed
from abluent.shell.talk.orders import looks_like_label, order_in
from abluent.shell.talk.sitting import Leave, Sitting

if TYPE_CHECKING:
    from abluent.shell.session.unexact import Unexact

Desk: TypeAlias = Callable[[Session, Callable[[str], None]], None]
WELCOME = "Abluent. `help` shows what to ask; `leave` or Ctrl-D leaves."


class InteractiveShell(Sitting):
    """A sitting, line by line."""

    def run(self) -> int:
        """Take lines until there are no more; return the worst exit code met."""
        while True:
            try:
                typed = self.reader.line()
            except KeyboardInterrupt:
                continue
            except EOFError:
                return self.code
            try:
                self.take(typed)
            except (Leave, EOFError):
                return self.code

    def take(self, typed: Typed) -> None:
        """Do what one line says, and report what goes wrong.

        Raises:
            Leave: the line asks to leave.
        """
        try:
            with knowing(self.session.words_base):
                self._take(typed)
        except KeyboardInterrupt:
            self.say("stopped")
        except Exception as error:
            if isinstance(error, (Leave, EOFError, BrokenPipeError)):
                raise
            self._report(error)

    def _report(self, error: Exception) -> None:
        try:
            code, text = reports.exit_code(error), reports.said(error)
        except Exception:
            # What was typed and shelved is worth more than a clean end.
            code = reports.DATA_IS_WRONG
            text = f"this program is at fault: {type(error).__name__}: {error}"
        self.code = max(self.code, code)
        self.say(text)
        self.could = getattr(error, "could", ())
        if self.could:
            self.say("`?` lists what could have stood there.")

    def _take(self, typed: Typed) -> None:
        from abluent.shell.talk import order_table

        offered, self.offered = self.offered, None
        if offered is not None and self._took(offered, typed.text.strip()):
            return
        could, self.could = self.could, ()
        if could and typed.text.strip() == "?":
            self.say(f"There could have stood: {', '.join(could)}")
            return
        order = order_in(typed.text)
        if not typed.text.strip():
            return
        unread, self.unread = self.unread, ""
        self.session.refresh()
        if order is not None:
            order_table.obey(self, order)
        elif looks_like_label(typed.text, self.session.opening_words()):
            self._take_label(typed, unread)
        else:
            self.unread = typed.text.strip()
            order_table.ask(self, typed.text)
            self.unread = ""

    def _took(self, offered: Unexact, typed: str) -> bool:
        """Answer the reading that a number, or nothing at all, takes."""
        from abluent.shell.talk import order_table

        readings = offered.heard.readings
        if not typed and offered.heard.parts and offered.options[0] is readings[0]:
            for each in readings[: offered.heard.parts]:
                self.say(each.question)
                order_table.take(self, offered.text, each, one_of_several=True)
            return True
        chosen, options = typed or "1", offered.options
        if not chosen.isdecimal() or not 1 <= int(chosen) <= len(options):
            return False
        order_table.take_one(self, offered.text, options[int(chosen) - 1])
        return True

    def _take_label(self, typed: Typed, named: str) -> None:
        from abluent.shell.talk.pasted_label import add_pasted

        add_pasted(self, typed, named)


def open_shell(session: Session, desk: Desk | None = None) -> int:
    """Open the shell on the terminal, or read lines from a pipe; return the code.

    Args:
        session: what answers.
        desk: opens the desk on a session until it is closed.
    """
    spoken = sys.stdin.isatty()
    shell = InteractiveShell(
        session,
        _reader(session),
        sys.stdout,
        page=lambda: reports.page_of(sys.stdout),
        rows=lambda: reports.rows_of(sys.stdout),
    )
    shell.signs, shell.open_desk = sys.stdout.isatty(), desk
    if spoken:
        shell.say(WELCOME)
    code = shell.run()
    session.keep()
    # A person at a terminal has seen every message; only scripts need the code.
    return reports.ANSWERED if spoken else code


def _reader(session: Session) -> Reader:
    if not (sys.stdin.isatty() and sys.stdout.isatty() and reports.can_draw()):
        return PlainReader(sys.stdin, sys.stdout, spoken=sys.stdin.isatty())
    from abluent.engine.disk import data_folder
    from abluent.shell.talk.completion import SessionCompleter
    from abluent.shell.talk.prompt import PromptReader

    return PromptReader(
        SessionCompleter(session),
        data_folder() / "history",
        plain=not reports.has_styles(),
    )
