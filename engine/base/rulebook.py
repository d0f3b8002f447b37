"""The rules of the base as one program, read from disk once.

Rule files lie beside the Turtle files. The compiled program is kept like the packed
base, so that a cold start imports no parser.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import TYPE_CHECKING

from abluent.engine.base import cache
from abluent.engine.base import files as _files
from abluent.engine.base.files import BaseFile
from abluent.engine.logic.program import Program, load_program

if TYPE_CHECKING:
    from pathlib import Path

    from abluent.engine.base.store import Base


def load_rulebook(
    extra: Sequence[Path] = (),
    *,
    cache_folder: Path | None = None,
    instead: Path | None = None,
) -> Program:
    """The shipped rules with a user's own rule files after them.

    Args:
        extra: files or folders of rules.
        cache_folder: where the compiled program is kept; the user's own cache
            folder if not given.
        instead: a folder that holds another version of the shipped base.

    Raises:
        ProgramError: a rule is refused; it holds every problem with its place.
        OSError: a file cannot be read.
    """
    folder = None if cache_folder is None else str(cache_folder)
    with _files.shipped_folder(instead) as shipped:
        files = _rule_files(os.path.join(shipped, "rules"))
        for path in extra:
            found = str(path)
            files += _rule_files(found) if path.is_dir() else [_rule_file(found)]
        cached = cache.Cached.of(files, folder)
        plain = cached.recall()
        if plain is not None:
            program = Program.undump(plain)
        else:
            program = load_program((file.name, file.text()) for file in files)
            cached.remember(program.dump())
    program.stamps, program.files = cached.stamps, tuple(files)
    return program


def require_known(program: Program, base: Base) -> None:
    """Refuse rules that speak of what the base does not know.

    It is looked once: that these rules and this base go together is kept beside them.

    Raises:
        ProgramError: with every such name, its place and the nearest that would do.
    """
    kept = None
    if base.cached is not None and program.stamps is not None:
        kept = base.cached.beside("known", [program.stamps])
        if kept.recall():
            return
    # Left out of a start that does not need it.
    from abluent.engine.base.strict import refuse_strange  # noqa: PLC0415

    refuse_strange(program, base)
    if kept is not None:
        kept.remember(True)


def _rule_files(folder: str) -> list[BaseFile]:
    found = []
    for where, folders, names in os.walk(folder):
        folders.sort()
        here = sorted(name for name in names if name.endswith(".rules"))
        found += [_rule_file(os.path.join(where, name)) for name in here]
    return found


def _rule_file(path: str) -> BaseFile:
    return BaseFile(os.path.basename(path), path)
