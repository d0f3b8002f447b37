"""What an ingredient is called aloud: its common name beside that of the label."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from abluent.engine.base.fold import fold
from abluent.engine.base.kinds import telling
from abluent.engine.base.phrases import with_article
from abluent.engine.base.store import Base
from abluent.grammar.common.text import in_a_row

_IN_BRACKETS = re.compile(r".*\(([^()]+)\)\s*(.*)")
_BOTH = re.compile(r"([a-z][a-z ]+) \(([A-Z][^()]+)\)")
_LONGEST = 28
_NUMBERS = "no one two three four five six seven eight nine".split()
_FIRST = "first second third fourth fifth sixth seventh eighth ninth tenth".split()


def common_name(base: Base, symbol: str) -> str:
    """What people call an ingredient whose label name is another; else empty.

    Of `Cocos Nucifera (Coconut) Oil` that is `coconut oil`.
    """
    if symbol not in base:
        return ""
    label = base.label(symbol)
    for told in base.record(symbol).texts("usName"):
        found = _IN_BRACKETS.fullmatch(told)
        said = told
        if found:
            ending = found[2].split(" ")[-1]
            said = f"{found[1]} {ending}".strip()
        plain = said.isascii() and len(said) <= _LONGEST
        if plain and fold(said) not in fold(label) and fold(label) not in fold(said):
            return said.casefold()
    return ""


def aloud(base: Base, symbol: str) -> str:
    """The name of the label, with the common one where there is another."""
    if symbol in base and (spoken := base.record(symbol).text("spokenAs")):
        return spoken
    name, common = base.label(symbol), common_name(base, symbol)
    return f"{common} ({name})" if common else name


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
