"""A layer under all files that fails where it is told to: one fault at each call.

`faulty(at, error)` lets the first `at` calls that could fail go through and raises
the error at the next one; used to try every write with every fault.
"""

from __future__ import annotations

import errno
import io
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from unittest.mock import patch

ERRORS = (errno.ENOSPC, errno.EROFS, errno.EIO, errno.EACCES, errno.EDQUOT)
CALLS = (
    *("open", "replace", "link", "unlink", "remove", "rename", "mkdir", "fsync"),
    *("rmdir", "chmod"),
)


class Faulty:
    """Counts the calls of a block, and fails at one of them."""

    def __init__(self, at: int, code: int) -> None:
        self.at, self.code, self.calls = at, code, 0

    def step(self, name: Any = None) -> None:
        self.calls += 1
        if self.calls - 1 == self.at:
            place = str(name) if isinstance(name, str | Path) else None
            raise OSError(self.code, os.strerror(self.code), place)


@contextmanager
def faulty(at: int, code: int) -> Iterator[Faulty]:
    """Let a call of the system fail: to open for writing, write, move, remove."""
    fault = Faulty(at, code)

    def failing(real: Any) -> Any:
        def call(*args: Any, **kwargs: Any) -> Any:
            fault.step(args[0] if args else None)
            return real(*args, **kwargs)

        return call

    real_open, real_io = os.open, io.open

    def os_open(path: Any, flags: int, *args: Any, **kwargs: Any) -> int:
        if flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT):
            fault.step(path)
        return real_open(path, flags, *args, **kwargs)

    def opened(file: Any, mode: str = "r", *args: Any, **kwargs: Any) -> Any:
        if not set(mode) & set("wxa+"):
            return real_io(file, mode, *args, **kwargs)
        if not isinstance(file, int):
            fault.step(file)
        stream = real_io(file, mode, *args, **kwargs)
        return _Stream(stream, fault)

    with (
        patch.object(os, "open", os_open),
        patch("builtins.open", opened),
        patch.object(io, "open", opened),
    ):
        patches = [
            patch.object(os, name, failing(getattr(os, name))) for name in CALLS[1:]
        ]
        for each in patches:
            each.start()
        try:
            yield fault
        finally:
            for each in patches:
                each.stop()


class _Stream:
    """A stream of which a write may fail."""

    def __init__(self, stream: Any, fault: Faulty) -> None:
        self._stream, self._fault = stream, fault

    def write(self, data: Any) -> Any:
        self._fault.step()
        return self._stream.write(data)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)

    def __enter__(self) -> _Stream:
        return self

    def __exit__(self, *_: object) -> None:
        self._stream.close()
