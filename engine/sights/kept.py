"""Sights kept from run to run, by the content of label, base and code.

They lie in one SQLite file of the user's cache folder, which several processes may
read and write at once. A sight is found by a hash of the label and of all that it was
read by, so nothing in the file is ever wrong, only unused. Whatever goes wrong with
the file costs time and nothing else.
"""

from __future__ import annotations

import hashlib
import marshal
import os
import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from datetime import date
from typing import Any

from abluent.engine.base.cache import code_stamp, written
from abluent.engine.base.store import Base
from abluent.engine.sights.sight import Seen, Sight
from abluent.grammar.common.cache import kept_place

_FILE = "labels-2.sqlite"
_OUTCOMES = "outcomes-1.sqlite"
_MOST_OUTCOMES = 40
_AT_ONCE = 500
_MOST = 2_000_000
"""How many sights are kept; beyond it the oldest go."""
_WAIT_SECONDS = 30.0
_READERS = ("engine/reading", "engine/amounts", "engine/sights")


class KeptSights:
    """The sights that were kept of labels read against one base.

    Args:
        base: the base.
        balance: whether they hold balances, which depend on the law of the day.
        practice: whether what the trade usually puts in narrowed these.
        folder: where they are kept; the user's own cache folder if not given.
    """

    def __init__(
        self,
        base: Base,
        *,
        balance: bool,
        practice: bool = True,
        folder: str | None = None,
    ) -> None:
        self._salt = self._salt_of(base, balance, practice)
        self._file: sqlite3.Connection | None = None
        if self._salt:
            with suppress(OSError, sqlite3.Error):
                self._file = _opened(kept_place(_FILE, folder))

    @staticmethod
    def _salt_of(base: Base, balance: bool, practice: bool) -> bytes:
        """What changes with all that a sight depends on but the label itself."""
        if base.cached is None or base.cached.stamps is None:
            return b""
        code = [code_stamp(each) for each in _READERS]
        day = date.today().isoformat() if balance else ""
        on = (base.cached.stamps, code, day, balance and practice)
        return written(on)

    def key(self, label: Seen) -> bytes:
        """What a label is found by."""
        parts = self._salt + written(tuple(label))
        return hashlib.blake2b(parts, digest_size=20).digest()

    def find(self, keys: Sequence[bytes]) -> Mapping[bytes, Sight]:
        """The sights that are kept, of some that are asked for."""
        found: dict[bytes, Sight] = {}
        if self._file is None:
            return found
        with suppress(sqlite3.Error, ValueError, EOFError, TypeError, MemoryError):
            for at in range(0, len(keys), _AT_ONCE):
                some = keys[at : at + _AT_ONCE]
                marks = ",".join("?" * len(some))
                rows = self._file.execute(
                    f"SELECT key, sight FROM sights WHERE key IN ({marks})",
                    some,
                )
                for key, sight in rows:
                    found[key] = Sight.of_plain(marshal.loads(sight))
        return found

    def keep(self, sights: Iterable[tuple[bytes, Sight]]) -> None:
        """Keep sights for the next run."""
        if self._file is None:
            return
        rows = [(key, marshal.dumps(sight.plain())) for key, sight in sights]
        with suppress(sqlite3.Error), self._file:
            self._file.executemany(
                "INSERT OR REPLACE INTO sights (key, sight) VALUES (?, ?)", rows
            )

    def close(self) -> None:
        """Let go of the file; of too many sights the oldest are forgotten."""
        if self._file is None:
            return
        with suppress(sqlite3.Error):
            with self._file:
                self._file.execute(
                    "DELETE FROM sights WHERE number <= "
                    "(SELECT MAX(number) FROM sights) - ?",
                    (_MOST,),
                )
            self._file.close()
        self._file = None


class KeptOutcomes:
    """What followed from very many labels, by a key of all that it rests on.

    Args:
        folder: where it is kept; the user's own cache folder if not given.
    """

    def __init__(self, folder: str | None = None) -> None:
        self._file: sqlite3.Connection | None = None
        with suppress(OSError, sqlite3.Error):
            self._file = _opened(kept_place(_OUTCOMES, folder))

    def find(self, key: bytes) -> Any | None:
        """What was kept by a key; nothing if nothing was."""
        if self._file is None:
            return None
        with suppress(sqlite3.Error, ValueError, EOFError, TypeError, MemoryError):
            text = "SELECT sight FROM sights WHERE key = ?"
            row = self._file.execute(text, (key,)).fetchone()
            return None if row is None else marshal.loads(row[0])
        return None

    def keep(self, key: bytes, value: Any) -> None:
        """Keep something by a key; of too much the oldest is forgotten."""
        if self._file is None:
            return
        with suppress(sqlite3.Error), self._file:
            self._file.execute(
                "INSERT OR REPLACE INTO sights (key, sight) VALUES (?, ?)",
                (key, marshal.dumps(value)),
            )
            self._file.execute(
                "DELETE FROM sights WHERE number <= "
                "(SELECT MAX(number) FROM sights) - ?",
                (_MOST_OUTCOMES,),
            )

    def close(self) -> None:
        """Let go of the file."""
        if self._file is not None:
            self._file.close()
            self._file = None


def _opened(place: str) -> sqlite3.Connection:
    os.makedirs(os.path.dirname(place), exist_ok=True)
    file = sqlite3.connect(place, timeout=_WAIT_SECONDS)
    with suppress(sqlite3.OperationalError):
        # Whoever opens a new file at the same moment sets it; it stays set.
        file.execute("PRAGMA journal_mode = WAL")
    file.execute("PRAGMA synchronous = OFF")
    file.execute(
        "CREATE TABLE IF NOT EXISTS sights "
        "(number INTEGER PRIMARY KEY, key BLOB UNIQUE NOT NULL, sight BLOB NOT NULL)"
    )
    return file
