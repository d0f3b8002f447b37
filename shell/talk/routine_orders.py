"""The orders of the shell about a routine: what builds up, and which washes do.

A routine is a file, or is typed line by line: a line that is wrong is told and left
out, and all that was right before it stays. `to FILE` at the end of an order writes
the calendar or the picture of it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from abluent.engine.disk import read_text
from abluent.engine.faults import ShellError

if TYPE_CHECKING:
    from abluent.engine.questions.answers.answer import Answer
    from abluent.grammar.routine.tree import Routine
    from abluent.shell.routine.heard import HeardWeek
    from abluent.shell.talk.sitting import Sitting

_OUT = "out"
"""The word that takes the last line out again."""


@dataclass(frozen=True)
class _Done:
    """What came of a routine: its page, short and whole, its reasons, what to write."""

    page: Callable[[bool], str]
    answer: Callable[[], Answer]
    write: Callable[[Path], None]


def account(shell: Sitting, words: Sequence[str]) -> None:
    """Say what each routine builds up; without a file, ask for its lines.

    Raises:
        CommandError: there is no such file.
        DataError: it cannot be read.
    """
    from abluent.shell.routine.examples import account_lines

    _each(shell, words, account_lines(shell.session.world), _accounting(shell))


def plan(shell: Sitting, words: Sequence[str]) -> None:
    """Plan the washes for each routine; raises as `account` does."""
    from abluent.shell.routine.examples import plan_lines

    _each(shell, words, plan_lines(shell.session.world), _planning(shell))


def heard(shell: Sitting, week: HeardWeek) -> None:
    """Account for a week that was told in free speech, and plan it if that is asked.

    Raises:
        DataError: it contradicts itself.
        CommandError: there is no solver.
    """
    from abluent.shell.routine.heard import done

    routine = done(week, shell.session.shelf)
    if week.accounted:
        _shown(shell, _accounting(shell)(routine), "")
    if week.planned:
        _shown(shell, _planning(shell)(routine), "")


def _accounting(shell: Sitting) -> Callable[[Routine], _Done]:
    """What makes an account of a routine."""
    from abluent.engine.routines.outcome import account_of
    from abluent.shell.routine.page import account_page
    from abluent.shell.routine.written import write_account

    world = shell.session.world

    def done(routine: Routine) -> _Done:
        found = account_of(routine, world)
        return _Done(
            lambda rows: account_page(found, world, shell.width, rows=rows),
            found.answer,
            lambda path: write_account(path, [found], world),
        )

    return done


def _planning(shell: Sitting) -> Callable[[Routine], _Done]:
    """What makes a plan of a routine."""
    from abluent.engine.routines.plan_outcome import plan_of
    from abluent.shell.routine.page import plan_page
    from abluent.shell.routine.written import write_plan

    world = shell.session.world

    def done(routine: Routine) -> _Done:
        found = plan_of(routine, world)
        return _Done(
            lambda rows: plan_page(found, world, shell.width),
            found.answer,
            lambda path: write_plan(path, [found], world),
        )

    return done


def _each(
    shell: Sitting,
    words: Sequence[str],
    examples: Sequence[str],
    done: Callable[[Routine], _Done],
) -> None:
    from abluent.shell.routine.read import routines_of

    file, out = _parted(words)
    if not file:
        found = _typed(shell, examples, done)
        if found is not None:
            _shown(shell, found, out)
        return
    path = Path(file).expanduser()
    form = path.suffix.casefold()
    for each in routines_of(read_text(path), file, shell.session.shelf, form=form):
        if each.error is not None:
            raise each.error
        assert each.routine is not None
        _shown(shell, done(each.routine), out)


def _parted(words: Sequence[str]) -> tuple[str, str]:
    """The file that an order names, and the one that it is to write."""
    if "to" in words[:-1]:
        at = len(words) - 1 - list(words[::-1]).index("to")
        return " ".join(words[:at]), " ".join(words[at + 1 :])
    return " ".join(words), ""


def _shown(shell: Sitting, found: _Done, out: str) -> None:
    shell.show(found.page(False))
    shell.session.told(found.answer)
    shell.rows_page = lambda: found.page(True)
    if out:
        path = Path(out).expanduser()
        found.write(path)
        shell.say(f'It is in "{path}".')


# --- line by line ---------------------------------------------------------------------


def _typed(
    shell: Sitting, examples: Sequence[str], done: Callable[[Routine], _Done]
) -> _Done | None:
    """Ask for the lines of a routine until an empty one; nothing if there are none."""
    shell.say("The routine, a line each; an empty line ends it. Such as:")
    for line in examples:
        shell.say(f"  {line}")
    lines: list[str] = []
    while True:
        try:
            line = shell.reader.answer("…")
        except EOFError:
            if not lines:
                raise
            return _tried(shell, lines, done)
        if line.casefold() == _OUT and lines:
            shell.say(f"Out again: {lines.pop()}")
        elif line:
            _take(shell, lines, line)
        elif not lines:
            return None
        elif (found := _tried(shell, lines, done)) is not None:
            return found


def _take(shell: Sitting, lines: list[str], line: str) -> None:
    """Take a line in, if it can be read beside those before it."""
    from abluent.shell.routine.read import routines_of

    quoted = _in_quotes(line, shell.session.world.products)
    if quoted != line:
        shell.say(f"Read as: {quoted}")
        line = quoted
    try:
        for each in routines_of("\n".join([*lines, line]), "", shell.session.shelf):
            if each.error is not None:
                raise each.error
    except ShellError as error:
        shell.complain(error)
        shell.say(_kept(lines))
    else:
        lines.append(line)


def _in_quotes(line: str, names: Iterable[str]) -> str:
    """A line in which the products of the shelf that it names stand in quotes.

    What stands in quotes already, and a line that begins with what it is called, such
    as `routine`, is left as it is.
    """
    if line.casefold().startswith(("routine", "#")):
        return line
    parts = line.split('"')
    longest = sorted(names, key=len, reverse=True)
    pattern = "|".join(
        rf"(?<![\w“\u2018«'`]){re.escape(name)}(?!\w)" for name in longest if name
    )
    spelt = {name.casefold(): name for name in longest}

    def quote(found: re.Match[str]) -> str:
        return f'"{spelt.get(found[0].casefold(), found[0])}"'

    for n in range(0, len(parts), 2):
        if pattern:
            parts[n] = re.sub(pattern, quote, parts[n], flags=re.IGNORECASE)
    return '"'.join(parts)


def _tried(
    shell: Sitting, lines: list[str], done: Callable[[Routine], _Done]
) -> _Done | None:
    """What comes of some lines; nothing, and what is wrong told, if they clash."""
    from abluent.shell.routine.read import routines_of

    try:
        (only,) = routines_of("\n".join(lines), "", shell.session.shelf)
        if only.error is not None:
            raise only.error
        assert only.routine is not None
        return done(only.routine)
    except ShellError as error:
        shell.complain(error)
        shell.say(f"{_kept(lines)} `{_OUT}` takes the last line out again.")
        return None


def _kept(lines: Sequence[str]) -> str:
    if not lines:
        return "Write it again; an empty line gives it up."
    count = "1 line is" if len(lines) == 1 else f"{len(lines)} lines are"
    return f"{count} kept; go on, or end with an empty line."
