"""What a session stands on: the installed base or one of one's own, and layers.

What only lists a shelf needs no more than its words; the rules and the reasoner are
left alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from abluent.engine.base.files import starter_folder
from abluent.engine.base.store import Base
from abluent.engine.faults import CommandError, Problem
from abluent.engine.teach.layer import of_kind
from abluent.shell.shelf.words import installed

if TYPE_CHECKING:
    from pathlib import Path


def load_base(knowledge: Sequence[Path] = (), instead: Path | None = None) -> Base:
    """Read the base, and the user's own Turtle files over it.

    Args:
        knowledge: the user's own files, or folders of them.
        instead: a folder that holds a base of one's own.

    Raises:
        CommandError: one of the user's files is not there, or is of no known kind.
        BaseError: a file cannot be read, or is refused.
        MissingRoles: nothing in a base of one's own plays some parts.
    """
    folder, every = grounds(knowledge, instead)
    layers = of_kind(every, ".ttl")
    if folder is None:
        return Base.load(layers) if layers else installed()
    base = Base.load(layers, instead=folder)
    base.check_roles()
    return base


def grounds(
    knowledge: Sequence[Path], instead: Path | None
) -> tuple[Path | None, Sequence[Path]]:
    """Return the folder that a base stands on, if it is not the shipped one, and what
    lies over it.

    A base of one's own that brings no rules stands on the common ground.

    Raises:
        CommandError: there is no such folder.
    """
    if instead is None:
        return None, knowledge
    if not instead.is_dir():
        hint = "name a folder of .ttl files; `BASES.md` tells how to write one"
        raise CommandError(Problem(f'there is no folder "{instead}"', hint=hint))
    if (instead / "rules").is_dir():
        return instead, knowledge
    return starter_folder(), [instead, *knowledge]
