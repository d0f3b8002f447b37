"""The folder of a batch while it is made: what is finished stays when it is stopped.

Each page is written as its question is answered, and noted in `unfinished.jsonl`. Who
asks the same of the same shelf and base again goes on after the last page noted. Once
all is answered the index and the table are written and the note is taken away.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from abluent.engine.base import files
from abluent.engine.base.cache import code_stamp
from abluent.engine.disk import write_file
from abluent.engine.faults import CommandError, DataError, Problem
from abluent.shell.session.batch import (
    INDEX,
    TABLE,
    Entry,
    answered,
    index_of,
    table_of,
)
from abluent.shell.session.session import Session

UNFINISHED = "unfinished.jsonl"
_CODE = ("engine/questions/answers", "engine/questions/verbs", "shell/pages")


def answer_into(  # noqa: PLR0913 - each can be said by itself
    session: Session,
    questions: Sequence[str],
    place: Path,
    *,
    overwrite: bool = False,
    check: bool = False,
    watch: Callable[[], object] | None = None,
) -> Sequence[Entry]:
    """Answer questions into a folder, and go on where an earlier run was stopped.

    Args:
        session: asked.
        questions: in the words of the query language.
        place: the folder.
        overwrite: whether pages that are there may be replaced.
        check: whether each page has every step, gone through again by the checker.
        watch: called for each question, those done before too.

    Raises:
        CommandError: the folder is there, and `overwrite` was not asked for.
        DataError: the system refused to write.
    """
    day = date.today().isoformat()
    digest = digest_of(session, day, check, len(str(len(questions))))
    folder = Folder(place, digest, overwrite=overwrite)
    entries = [*folder.begin(questions)]
    tick = watch or (lambda: None)
    for _ in entries:
        tick()
    for entry, page in answered(session, questions, entries, day, check=check):
        folder.put(entry, page)
        entries.append(entry)
        tick()
    index = index_of(entries, session.shelf.name, day)
    folder.finish((TABLE, table_of(entries)), (INDEX, index))
    return entries


class Folder:
    """A folder that pages are put in.

    Args:
        place: where it is, or is to be.
        digest: what changes with all that its pages depend on.
        overwrite: whether pages that are there may be replaced.

    Raises:
        CommandError: the folder is there, holds something that is no unfinished
            batch, and `overwrite` was not asked for.
        DataError: the system refused.
    """

    def __init__(self, place: Path, digest: str, *, overwrite: bool = False) -> None:
        self._place, self._digest = place, digest
        self.done: list[Entry] = []
        """What was finished before, of the same shelf and base."""
        note = place / UNFINISHED
        if note.is_file():
            self.done = _noted(note, digest)
        elif place.exists() and not overwrite and not _is_empty(place):
            what = f'"{place}" is there already and was left as it is'
            hint = "name another folder, or add --overwrite to replace its pages"
            raise CommandError(Problem(what, hint=hint))
        try:
            place.mkdir(exist_ok=True)
        except OSError as error:
            what = f'"{place}" could not be made: {error.strerror or error}'
            hint = "make its parent folder first"
            raise DataError(Problem(what, hint=hint)) from error

    def begin(self, questions: Sequence[str]) -> Sequence[Entry]:
        """Return what is done of these questions; the note holds only that now."""
        same = 0
        for entry, question in zip(self.done, questions, strict=False):
            kept = not entry.page or (self._place / entry.page).is_file()
            if entry.question != question or not kept:
                break
            same += 1
        self.done = self.done[:same]
        lines = [{"digest": self._digest}, *map(_plain, self.done)]
        self.write(UNFINISHED, "".join(map(_line, lines)))
        return self.done

    def put(self, entry: Entry, page: str) -> None:
        """Keep what came of one question: its page first, then the note of it."""
        if entry.page:
            self.write(entry.page, page)
        try:
            with (self._place / UNFINISHED).open("a", encoding="utf-8") as note:
                note.write(_line(_plain(entry)))
        except OSError as error:
            what = f'"{self._place}" could not be written: {error.strerror or error}'
            hint = "make room, then run the same again to go on"
            raise DataError(Problem(what, hint=hint)) from error

    def write(self, name: str, text: str) -> None:
        """Write a file of the folder."""
        write_file(self._place / name, text, overwrite=True)

    def finish(self, table: tuple[str, str], index: tuple[str, str]) -> None:
        """Write the table and the index; the batch is whole now."""
        self.write(*table)
        self.write(*index)
        (self._place / UNFINISHED).unlink(missing_ok=True)


def digest_of(session: Session, *told: object) -> str:
    """What changes with all that the answers of a session depend on."""
    code = [code_stamp(each) for each in _CODE]
    found = hashlib.sha256(repr((code, session.practice, *told)).encode())
    shelf = session.shelf
    said = (shelf.name, sorted(shelf.conditions.items()), [*map(repr, shelf.labels)])
    found.update(repr(said).encode("utf-8", "backslashreplace"))
    instead, layers = session.grounds()
    with files.shipped_folder(instead) as folder:
        rules = [files.BaseFile(str(e), str(e)) for e in Path(folder).rglob("*.rules")]
        for each in [*files.below(folder), *sorted(rules), *files.layers(layers)]:
            found.update(repr(each.stamp()).encode("utf-8", "backslashreplace"))
    return found.hexdigest()


def _noted(note: Path, digest: str) -> list[Entry]:
    """What a note says is done; a line that was cut off as it was written ends it."""
    entries: list[Entry] = []
    try:
        lines = note.read_text("utf-8", "replace").splitlines()
        if not lines or json.loads(lines[0]) != {"digest": digest}:
            return []
        for line in lines[1:]:
            entry = Entry(**json.loads(line))
            cells = tuple(tuple(map(str, each)) for each in entry.lines)
            if Path(entry.page).name != entry.page:
                break
            entries.append(replace(entry, lines=cells))
    except (OSError, ValueError, TypeError):
        pass
    return entries


def _plain(entry: Entry) -> dict[str, object]:
    return {name: getattr(entry, name) for name in Entry.__dataclass_fields__}


def _line(data: object) -> str:
    return json.dumps(data) + "\n"


def _is_empty(folder: Path) -> bool:
    return folder.is_dir() and not any(folder.iterdir())
