"""What an ingredient is called aloud: its common name beside that of the label."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from abluent.engine.base.common_names import aloud, common_name
from abluent.engine.base.kinds import telling
from abluent.engine.base.phrases import with_article
from abluent.engine.base.store import Base
from abluent.grammar.common.text import in_a_row

__all__ = [
    "aloud",
    "common_name",
    "few",
    "kind_aloud",
    "nth",
    "spoken_alone",
    "what_it_is",
]

_BOTH = re.compile(r"([a-z][a-z ]+) \(([A-Z][^()]+)\)")
_NUMBERS = "no one two three four five six seven eight nine".split()
_FIRST = "first second third fourth fifth sixth seventh eighth ninth tenth".split()


def spoken_alone(name: str) -> str:
    """A common name without that of the label, where both are told; else as it is."""
    found = _BOTH.fullmatch(name)
    return found[1] if found else name


def kind_aloud(base: Base, classes: Iterable[str]) -> str:
    """What the nearest class that is told plainly is called; else empty."""
    told = (base.record(each).text("plainly") for each in classes if each in base)
    return next(filter(None, told), "")


def what_it_is(base: Base, symbol: str) -> str:
    """What a thing is: its nearest class told plainly, else by its name."""
    kinds = telling(base.classes_of(symbol), base) if symbol in base else []
    plain = kind_aloud(base, kinds)
    return plain or (with_article(base.label(kinds[0])) if kinds else "an ingredient")


def in_letters(count: int) -> str:
    """A small number in letters."""
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def nth(place: int) -> str:
    """A place on a list in words: `second`, and of the later ones `14th`."""
    if 0 < place <= len(_FIRST):
        return _FIRST[place - 1]
    teens = place % 100 in {11, 12, 13}
    ending = "th" if teens else {1: "st", 2: "nd", 3: "rd"}.get(place % 10, "th")
    return f"{place}{ending}"


def few(names: Sequence[str], most: int = 4) -> str:
    """Some names in a row, and how many others there are where they are many."""
    names = list(dict.fromkeys(names))
    if len(names) > most + 1:
        names = [*names[:most], f"{len(names) - most} others"]
    if len(names) > 1 and any(" and " in name for name in names):
        # A name that holds an `and` is kept apart by commas.
        return f"{', '.join(names[:-1])}, and {names[-1]}"
    return in_a_row(names) if names else ""
