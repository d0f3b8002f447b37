"""Values kept on disk from one run to the next, in the user's cache folder.

A file counts only if it is whole, of this form, the user's own and not to be written
by others; it is put in place at once, so that two runs cannot mix theirs. Whatever
goes wrong here, a folder that cannot be written or a file cut short, costs time and
nothing else.
"""

from __future__ import annotations

import marshal
import os
import sys
import zlib
from contextlib import suppress
from typing import Any

_FORM = f"abluent-1-{sys.implementation.cache_tag}-{marshal.version}".encode()


def kept_place(name: str, folder: str | None = None) -> str:
    """Return the path of a kept file; the folder is the user's own if not given."""
    return os.path.join(folder or cache_folder(), name)


def cache_folder() -> str:
    """Return the folder for what may be lost, as `platformdirs` names it."""
    return _folder("XDG_CACHE_HOME", "~/.cache", "user_cache_dir")


def data_folder() -> str:
    """Return the folder for what is to last, as `platformdirs` names it."""
    return _folder("XDG_DATA_HOME", "~/.local/share", "user_data_dir")


def _folder(variable: str, otherwise: str, named: str) -> str:
    if sys.platform == "linux" and "ANDROID_DATA" not in os.environ:
        # The library would take as long to import as the whole base to be read.
        given = os.environ.get(variable, "")
        around = given if given.strip() else os.path.expanduser(otherwise)
        return os.path.join(around, "abluent")
    import platformdirs  # noqa: PLC0415 - see above

    return str(getattr(platformdirs, named)("abluent", appauthor=False))


def recall(place: str) -> Any | None:
    """Return what was kept in a place, or None if that cannot be relied on."""
    try:
        with open(place, "rb") as stream:
            if not _is_ours(os.fstat(stream.fileno())):
                return None
            content = stream.read()
    except OSError:
        return None
    # A view: to copy what is kept would take as long as to read it.
    start = content.find(b"\n") + 1
    body = memoryview(content)[start:]
    if content[:start] != _FORM + b" %08x\n" % zlib.crc32(body):
        return None
    try:
        return marshal.loads(body)
    except (EOFError, MemoryError, ValueError, TypeError):
        return None


def _is_ours(state: os.stat_result) -> bool:
    """Whether a file is the user's own, and nobody else may write it."""
    if not hasattr(os, "geteuid"):
        return True
    return state.st_uid == os.geteuid() and not state.st_mode & 0o022


def remember(place: str, value: Any) -> None:
    """Keep a value in a place, instead of what was there.

    Args:
        place: a path that `kept_place` returned.
        value: made of tuples, lists, dictionaries, texts, bytes and numbers only.
    """
    body = marshal.dumps(value)
    draft = f"{place}.{os.urandom(6).hex()}"
    with suppress(OSError):
        os.makedirs(os.path.dirname(place), mode=0o700, exist_ok=True)
        try:
            with open(draft, "xb", opener=_private) as stream:
                stream.write(_FORM + b" %08x\n" % zlib.crc32(body) + body)
            os.replace(draft, place)
        except BaseException:
            with suppress(OSError):
                os.remove(draft)
            raise


def _private(path: str, flags: int) -> int:
    # Whatever the umask, what others may write would not count.
    return os.open(path, flags, 0o600)
