"""What the user taught: a layer of their own over the base, in the data folder.

Every addition is one file in the folder `knowledge`, `0001-kelp-foam.ttl` or
`0002-late-foam.rules`, and is never changed. Taking one back moves it to the folder
`untaught`, from which it can be taught again; the shipped base is never written to.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from abluent.engine.disk import (
    LOCK_SECONDS,
    data_folder,
    data_place,
    write_file,
)
from abluent.engine.faults import CommandError, DataError, Problem

# Every question looks whether something was taught, and hardly any unpacks it.
if TYPE_CHECKING:
    from pathlib import Path

TURTLE, RULES, BOTH = ".ttl", ".rules", ".zip"
_FILE = re.compile(r"(\d{4,})-(.+)\.(ttl|rules)")


class Part(NamedTuple):
    """A text of knowledge; `ending` is that of its file, `.ttl` or `.rules`."""

    name: str
    ending: str
    text: str


class Taught(NamedTuple):
    """One addition: its number, a short name, and the file it is kept in."""

    number: int
    name: str
    path: Path


class Layer:
    """The user's own additions, in the order in which they were taught."""

    _where = "knowledge"

    def __init__(self, folder: Path | None = None) -> None:
        """Name a layer; nothing is read or made until it is asked for."""
        self._given = folder

    @cached_property
    def _data(self) -> Path:
        return self._given or data_folder()

    @property
    def folder(self) -> Path:
        """Where the additions lie."""
        return self._data / self._where

    def additions(self) -> list[Taught]:
        """Return every addition; a file with another name counts as none."""
        if not os.path.isdir(os.path.join(self._given or data_place(), self._where)):
            return []
        found = ((_FILE.fullmatch(path.name), path) for path in self.folder.iterdir())
        named = [Taught(int(m[1]), m[2], path) for m, path in found if m]
        return sorted(named, key=lambda each: each.path.name)

    def paths(self, *, but: Sequence[Taught] = ()) -> list[Path]:
        """Return the files of all additions but some."""
        gone = {each.path for each in but}
        return [each.path for each in self.additions() if each.path not in gone]

    def find(self, word: str) -> Taught:
        """Return the addition of a number or name; without one, the last.

        Raises:
            CommandError: there is none.
        """
        every = self.additions()
        if not every:
            raise CommandError(Problem("nothing was taught yet", hint="try: teach"))
        if not word:
            return every[-1]
        fitting = [e for e in every if word in {str(e.number), e.name, e.path.name}]
        if not fitting:
            what = f'nothing of the name or number "{word}" was taught'
            raise CommandError(Problem(what, hint="`taught` lists what was"))
        return fitting[-1]

    def keep(self, parts: Sequence[Part], seen: Sequence[Path]) -> list[Taught]:
        """Keep an addition, each text in a file of its own.

        Args:
            parts: the texts.
            seen: the files of the layer over which they were looked at.

        Raises:
            DataError: the layer was changed since, or cannot be written.
        """
        with self._locked():
            if self.paths() != list(seen):
                what = "something else was taught, or taken back, in the meantime"
                raise DataError(Problem(what, hint="teach it again, to look anew"))
            made: list[Taught] = []
            try:
                for part in parts:
                    made.append(self._write(part))
            except BaseException:
                for each in made:  # all of an addition is kept, or none
                    each.path.unlink(missing_ok=True)
                raise
            return made

    def take_back(self, addition: Taught) -> Path:
        """Take an addition out of the layer; return where it lies now.

        Raises:
            DataError: it is gone, or the folder cannot be written.
        """
        with self._locked():
            aside = self._data / "untaught"
            try:
                aside.mkdir(exist_ok=True)
                addition.path.replace(aside / addition.path.name)
            except OSError as error:
                what = f'"{addition.path}" could not be moved: {error.strerror}'
                raise DataError(Problem(what)) from error
            return aside / addition.path.name

    def draft(self, part: Part) -> Path:
        """Put a text that was refused where it can be mended; return its place.

        Raises:
            DataError: the folder cannot be written.
        """
        with self._locked():
            folder = self._data / "drafts"
            folder.mkdir(exist_ok=True)
            path = folder / f"{part.name}{part.ending}"
            write_file(path, part.text, overwrite=True)
            return path

    def _write(self, part: Part) -> Taught:
        number = max((e.number for e in self._all_time()), default=0) + 1
        path = self.folder / f"{number:04}-{part.name}{part.ending}"
        write_file(path, part.text)
        return Taught(number, part.name, path)

    def _all_time(self) -> list[Taught]:
        # A number is not given twice, so that nothing set aside is overwritten.
        return [*self.additions(), *_Aside(self._data).additions()]

    @contextmanager
    def _locked(self) -> Iterator[None]:
        from filelock import FileLock, Timeout

        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            with FileLock(self._data / "knowledge.lock", timeout=LOCK_SECONDS):
                yield
        except Timeout:
            what = "what was taught is being changed by another abluent"
            hint = "try again when that one is done"
            raise DataError(Problem(what, hint=hint)) from None
        except OSError as error:
            place, why = error.filename or self.folder, error.strerror or error
            what = f'"{place}" could not be written: {why}'
            raise DataError(Problem(what)) from error


class _Aside(Layer):
    _where = "untaught"


# -- files ---------------------------------------------------------------------


def of_kind(paths: Sequence[Path], ending: str) -> list[Path]:
    """Return the folders, and the files of one ending, among files of knowledge.

    Raises:
        CommandError: one is not there, or is no file of knowledge.
    """
    for path in paths:
        if not path.exists():
            raise CommandError(Problem(f'there is no file or folder "{path}"'))
        if path.is_file() and path.suffix not in {TURTLE, RULES}:
            raise CommandError(
                Problem(
                    f'"{path}" does not end like knowledge',
                    hint="name a .ttl or .rules file, or a folder of them",
                )
            )
    return [path for path in paths if path.is_dir() or path.suffix == ending]


def slug(text: str) -> str:
    """Return a text as a local name, such as `kelp-foam` for `Kelp Foam`."""
    import unicodedata

    plain = unicodedata.normalize("NFKD", text.casefold())
    letters = plain.encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", letters)[:60].strip("-") or "addition"
