"""Files of the user's, written so that a crash or a slip loses nothing."""

from __future__ import annotations

import codecs
import os
from contextlib import suppress
from typing import TYPE_CHECKING

from abluent.engine.faults import CommandError, DataError, Problem
from abluent.grammar.common import cache

if TYPE_CHECKING:
    from pathlib import Path

STDIN = "-"  # what names standard input in place of a file
LOCK_SECONDS = 5.0


def data_folder() -> Path:
    """Return where all that is to last is kept; `ABLUENT_DATA` names another place."""
    from pathlib import Path  # noqa: PLC0415 - see below

    return Path(data_place())


def data_place() -> str:
    """Return the same as text: a question only looks whether something is there."""
    return os.environ.get("ABLUENT_DATA") or cache.data_folder()


def write_file(
    path: Path,
    text: str,
    *,
    overwrite: bool = False,
    hint: str = "name another file",
    private: bool = False,
) -> None:
    """Write `text` as UTF-8 in one step: the whole file appears, or none of it.

    `hint` is what to try where the file is there already; a `private` file can be
    read by its owner only. What is no plain file, such as a pipe, is written into.

    Raises:
        CommandError: the file is there already and `overwrite` was not asked for,
            or its folder is not there.
        DataError: the system refused to write.
    """
    # Half a character, as JSON can hold, is written as JSON writes it.
    data = text.encode("utf-8", "backslashreplace")
    write_bytes(path, data, overwrite=overwrite, hint=hint, private=private)


def write_bytes(
    path: Path,
    data: bytes,
    *,
    overwrite: bool = False,
    hint: str = "name another file",
    private: bool = False,
) -> None:
    """Write bytes as `write_file` writes text.

    Raises:
        CommandError: as `write_file`.
        DataError: as `write_file`.
    """
    try:
        _write(path, data, overwrite, private)
    except FileExistsError:
        raise CommandError(
            Problem(
                f'"{path}" is there already and was left as it is',
                hint=hint,
            )
        ) from None
    except FileNotFoundError:
        raise CommandError(
            Problem(
                f'there is no folder "{path.parent}" to write "{path.name}" into',
                hint="make the folder first, or name another",
            )
        ) from None
    except OSError as error:
        raise DataError(
            Problem(f'"{path}" could not be written: {error.strerror or error}')
        ) from error


def _write(path: Path, data: bytes, overwrite: bool, private: bool) -> None:
    there = path.exists()
    if there and not path.is_file() and not path.is_dir():
        path.write_bytes(data)
        return
    if there and not overwrite:
        raise FileExistsError(path)
    beside = path.with_name(f".{os.urandom(8).hex()}.part")
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    try:
        with open(os.open(beside, flags, 0o600 if private else 0o666), "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if overwrite:
            beside.replace(path)
        else:
            _put_if_new(beside, path)
    finally:
        with suppress(OSError):
            beside.unlink()


def _put_if_new(beside: Path, path: Path) -> None:
    """Give the file its name, failing if another process was there first."""
    try:
        os.link(beside, path)
    except FileExistsError:
        raise
    except OSError:
        # A file system without hard links: the check above is all there is.
        beside.replace(path)


def read_text(path: Path) -> str:
    """Return a file's text as it stands, but for a byte order mark.

    Line ends are kept, so that a place in the text is a place in the file.

    Raises:
        CommandError: there is no such file.
        DataError: it cannot be read, or is not UTF-8.
    """
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        raise CommandError(
            Problem(f'there is no file "{path}"', hint="check the path")
        ) from None
    except OSError as error:
        raise DataError(
            Problem(f'"{path}" could not be read: {error.strerror or error}')
        ) from error
    return decode(data, str(path))


def decode(data: bytes, place: str) -> str:
    """Return UTF-8 bytes as text, without a byte order mark.

    Raises:
        DataError: the bytes are not UTF-8; the message says where.
    """
    data = data.removeprefix(codecs.BOM_UTF8)
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        good = data[: error.start].decode("utf-8")
        line = good.count("\n") + 1
        column = len(good) - (good.rfind("\n") + 1) + 1
        raise DataError(
            Problem(
                f"byte 0x{data[error.start]:02x} is not UTF-8",
                place=f"{place}:{line}:{column}",
                hint="save the file as UTF-8 and try again",
            )
        ) from None
