"""The Turtle files of the base: which there are, and their text."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, NamedTuple, TypeAlias

import abluent.ontology

if TYPE_CHECKING:
    from pathlib import Path

# Shapes check the base and are no part of it.
_NOT_READ = {"shapes", "__pycache__"}

Stamp: TypeAlias = tuple[str, int, int, int, int]


class BaseFile(NamedTuple):
    """One Turtle file; `name` is its path below the base, or as the user gave it."""

    name: str
    path: str

    def text(self) -> str:
        """The text of the file.

        Raises:
            OSError: the file cannot be opened.
            UnicodeDecodeError: it is not UTF-8.
        """
        with open(self.path, encoding="utf-8") as stream:
            return stream.read()

    def stamp(self) -> Stamp:
        """What changes whenever the file is written anew, without reading it."""
        state = os.stat(self.path)
        return (
            self.name,
            state.st_size,
            state.st_mtime_ns,
            state.st_ctime_ns,
            _id(state),
        )


def stamps_in(folder: str) -> list[Stamp]:
    """The stamps of all files of one folder, in order of name."""
    with os.scandir(folder) as entries:
        found = sorted((e.name, e.path) for e in entries if e.is_file())
    return [BaseFile(*each).stamp() for each in found]


def _id(state: os.stat_result) -> int:
    return state.st_ino


def below(folder: str) -> list[BaseFile]:
    """Every Turtle file of the base kept in `folder`, in order of name."""
    start = len(os.path.join(folder, ""))
    found = [
        BaseFile(path[start:].replace(os.sep, "/"), path) for path in _walk(folder)
    ]
    return sorted(found, key=lambda file: file.name)


def layers(paths: Iterable[Path]) -> list[BaseFile]:
    """A user's own files, read after those of the base; a folder means all in it."""
    found = []
    for path in paths:
        inside = sorted(path.rglob("*.ttl")) if path.is_dir() else [path]
        found += [BaseFile(str(file), str(file)) for file in inside]
    return found


def starter_folder() -> Path:
    """The folder of what a base of one's own may stand on, if it brings no rules."""
    from pathlib import Path  # noqa: PLC0415 - a question has no use for it

    return Path(__file__).parent / "starter"


def shipped_table(name: str) -> dict[str, Any]:
    """What a table of the shipped base says, such as `names/label_words.toml`."""
    import tomllib  # noqa: PLC0415 - most questions read no table

    with (
        shipped_folder() as folder,
        open(os.path.join(folder, *name.split("/")), "rb") as stream,
    ):
        return tomllib.load(stream)


def _walk(folder: str) -> Iterator[str]:
    pending = [folder]
    while pending:
        with os.scandir(pending.pop()) as entries:
            for entry in entries:
                if entry.is_dir() and entry.name not in _NOT_READ:
                    pending.append(entry.path)
                elif entry.name.endswith(".ttl"):
                    yield entry.path


@contextmanager
def shipped_folder(instead: Path | None = None) -> Iterator[str]:
    """The folder of the shipped base, or one in its place, while the context lasts.

    An installed base is a plain folder; only one inside an archive needs
    `importlib.resources`, whose import alone would cost a fifth of a cold answer.
    """
    if instead is not None:
        yield str(instead)
        return
    folder = next(iter(abluent.ontology.__path__))
    if os.path.isdir(folder):
        yield folder
        return
    from importlib import resources  # noqa: PLC0415 - see above

    with resources.as_file(resources.files(abluent.ontology)) as unpacked:
        yield str(unpacked)
