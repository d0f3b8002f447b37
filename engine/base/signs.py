"""Words of a note that call for a caution or an advice of the base."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from typing import NamedTuple

from abluent.engine.base.record import Record
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base

SIGN, SIGN_OF, SIGN_ON = "sign", "signOf", "signOnlyOn"
"""The properties of a caution that say which words call for it, and of what.

Words of the last call for it but where a note says that they are not on that.
"""

COATED, HARM, WELL, OILY = "coatedSign", "harmSign", "wellSign", "oilySign"
DRY = "drySign"
"""The properties of a kind of product: words of a note that say how hair fares.

They say that it feels coated, is washed too harshly, is well as it is, soon oily, or
dry or damaged.
"""

FILM_SIGN = "filmSign"
"""The property of a family of films: words of a note that say it lies on hair."""

TOLD_FIRST = "toldFirst"
"""The property of an advice that meets what somebody believes or asks."""

TO_DO = "toDo"
"""The property of an advice that is something to do."""

TOLD_AFTER = "toldAfter"
"""The property of a caution that is told after what is advised."""

NOT = "Not"
"""How a property ends whose words mean something else: `signNot` beside `sign`."""

SIGN_WITH = "signWith"
"""The property of an advice: a class of films without which no word calls for it."""

_DENIED = r"(?<!\bno )(?<!\bnot )(?<!\bnever )(?<!\bwithout )"
"""What stands before a word that is denied, and does not before one that is said."""


_NOTHING = re.compile(r"\bnothing(?: \w+){0,3} $", re.IGNORECASE)
"""What stands before a word that happens to nothing: nothing can ever build up."""


class Sign(NamedTuple):
    """A caution or an advice that some words call for.

    Args:
        caution: its symbol.
        words: the words, as a note has them.
        text: what it says.
        first: whether it meets what somebody believes or asks.
        after: whether it is told after what is advised.
        to_do: whether it is something to do.
    """

    caution: str
    words: str
    text: str
    first: bool = False
    after: bool = False
    to_do: bool = False


def signs(base: Base, notes: Iterable[str]) -> list[Sign]:
    """The cautions that some notes call for, each once with the first such note."""
    return _called(base, "Caution", list(notes))


def advice_to(base: Base, notes: Iterable[str], kinds: Collection[str]) -> list[Sign]:
    """What is advised to some notes, where the films are of some classes."""
    found = _called(base, "NoteAdvice", list(notes))
    return [e for e in found if {*kinds} >= {*base.record(e.caution).links(SIGN_WITH)}]


def film_signs(base: Base, notes: Iterable[str]) -> Iterator[tuple[str, str]]:
    """The families of films that some notes speak of, each with the word."""
    notes = list(notes)
    for family in base.terms(Role.FILM_FAMILY):
        if word := word_of(base, family, FILM_SIGN, notes):
            yield family, word


def _called(base: Base, kind: str, notes: list[str]) -> list[Sign]:
    return [found for e in base.instances(kind) if (found := _of(base, e, notes))]


def nouns(base: Base, caution: str) -> Iterator[str]:
    """What a line may be about for the sake of a caution."""
    yield from base.record(caution).texts(SIGN_OF)


def word_of(base: Base, symbol: str, name: str, notes: Iterable[str]) -> str:
    """The first of some words of the base that a note says; empty if none does."""
    record = base.record(symbol)
    said = _said(record.texts(name))
    if said is None:
        return ""
    found = (_first(said, each) for each in _bare(record, name, notes))
    return next((each.group() for each in found if each is not None), "")


def every_word(base: Base, texts: str) -> Iterator[re.Match[str]]:
    """Every word of a text that says how hair or skin fares, in no order."""
    wash = base.term(Role.WASH)
    lists = [base.record(wash).texts(name) for name in (COATED, HARM, WELL, OILY, DRY)]
    lists += [base.record(e).texts(FILM_SIGN) for e in base.terms(Role.FILM_FAMILY)]
    lists += [base.record(e).texts(SIGN) for e in base.instances("Caution")]
    for words in lists:
        if (said := _said(words)) is not None:
            yield from said.finditer(texts)


def _bare(record: Record, name: str, notes: Iterable[str]) -> Iterator[str]:
    """Notes without the words that mean something else: `baby-fine` is no baby."""
    other = _said(record.texts(f"{name}{NOT}"))
    for note in notes:
        yield other.sub(lambda e: " " * len(e.group()), note) if other else note


def _first(said: re.Pattern[str], note: str) -> re.Match[str] | None:
    """The first of some words in a note that does not happen to nothing."""
    every = said.finditer(note)
    return next((e for e in every if not _NOTHING.search(note[: e.start()])), None)


def _said(words: Iterable[str]) -> re.Pattern[str] | None:
    """What finds some words where they are not denied; a star stands for any ending."""
    told = "|".join(re.escape(word).replace(r"\*", r"\w*") for word in words)
    return re.compile(rf"{_DENIED}\b(?:{told})\b", re.IGNORECASE) if told else None


def _of(base: Base, caution: str, notes: list[str]) -> Sign | None:
    record = base.record(caution)
    words = [*record.texts(SIGN)]
    where = "|".join(map(re.escape, nouns(base, caution)))
    elsewhere = rf"\bnot on (?:\w+ )?(?:{where})\b"
    if where and any(re.search(elsewhere, each, re.IGNORECASE) for each in notes):
        words = [each for each in words if each not in record.texts(SIGN_ON)]
    said = _said(words)
    if said is None:
        return None
    every = (_first(said, each) for each in _bare(record, SIGN, notes))
    found = next((each for each in every if each is not None), None)
    if found is None:
        return None
    text = record.text("statement") or base.label(caution)
    first, after = record.truth(TOLD_FIRST), record.truth(TOLD_AFTER)
    to_do = record.truth(TO_DO)
    return Sign(caution, found.group(), text, first, after, to_do)
