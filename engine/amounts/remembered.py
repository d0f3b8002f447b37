"""Balances that were worked out before, with the same base and by the same code.

To work a balance out takes longer than most of a question does, and labels change
seldom. What a label came to is therefore kept in the user's cache by all that was read
of it; the proof of it is made anew where one is shown.
"""

from __future__ import annotations

import marshal
import time
from collections.abc import Callable, Iterable, Sequence
from hashlib import blake2b

from abluent.engine.base import cache
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.term_data import from_plain, to_plain

_MOST = 64
"""How many balances one run adds."""
_KEPT = 256
"""How many are kept; those that were not asked for longest give way."""


class RememberedBalances:
    """The balances of labels that were read with one base.

    Without a file for the base there is none for them either. What law says of a label
    may change from one day to the next, so none is older than a day.
    """

    def __init__(self, base: Base) -> None:
        self._cached = None
        if base.cached is not None:
            code = cache.code_stamp("engine/amounts")
            self._cached = base.cached.beside("balances", [code])
        found = self._cached.recall() if self._cached else None
        self._known: dict[bytes, bytes] = found or {}
        self._news = 0

    @classmethod
    def of(cls, base: Base) -> RememberedBalances:
        """The balances of a base; looked for once for each base."""
        return base.once(cls)

    def facts(
        self,
        label: Iterable[Fact],
        practice: bool,
        make: Callable[[], Sequence[Fact]],
    ) -> Sequence[Fact]:
        """The facts of a balance, worked out now or before.

        Args:
            label: what was read of the label.
            practice: whether what the trade usually puts in may narrow it.
            make: works it out.
        """
        key = _key(label, practice)
        if key in self._known:
            packed = self._known[key] = self._known.pop(key)
            return [
                Fact(name, from_plain(args), Basis(*basis))
                for name, args, basis in marshal.loads(packed)
            ]
        found = make()
        if self._cached and self._news < _MOST:
            self._news += 1
            plain = [(f.predicate, to_plain(f.args), tuple(f.basis)) for f in found]
            self._known[key] = marshal.dumps(plain)
            while len(self._known) > _KEPT:
                del self._known[next(iter(self._known))]
            self._cached.remember(self._known)
        return found


def _key(label: Iterable[Fact], practice: bool) -> bytes:
    """What a balance is found by: all that was read, and the day."""
    said = [(f.predicate, to_plain(f.args), tuple(f.basis)) for f in label]
    day = time.strftime("%Y-%m-%d")
    return blake2b(cache.written((said, practice, day)), digest_size=20).digest()
