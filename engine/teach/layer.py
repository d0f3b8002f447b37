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
    decode,
    read_text,
    write_bytes,
    write_file,
)
from abluent.engine.faults import CommandError, DataError, Problem

# Every question looks whether something was taught, and hardly any unpacks it.
if TYPE_CHECKING:
    import zipfile
    from pathlib import Path

TURTLE, RULES, BOTH = ".ttl", ".rules", ".zip"
_FILE = re.compile(r"(\d{4,})-(.+)\.(ttl|rules)")
_LARGEST = 10_000_000  # bytes in a file of knowledge


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
        except PermissionError as error:
            what = f'"{error.filename}" could not be written: {error.strerror}'
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


def parts_in(path: Path) -> list[Part]:
    """Read knowledge from a Turtle file, a rule file, or a `.zip` of such.

    Raises:
        CommandError: there is no such file, or it does not end like knowledge.
        DataError: it cannot be read, or is too large.
    """
    if path.suffix in {TURTLE, RULES}:
        return [Part(slug(path.stem), path.suffix, read_text(path))]
    if path.suffix == BOTH:
        return _unzipped(path)
    hint = f"name a {TURTLE} or {RULES} file, or a {BOTH} of such files"
    raise CommandError(Problem(f'"{path}" does not end like knowledge', hint=hint))


def _unzipped(path: Path) -> list[Part]:
    import zipfile

    if not path.exists():
        raise CommandError(Problem(f'there is no file "{path}"', hint="check the path"))
    try:
        with zipfile.ZipFile(path) as packed:
            return [_member(packed, info, path) for info in _members(packed)]
    except (zipfile.BadZipFile, OSError) as error:
        raise DataError(Problem(f'"{path}" could not be read: {error}')) from error


def _members(packed: zipfile.ZipFile) -> list[zipfile.ZipInfo]:
    known = {TURTLE, RULES}
    return [i for i in packed.infolist() if os.path.splitext(i.filename)[1] in known]


def _member(packed: zipfile.ZipFile, info: zipfile.ZipInfo, path: Path) -> Part:
    place = f"{path}: {info.filename}"
    with packed.open(info) as stream:
        data = stream.read(_LARGEST + 1)
    if len(data) > _LARGEST:
        raise DataError(Problem("this file is too large for knowledge", place))
    stem, ending = os.path.splitext(os.path.basename(info.filename))
    return Part(slug(stem), ending, decode(data, place))


def export(layer: Layer, path: Path, *, overwrite: bool = False) -> int:
    """Write all that was taught to one file; return how many additions it holds.

    A `.ttl` or `.rules` file holds what is of its kind; a `.zip` holds both.

    Raises:
        CommandError: nothing was taught, the ending is none of these or would
            leave something out, or the file is there already.
        DataError: a file of the layer cannot be read, or the system refused.
    """
    every = layer.additions()
    if not every:
        raise CommandError(Problem("nothing was taught yet", hint="try: teach"))
    endings = {each.path.suffix for each in every}
    if path.suffix not in ({*endings, BOTH} if len(endings) == 1 else {BOTH}):
        fits = BOTH if len(endings) > 1 else f"{endings.pop()} or {BOTH}"
        what = f'"{path}" would not hold all that was taught'
        raise CommandError(Problem(what, hint=f"let it end in {fits}"))
    if path.suffix == BOTH:
        write_bytes(path, _zipped(every), overwrite=overwrite)
    else:
        write_file(path, _joined(every, path), overwrite=overwrite)
    return len(every)


def _joined(every: Sequence[Taught], path: Path) -> str:
    texts = [read_text(each.path) for each in every]
    if path.suffix == RULES:
        return "\n".join(text.rstrip("\n") + "\n" for text in texts)
    from abluent.engine.base.turtle import canonical
    from abluent.engine.teach.trial import refused

    joined = canonical("\n".join(texts))
    if refused([Part("taught", TURTLE, joined)]):
        # One subject may be described on two bases, but not within one file.
        what = "what was taught cannot be said in one Turtle file"
        raise CommandError(Problem(what, hint=f"let the file end in {BOTH}"))
    return joined


def _zipped(every: Sequence[Taught]) -> bytes:
    import io
    import zipfile

    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for each in every:
            archive.writestr(each.path.name, read_text(each.path))
    return packed.getvalue()


def slug(text: str) -> str:
    """Return a text as a local name, such as `kelp-foam` for `Kelp Foam`."""
    import unicodedata

    plain = unicodedata.normalize("NFKD", text.casefold())
    letters = plain.encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", letters)[:60].strip("-") or "addition"
