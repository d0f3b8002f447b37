"""The packed base on disk, so that a cold start reads no Turtle.

A file holds the stamps of the files it was made from and of the code that made it;
it counts only while every stamp is the same and its checksum agrees. Whatever goes
wrong here, a folder that cannot be written or a file cut short, costs time and
nothing else.
"""

from __future__ import annotations

import marshal
import os
import sys
import zlib
from collections.abc import Sequence
from contextlib import suppress
from typing import Any

import platformdirs
from abluent.engine.base._files import BaseFile

_FORM = f"abluent-{sys.implementation.cache_tag}-{marshal.version}".encode()
_KEPT = 8


def recall(files: Sequence[BaseFile], folder: str | None = None) -> Any | None:
    """What was remembered for exactly these files, unchanged; else `None`."""
    try:
        stamps = _stamps(files)
        with open(_place(files, folder), "rb") as stream:
            content = stream.read()
    except OSError:
        return None
    head, _, body = content.partition(b"\n")
    if head != _FORM + b" %08x" % zlib.crc32(body):
        return None
    kept, value = marshal.loads(body)
    return value if kept == stamps else None


def remember(files: Sequence[BaseFile], value: Any, folder: str | None = None) -> None:
    """Keep a value for these files, in place of an earlier one."""
    body = marshal.dumps((_stamps(files), value))
    place = _place(files, folder)
    draft = f"{place}.{os.getpid()}"
    with suppress(OSError):
        os.makedirs(os.path.dirname(place), exist_ok=True)
        try:
            with open(draft, "xb") as stream:
                stream.write(_FORM + b" %08x\n" % zlib.crc32(body) + body)
            os.replace(draft, place)
        except BaseException:
            with suppress(OSError):
                os.remove(draft)
            raise
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
    where = folder or platformdirs.user_cache_dir("abluent", appauthor=False)
    named = "\n".join(file.path for file in files).encode()
    return os.path.join(where, f"base-{zlib.crc32(named):08x}")


def _forget_oldest(folder: str) -> None:
    kept = [e for e in os.scandir(folder) if e.name.startswith("base-")]
    kept.sort(key=lambda entry: entry.stat().st_mtime_ns, reverse=True)
    for entry in kept[_KEPT:]:
        os.remove(entry.path)
