"""The labels and names with expected readings, and how a reading is compared."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

from abluent.engine.base.fold import fold
from abluent.engine.base.store import Base
from abluent.engine.reading.labels import Label, read_label
from abluent.engine.reading.names import resolve
from abluent.engine.reading.readings import Reading

_GLOSS = re.compile(r"\([^()]*\)")
_GUARDS = Path(__file__).parent / "guards"


@dataclass(frozen=True)
class Expected:
    """A label and how a person reads it; see `labels_heldout.toml` for the keys.

    `known_miss` says why the reader is known to read it otherwise.
    """

    form: str
    text: str
    items: list[str]
    unordered: bool = False
    active: list[str] = field(default_factory=list)
    stated: dict[str, str] = field(default_factory=dict)
    may: list[str] = field(default_factory=list)
    blends: list[list[str]] = field(default_factory=list)
    known_miss: str = ""

    def __str__(self) -> str:
        return self.form


@dataclass(frozen=True)
class ExpectedName:
    """A name, its kind and its charge; `*` leaves either open."""

    name: str
    kind: str
    charge: str

    def is_right(self, reading: Reading, base: Base) -> bool:
        """Whether a reading agrees in kind and charge, as far as it gives them.

        A read name may give a wider kind than the one expected, never another.
        """
        return self._kind_fits(reading, base) and self._charge_fits(reading)

    def _kind_fits(self, reading: Reading, base: Base) -> bool:
        if self.kind == "*" or not reading.classes or self.kind in reading.classes:
            return True
        return reading.how == "read" and reading.classes[0] in base.ancestors(self.kind)

    def _charge_fits(self, reading: Reading) -> bool:
        if self.charge == "*" or reading.charge == "unknown":
            return True
        if self.charge in {"neutral", "nonionic"}:
            return reading.charge in {"none", "nonionic"}
        return reading.charge == self.charge


def labels(name: str) -> list[Expected]:
    """The labels of a corpus."""
    with open(_GUARDS / f"{name}.toml", "rb") as stream:
        return [Expected(**each) for each in tomllib.load(stream)["label"]]


def names(name: str) -> list[ExpectedName]:
    """The names of a corpus."""
    return [ExpectedName(*row) for row in rows(name)]


def rows(name: str) -> Iterator[list[str]]:
    """The rows of a tab-separated corpus."""
    text = (_GUARDS / f"{name}.tsv").read_text(encoding="utf-8")
    for line in text.splitlines():
        if not line.startswith("#"):
            yield line.split("\t")


def assert_tiles(label: Label) -> None:
    """Items, notes and gaps follow each other without hole or overlap."""
    pieces = [
        *(item.span for item in label.items),
        *(note.span for note in label.notes),
        *label.gaps,
    ]
    at = 0
    for start, end in sorted(pieces):
        assert at == start < end
        at = end
    assert at == len(label.text)


def assert_reads(expected: Expected, base: Base) -> None:
    """A label reads as expected: sequence, order, panels, figures and blends."""
    label = read_label(expected.text, base)
    items = label.items
    assert_tiles(label)
    assert [_key(i.name, base) for i in items] == _keys(expected.items, base)
    assert bool(label.unordered) == expected.unordered
    active = [_key(i.name, base) for i in items if i.active]
    assert active == _keys(expected.active, base)
    may = [_key(i.name, base) for i in items if i.may_contain]
    assert may == _keys(expected.may, base)
    stated = {_key(i.name, base): i.stated for i in items if i.stated is not None}
    assert stated == {_key(n, base): Fraction(v) for n, v in expected.stated.items()}
    blends: dict[int, list[str]] = {}
    for item in items:
        if item.blend is not None:
            blends.setdefault(item.blend, []).append(_key(item.name, base))
    assert list(blends.values()) == [_keys(each, base) for each in expected.blends]


def _keys(found: list[str], base: Base) -> list[str]:
    return [_key(name, base) for name in found]


def _key(name: str, base: Base) -> str:
    # The key leaves out what stands in parentheses within a name nobody knows.
    return resolve(name, base).ingredient or fold(_GLOSS.sub(" ", name))
