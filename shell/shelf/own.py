"""The user's own shelves: JSON Lines in the data folder, which last.

Every change is one locked, atomic write of the whole file, and leaves the text as
it was before in the folder `earlier`, from which `undo` takes it back. Changes
work on lines of text, so that a line this program cannot read stays as it is.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from abluent.engine.disk import LOCK_SECONDS, data_folder, read_text, write_file
from abluent.engine.faults import CommandError, DataError, Problem
from abluent.shell.shelf.as_jsonl import parse_jsonl
from abluent.shell.shelf.shelf import Shelf, ShelfLabel, as_fields, same_name

if TYPE_CHECKING:
    from pathlib import Path

EARLIER_KEPT = 30
_NAME = re.compile(r"[\w][\w -]{0,63}")


class OwnShelf:
    """One shelf of the user's, by name."""

    def __init__(self, name: str, folder: Path | None = None) -> None:
        """Name a shelf; nothing is read or made until it is asked for.

        Raises:
            CommandError: the name cannot be that of a file.
        """
        if not _NAME.fullmatch(name):
            raise CommandError(
                Problem(
                    f'"{name}" cannot name a shelf',
                    hint="use letters, digits, spaces and hyphens",
                )
            )
        self.name = name
        self._folder = (folder or data_folder()) / "shelves"

    @property
    def path(self) -> Path:
        """The file the shelf is kept in."""
        return self._folder / f"{self.name}.jsonl"

    def stamp(self) -> tuple[int, int] | None:
        """Return what tells one state of the file from another, if there is one."""
        try:
            found = self.path.stat()
        except OSError:
            return None
        return found.st_mtime_ns, found.st_size

    def load(self) -> Shelf:
        """Return the shelf as it stands; one that was never written is empty.

        Raises:
            DataError: the file cannot be read at all.
        """
        return parse_jsonl(self._text(), self.name, str(self.path))

    def add(self, label: ShelfLabel) -> None:
        """Put a product on the shelf.

        Raises:
            DataError: a product of that name is on it, or the file is in use.
        """
        with self._changing() as lines:
            if _line_of(lines, label.product) is not None:
                raise DataError(
                    Problem(
                        f'"{label.product}" is on the shelf "{self.name}" already',
                        hint="give the new one another name, or drop the old one first",
                    )
                )
            row = {**as_fields(label), **label.extra}
            lines.append(json.dumps(row, ensure_ascii=False))

    def drop(self, product: str) -> None:
        """Take a product off the shelf.

        Raises:
            CommandError: no product of that name is on it.
            DataError: the file is in use.
        """
        with self._changing() as lines:
            at = _line_of(lines, product)
            if at is None:
                raise self._not_there(product)
            del lines[at]

    def replace(self, product: str, label: ShelfLabel) -> None:
        """Put another label in the place of a product's, under its name or a new one.

        Raises:
            CommandError: no product of that name is on the shelf.
            DataError: another product has the new name, or the file is in use.
        """
        with self._changing() as lines:
            at = _line_of(lines, product)
            if at is None:
                raise self._not_there(product)
            if _line_of(lines, label.product) not in {None, at}:
                what = f'"{label.product}" is on the shelf "{self.name}" already'
                raise DataError(Problem(what, hint="give it another name"))
            row = {**_row(lines[at]), **as_fields(label)}
            lines[at] = json.dumps(row, ensure_ascii=False)

    def set_condition(self, aspect: str, word: str) -> None:
        """Say how hair is washed, such as `water`, `hard`.

        Raises:
            DataError: the file is in use.
        """
        with self._changing() as lines:
            others = [line for line in lines if not _is_head(line)]
            heads = [_row(line) for line in lines if _is_head(line)]
            said = {"shelf": self.name} | (heads[0] if heads else {}) | {aspect: word}
            lines[:] = [json.dumps(said, ensure_ascii=False), *others]

    def undo(self) -> int:
        """Take back the last change; return how many more can be taken back.

        Raises:
            CommandError: there is nothing to take back.
            DataError: the file is in use.
        """
        with self._locked():
            earlier = self._earlier()
            if not earlier:
                raise CommandError(
                    Problem(f'nothing was changed on the shelf "{self.name}"')
                )
            write_file(self.path, read_text(earlier[-1]), overwrite=True)
            earlier[-1].unlink()
            return len(earlier) - 1

    def _not_there(self, product: str) -> CommandError:
        what = f'no product "{product}" is on the shelf "{self.name}"'
        return CommandError(Problem(what, hint="`shelf` lists what is on it"))

    def _text(self) -> str:
        return read_text(self.path) if self.path.exists() else ""

    def _earlier(self) -> list[Path]:
        return sorted((self._folder / "earlier").glob(f"{self.name}.*.jsonl"))

    @contextmanager
    def _changing(self) -> Iterator[list[str]]:
        """Hand out the lines to change; write them if the change raised nothing."""
        with self._locked():
            before = self._text()
            lines = [line for line in before.split("\n") if line.strip()]
            yield lines
            after = "".join(f"{line}\n" for line in lines)
            if after != before:
                self._remember(before)
                write_file(self.path, after, overwrite=True)

    def _remember(self, text: str) -> None:
        earlier = self._earlier()
        last = int(earlier[-1].name.split(".")[-2]) if earlier else 0
        folder = self._folder / "earlier"
        folder.mkdir(exist_ok=True)
        write_file(folder / f"{self.name}.{last + 1:06}.jsonl", text)
        for old in earlier[: max(0, len(earlier) + 1 - EARLIER_KEPT)]:
            old.unlink()

    @contextmanager
    def _locked(self) -> Iterator[None]:
        # Imported here, as only a change needs it.
        from filelock import FileLock, Timeout

        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            with FileLock(f"{self.path}.lock", timeout=LOCK_SECONDS):
                yield
        except Timeout:
            raise DataError(
                Problem(
                    f'the shelf "{self.name}" is being changed by another abluent',
                    hint="try again when that one is done",
                )
            ) from None
        except OSError as error:
            raise DataError(
                Problem(
                    f'"{error.filename or self._folder}" could not be written: '
                    f"{error.strerror or error}"
                )
            ) from error


def _row(line: str) -> dict[str, object]:
    try:
        value = json.loads(line)
    except (ValueError, RecursionError):
        return {}
    return value if isinstance(value, dict) else {}


def _is_head(line: str) -> bool:
    return "shelf" in _row(line)


def _line_of(lines: list[str], product: str) -> int | None:
    for number, line in enumerate(lines):
        name = _row(line).get("product")
        if isinstance(name, str) and same_name(name) == same_name(product):
            return number
    return None
