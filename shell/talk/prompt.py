"""Lines from a terminal, by prompt_toolkit: history, completion, pasting."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from abluent.shell.talk.colours import STYLE, QuestionLexer
from abluent.shell.talk.lines import PROMPT, Typed
from prompt_toolkit import PromptSession
from prompt_toolkit.completion import Completer, WordCompleter
from prompt_toolkit.history import FileHistory, History, InMemoryHistory
from prompt_toolkit.input import Input
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
from prompt_toolkit.keys import Keys
from prompt_toolkit.output import ColorDepth, Output


class PromptReader:
    """Reads with editing, history and completion."""

    def __init__(
        self,
        completer: Completer | None,
        history: Path | None,
        *,
        plain: bool = False,
        source: Input | None = None,
        out: Output | None = None,
    ) -> None:
        """Prepare the prompt.

        Args:
            completer: offers what can come next.
            history: the file earlier lines are kept in; without it they are not.
            plain: no colours.
            source: where keys come from, if not the terminal.
            out: where the prompt is drawn, if not the terminal.
        """
        depth = ColorDepth.DEPTH_1_BIT if plain else None
        self._pasted = False
        self._questions: PromptSession[str] = PromptSession(
            completer=completer,
            complete_while_typing=False,
            history=_history(history),
            lexer=QuestionLexer(),
            style=STYLE,
            color_depth=depth,
            key_bindings=self._bindings(),
            input=source,
            output=out,
        )
        self._answers: PromptSession[str] = PromptSession(
            history=InMemoryHistory(), color_depth=depth, input=source, output=out
        )
        self._ahead = ""
        self._pager: PromptSession[bool | str] = PromptSession(
            history=InMemoryHistory(),
            style=STYLE,
            color_depth=depth,
            key_bindings=_paging_keys(),
            erase_when_done=True,
            input=source,
            output=out,
        )

    def line(self, prompt: str = PROMPT) -> Typed:
        """Read one question, order or pasted text."""
        self._pasted = False
        ahead, self._ahead = self._ahead, ""
        text = self._questions.prompt([("class:prompt", prompt)], default=ahead)
        return Typed(text, self._pasted)

    def answer(self, question: str, choices: Sequence[str] = ()) -> str:
        """Read the answer to a question, offering the choices there are."""
        offered = WordCompleter(list(choices), sentence=True) if choices else None
        text = self._answers.prompt(f"{question} ", completer=offered)
        return text.strip()

    def more(self, left: int) -> bool:
        """Wait for a key: Space or Enter goes on; q, Escape or Ctrl-C does not.

        Any other key begins the next line.
        """
        found = self._pager.prompt(
            [("class:prompt", f"{left} more lines: Space goes on, q stops ")]
        )
        self._ahead = found if isinstance(found, str) else ""
        return found is True

    def _bindings(self) -> KeyBindings:
        bindings = KeyBindings()

        @bindings.add(Keys.BracketedPaste)
        def _paste(event: KeyPressEvent) -> None:
            text = event.data.replace("\r\n", "\n").replace("\r", "\n")
            # A text pasted over several lines is whole; one line may be a piece.
            self._pasted = self._pasted or "\n" in text.strip()
            event.current_buffer.insert_text(text)

        return bindings


def _paging_keys() -> KeyBindings:
    """Return the keys that go on with a long text, or leave it, or are typed ahead."""
    bindings = KeyBindings()

    @bindings.add(Keys.Any)
    def _typing(event: KeyPressEvent) -> None:
        if event.data.isprintable() and event.data:
            event.app.exit(result=event.data)

    @bindings.add(Keys.BracketedPaste)
    def _pasting(event: KeyPressEvent) -> None:
        event.app.exit(result=event.data)

    @bindings.add(" ")
    @bindings.add("enter")
    @bindings.add("down")
    @bindings.add("pagedown")
    def _on(event: KeyPressEvent) -> None:
        event.app.exit(result=True)

    @bindings.add("q")
    @bindings.add("escape", eager=True)
    @bindings.add("c-c")
    @bindings.add("c-d")
    def _stop(event: KeyPressEvent) -> None:
        event.app.exit(result=False)

    return bindings


def _history(path: Path | None) -> History:
    """Return the history file, or one that is forgotten if it cannot be kept."""
    if path is None:
        return InMemoryHistory()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch(mode=0o600)
    except OSError:
        return InMemoryHistory()
    return FileHistory(str(path))
