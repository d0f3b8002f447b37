"""The orders of the shell about a routine: what builds up, and which washes do."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from abluent.engine.disk import read_text

if TYPE_CHECKING:
    from abluent.grammar.routine.tree import Routine
    from abluent.shell.talk.sitting import Sitting

EXAMPLES = (
    "wash twice a week",
    'use "{product}" after every wash',
    "clear everything every 3 washes",
)
"""A routine whose washes a plan is to choose."""


def account(shell: Sitting, word: str) -> None:
    """Say what each routine builds up; without a file, ask for its lines.

    Raises:
        CommandError: there is no such file.
        DataError: it cannot be read.
    """
    from abluent.engine.routines.outcome import account_of
    from abluent.shell.routine.page import account_page

    def page(routine: Routine) -> str:
        world = shell.session.world
        found = account_of(routine, world)
        return account_page(found, world, shell.width, steps=False, why=False)

    _each(shell, word, page)


def plan(shell: Sitting, word: str) -> None:
    """Plan the washes for each routine; raises as `account` does."""
    from abluent.engine.routines.outcome import plan_of
    from abluent.shell.routine.page import plan_page

    def page(routine: Routine) -> str:
        world = shell.session.world
        found = plan_of(routine, world)
        return plan_page(found, world, shell.width, why=False)

    _each(shell, word, page)


def _each(shell: Sitting, word: str, page: Callable[[Routine], str]) -> None:
    from abluent.shell.routine.read import routines_of

    path = Path(word).expanduser()
    text = read_text(path) if word else _lines(shell)
    place, form = (word, path.suffix.casefold()) if word else ("the routine", "")
    for found in routines_of(text, place, shell.session.shelf, form=form):
        if found.error is not None:
            raise found.error
        assert found.routine is not None
        shell.show(page(found.routine))


def _lines(shell: Sitting) -> str:
    """Ask for the lines of a routine until an empty one."""
    labels = shell.session.shelf.labels
    other = next((x for x in labels if x.kind not in {"wash", "co-wash"}), None)
    product = other.product if other else "Harbour Cream"
    shell.say("The routine, a line each; an empty line ends it. Such as:")
    for line in EXAMPLES:
        shell.say(f"  {line.format(product=product)}")
    lines = []
    while line := shell.reader.answer("…"):
        lines.append(line)
    return "\n".join(lines)
