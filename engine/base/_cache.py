"""The packed base on disk, so that a cold start reads no Turtle.

A file holds the stamps of the files it was made from and of the code that made it;
it counts only while every stamp is the same.
"""

from __future__ import annotations

import os
import zlib
from collections.abc import Sequence
from contextlib import suppress
from typing import Any

from abluent.engine.base._files import BaseFile
from abluent.grammar import _kept

_KEPT = 8


def recall(files: Sequence[BaseFile], folder: str | None = None) -> Any | None:
    """What was remembered for exactly these files, unchanged; else `None`."""
    try:
        stamps = _stamps(files)
    except OSError:
        return None
    found = _kept.recall(_place(files, folder))
    return found[1] if found is not None and found[0] == stamps else None


def remember(files: Sequence[BaseFile], value: Any, folder: str | None = None) -> None:
    """Keep a value for these files, in place of an earlier one."""
    place = _place(files, folder)
    _kept.remember(place, (_stamps(files), value))
    with suppress(OSError):
        _forget_oldest(os.path.dirname(place))


def _stamps(files: Sequence[BaseFile]) -> list[Any]:
    return [_code_stamp(), *(file.stamp() for file in files)]


def _code_stamp() -> tuple[int, int]:
    """What changes whenever the code that reads the base or its rules does."""
    base = os.path.dirname(__file__)
    engine = os.path.dirname(base)
    logic = os.path.join(engine, "logic")
    grammar = os.path.join(os.path.dirname(engine), "grammar")
    size = newest = 0
    for folder in (base, logic, grammar):
        with suppress(OSError), os.scandir(folder) as entries:
            for entry in entries:
                if entry.is_file():
                    state = entry.stat()
                    size += state.st_size
                    newest = max(newest, state.st_mtime_ns)
    return size, newest


def _place(files: Sequence[BaseFile], folder: str | None) -> str:
    named = "\n".join(file.path for file in files).encode()
    return _kept.kept_place(f"base-{zlib.crc32(named):08x}", folder)


def _forget_oldest(folder: str) -> None:
    kept = [e for e in os.scandir(folder) if e.name.startswith("base-")]
    kept.sort(key=lambda entry: entry.stat().st_mtime_ns, reverse=True)
    for entry in kept[_KEPT:]:
        os.remove(entry.path)
