"""The packed base on disk, so that a cold start reads no Turtle.

A file holds the stamps of the files it was made from and of the code that made it;
it counts only while every stamp is the same.
"""

from __future__ import annotations

import marshal
import os
import zlib
from collections.abc import Sequence
from contextlib import suppress
from functools import cache
from typing import Any, TypeAlias

from abluent.engine.base.files import BaseFile
from abluent.grammar.common import cache as _disk

Stamps: TypeAlias = list[Any]

_KEPT = 16
_READERS = ("engine/base", "engine/logic", "grammar")
_PLAIN = 2
"""The last form of `marshal` without a sign for a text that is interned or shared."""


class Cached:
    """The value that is kept for some files, as they are at this moment.

    What is made of the files after this was made may be kept by it: if one of them
    changes meanwhile, the value will not count.

    Args:
        place: where it is kept.
        stamps: what changes with the files and the code that reads them; None if a
            file cannot be found.
    """

    def __init__(self, place: str, stamps: Stamps | None) -> None:
        self._place = place
        self.stamps = stamps

    @classmethod
    def of(cls, files: Sequence[BaseFile], folder: str | None = None) -> Cached:
        """What is kept for some files.

        Args:
            files: what the value is made from.
            folder: where it is kept; the user's own cache folder if not given.
        """
        named = "\n".join(file.path for file in files).encode()
        place = _disk.kept_place(f"base-{zlib.crc32(named):08x}", folder)
        stamps: Stamps | None = None
        with suppress(OSError):
            code = [code_stamp(each) for each in _READERS]
            stamps = [*code, *(file.stamp() for file in files)]
        return cls(place, stamps)

    def beside(self, name: str, more: Stamps) -> Cached:
        """What is kept of another kind that depends on the same files and on more."""
        stamps = None if self.stamps is None else [*self.stamps, *more]
        return Cached(f"{self._place}-{name}", stamps)

    def recall(self) -> Any | None:
        """What was remembered for exactly these files, unchanged; else `None`."""
        if self.stamps is None:
            return None
        found = _disk.recall(self._place)
        return found[1] if found is not None and found[0] == self.stamps else None

    def remember(self, value: Any) -> None:
        """Keep a value for these files, in place of an earlier one."""
        if self.stamps is not None:
            _disk.remember(self._place, (self.stamps, value))
            with suppress(OSError):
                _forget_oldest(os.path.dirname(self._place))


def written(value: Any) -> bytes:
    """Tuples, lists, texts and numbers as bytes, alike for what is equal in any run.

    What is kept is found by a hash of them.
    """
    return marshal.dumps(value, _PLAIN)


@cache
def code_stamp(package: str) -> tuple[int, int]:
    """What changes whenever a file of a package does, such as `engine/base`."""
    engine = os.path.dirname(os.path.dirname(__file__))
    return _stamp_of(os.path.join(os.path.dirname(engine), *package.split("/")))


def _stamp_of(folder: str) -> tuple[int, int]:
    size = newest = 0
    with suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_file():
                state = entry.stat()
                here = state.st_size, state.st_mtime_ns
            elif entry.is_dir() and entry.name != "__pycache__":
                here = _stamp_of(entry.path)
            else:
                continue
            size, newest = size + here[0], max(newest, here[1])
    return size, newest


def _forget_oldest(folder: str) -> None:
    kept = [e for e in os.scandir(folder) if e.name.startswith("base-")]
    kept.sort(key=lambda entry: entry.stat().st_mtime_ns, reverse=True)
    for entry in kept[_KEPT:]:
        os.remove(entry.path)
