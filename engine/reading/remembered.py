"""Labels that were read before, with the same base and by the same code.

To read a label takes longer than to answer a question about it, and the labels of a
shelf change seldom. What a few of them came to is therefore kept in the user's
cache; of a large shelf only the first are, as it is read in one go.
"""

from __future__ import annotations

import marshal
import os
from typing import Any

from abluent.engine.base import cache, files
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.term_data import from_plain, to_plain
from abluent.engine.reading.readings import PartRead, Reading, ReadLabel

_MOST = 64
"""How many labels one run adds."""
_KEPT = 256
"""How many are kept; those that were not read for longest give way."""


class RememberedLabels:
    """The labels that were read with one base.

    Without a file for the base there is none for its labels either.
    """

    def __init__(self, base: Base) -> None:
        self._base = base
        self._cached = None
        if base.cached is not None:
            readers = [cache.code_stamp("engine/reading"), *_words()]
            self._cached = base.cached.beside("labels", readers)
        found = self._cached.recall() if self._cached else None
        self._known: dict[Any, bytes] = found or {}
        self._news = 0

    @classmethod
    def of(cls, base: Base) -> RememberedLabels:
        """The labels of a base; looked for once for each base."""
        return base.once(cls)

    def read(self, product: str, kind: str, market: str, text: str) -> ReadLabel:
        """The label, read now or before; see `labels.label_facts`."""
        key = (product, kind, market, text)
        if key in self._known:
            packed = self._known[key] = self._known.pop(key)
            return self._from_plain(key, marshal.loads(packed))
        # What reads is left out of a start in which every label was read before.
        from abluent.engine.reading.labels import label_facts  # noqa: PLC0415

        read = label_facts(*key, self._base)
        if self._cached and self._news < _MOST:
            self._news += 1
            self._known[key] = marshal.dumps(_to_plain(read))
            while len(self._known) > _KEPT:
                del self._known[next(iter(self._known))]
            self._cached.remember(self._known)
        return read

    def _from_plain(self, key: tuple[str, str, str, str], plain: Any) -> ReadLabel:
        base, text = self._base, key[3]

        def label() -> Any:
            from abluent.engine.reading.labels import read_label  # noqa: PLC0415

            return read_label(text, base)

        readings, facts = plain
        return ReadLabel(
            label,
            tuple(_reading(*each) for each in readings),
            tuple(Fact(p, from_plain(args), Basis(*basis)) for p, args, basis in facts),
        )


def _to_plain(read: ReadLabel) -> Any:
    readings = [(*map(_tuples, each),) for each in read.readings]
    facts = [(f.predicate, to_plain(f.args), tuple(f.basis)) for f in read.facts]
    return readings, facts


def _tuples(value: Any) -> Any:
    """A value with plain tuples in place of named ones."""
    return tuple(map(_tuples, value)) if isinstance(value, tuple) else value


def _reading(*values: Any) -> Reading:
    reading = Reading(*values)
    return reading._replace(parts=tuple(PartRead(*part) for part in reading.parts))


def _words() -> list[files.Stamp]:
    """What changes with the words by which names and labels are read."""
    with files.shipped_folder() as folder:
        places = [os.path.join(folder, name) for name in ("inventory", "names")]
        return [stamp for place in places for stamp in files.stamps_in(place)]
