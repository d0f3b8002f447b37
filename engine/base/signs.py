"""Words of a note that call for a caution of the base, such as a sore scalp."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from abluent.engine.base.store import Base

SIGN, SIGN_OF = "sign", "signOf"
"""The properties of a caution that say which words call for it, and of what."""


class Sign(NamedTuple):
    """A caution that some words call for.

    Args:
        caution: its symbol.
        words: the note that they stand in.
        text: what it says.
    """

    caution: str
    words: str
    text: str


def signs(base: Base, notes: Iterable[str]) -> list[Sign]:
    """The cautions that some notes call for, each once with the first such note."""
    notes = list(notes)
    return [found for c in base.instances("Caution") if (found := _of(base, c, notes))]


def nouns(base: Base, caution: str) -> Iterator[str]:
    """What a line may be about for the sake of a caution."""
    yield from base.record(caution).texts(SIGN_OF)


def _of(base: Base, caution: str, notes: list[str]) -> Sign | None:
    record = base.record(caution)
    words = "|".join(re.escape(w).replace(r"\*", r"\w*") for w in record.texts(SIGN))
    if not words:
        return None
    said = re.compile(rf"\b(?:{words})\b", re.IGNORECASE)
    note = next((each for each in notes if said.search(each)), None)
    text = record.text("statement") or base.label(caution)
    return None if note is None else Sign(caution, note, text)
