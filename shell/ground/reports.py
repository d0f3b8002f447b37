"""Errors turned into text and an exit code; nowhere else is that done."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable
from contextlib import suppress
from typing import TextIO

from abluent.engine.faults import Problem, ShellError
from abluent.grammar.common.text import visible

ANSWERED, DATA_IS_WRONG, COMMAND_IS_WRONG = 0, 1, 2
SUPPOSED = 3
"""The exit code of a trace that holds only under what it supposes."""
INTERRUPTED = 130
NOTES_SHOWN = 5
WIDTH = 80
"""Columns where there is no terminal."""


def reported(run: Callable[[], int]) -> int:
    """Run a command; report what it raises on standard error.

    Returns the exit code: what the command returned, or what its error stands for.
    """
    try:
        code = run()
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read the output has gone, as in `abluent … | head`: no fault.
        with suppress(OSError, ValueError):
            sys.stdout = open(os.devnull, "w", encoding="utf-8")
        return ANSWERED
    except KeyboardInterrupt:
        complain("stopped")
        return INTERRUPTED
    except OSError as error:
        # What is read and written in the open has errors of its own; this is what
        # is left: a full disk under the output, or the system at its limits.
        with suppress(OSError, ValueError):
            sys.stdout = open(os.devnull, "w", encoding="utf-8")
        complain(system_said(error))
        return DATA_IS_WRONG
    except Exception as error:
        code = exit_code(error)
        complain(said(error))
    return code


def system_said(error: OSError) -> str:
    """Return what the system refused, as text."""
    place = f'"{error.filename}"' if error.filename else "the output"
    return f"{place} could not be read or written: {error.strerror or error}"


def exit_code(error: Exception) -> int:
    """Return the exit code an error stands for.

    Raises:
        Exception: the error itself, where it is a fault of the program.
    """
    from abluent.engine.errors import EngineError
    from abluent.grammar.common.errors import GrammarError

    if isinstance(error, ShellError):
        return error.exit_code
    if isinstance(error, GrammarError):
        return COMMAND_IS_WRONG
    if isinstance(error, EngineError):
        return DATA_IS_WRONG
    raise error


def said(error: Exception) -> str:
    """Return an error as text: the thing, the place with a caret, what to try."""
    from abluent.grammar.common.errors import GrammarError

    return error.render() if isinstance(error, GrammarError) else str(error)


def page_of(out: TextIO) -> tuple[int, bool]:
    """Return the columns to wrap to, and whether bold text may be used."""
    return columns(), out.isatty() and has_styles()


def columns() -> int:
    """Return the columns of the terminal; `COLUMNS` in the environment goes first.

    As `shutil.get_terminal_size` does, whose module takes longer to import than a
    page to be written.
    """
    named = os.environ.get("COLUMNS", "")
    if named.isdecimal() and int(named):
        return int(named)
    with suppress(ValueError, OSError):
        if sys.__stdout__ is not None:
            return os.get_terminal_size(sys.__stdout__.fileno()).columns or WIDTH
    return WIDTH


def rows_of(out: TextIO) -> int:
    """Return the rows of the screen that is written to; 24 if it is none.

    `LINES` is not asked: it is passed on to programs on a screen of another size.
    """
    try:
        return os.get_terminal_size(out.fileno()).lines
    except (OSError, ValueError):
        return 24


def has_styles() -> bool:
    """Return whether the terminal can set text in bold and nobody asked it not to."""
    return not os.environ.get("NO_COLOR") and can_draw()


def can_draw() -> bool:
    """Return whether the terminal can do more than print lines."""
    return os.environ.get("TERM", "dumb") not in {"", "dumb", "unknown"}


def complain(text: str) -> None:
    """Print a message on standard error."""
    with suppress(OSError, ValueError):
        print(visible(text, keep="\n\t"), file=sys.stderr)


def complain_of(problems: Iterable[Problem]) -> None:
    """Print every problem on standard error."""
    for problem in problems:
        complain(str(problem))


def mention(notes: tuple[Problem, ...]) -> None:
    """Print the first few notes on standard error, and how many more there are."""
    complain_of(notes[:NOTES_SHOWN])
    more = len(notes) - NOTES_SHOWN
    if more > 0:
        complain(f"… and {more} more such notes")
