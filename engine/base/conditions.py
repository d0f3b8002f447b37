"""Conditions that a question, a shelf or a routine states, from words to symbols.

A condition of the base has a phrase (`in hard water`), which is its label, an aspect
and a word for it, as a shelf writes them (`water: hard`), and perhaps an opposite and
a wider condition that it implies. Nothing here knows any of them by name.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager

from abluent.engine.base import signs
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.errors import EngineError
from abluent.grammar.query.words import also


class ConditionError(EngineError):
    """Words that state no condition of the base, or two that cannot both hold."""


def stated(base: Base, words: Iterable[str]) -> tuple[str, ...]:
    """The conditions that some words or phrases state, each once.

    Raises:
        ConditionError: one states none, or two exclude one another.
    """
    found = tuple(dict.fromkeys(_named(base, each) for each in words if each))
    for at, one in enumerate(found):
        for other in found[:at]:
            if excludes(base, one, other):
                both = f"`{base.label(other)}` and `{base.label(one)}`"
                raise ConditionError(f"{both} cannot both be")
    return found


def every(base: Base) -> list[str]:
    """Every condition of a base; a base need not have any."""
    kinds = base.terms(Role.CONDITION)
    return [each for kind in kinds for each in base.instances(kind)]


def phrases(base: Base) -> tuple[str, ...]:
    """Every phrase of several words that states a condition, in order."""
    found = {
        phrase
        for condition in every(base)
        for phrase in (base.label(condition), *base.record(condition).texts("alias"))
        if " " in phrase
    }
    return tuple(sorted(found))


@contextmanager
def speaking(base: Base) -> Iterator[None]:
    """Let questions state the conditions of a base, in the phrases that it has."""
    with also(phrases(base)):
        yield


def laid_over(
    base: Base, general: Iterable[str], special: Iterable[str]
) -> tuple[str, ...]:
    """Some conditions, and of the more general ones those that they leave standing."""
    first = tuple(special)
    kept = [g for g in general if not any(excludes(base, g, s) for s in first)]
    return tuple(dict.fromkeys([*first, *kept]))


def excludes(base: Base, one: str, other: str) -> bool:
    """Whether two conditions cannot both hold."""
    wider = set(implied(base, other))
    return any(
        wider.intersection(base.record(each).links("opposite"))
        for each in implied(base, one)
    )


def aspect_of(base: Base, condition: str) -> tuple[str, str]:
    """What a condition is about and its word, as a shelf writes them."""
    record = base.record(condition)
    return record.text("aspect") or "", record.text("word") or ""


def aspects(base: Base) -> Mapping[str, Mapping[str, str]]:
    """For each aspect that a shelf may name, its words and what each states."""
    found: dict[str, dict[str, str]] = {}
    for condition in every(base):
        aspect, word = aspect_of(base, condition)
        found.setdefault(aspect, {})[word] = condition
    return found


def by_words(base: Base, said: Mapping[str, str]) -> tuple[str, ...]:
    """The conditions that some words state, each of the aspect it is given for.

    What is no word of its aspect is left as it is, for whoever looks it up.
    """
    known = aspects(base)
    return tuple(known.get(each, {}).get(word, word) for each, word in said.items())


def in_line(base: Base, aspect: str, words: str) -> tuple[str, ...]:
    """The conditions that a line such as `water is soft and warm` states.

    The parts stand between commas and `and`, and each is a word for a condition of
    that aspect, or said of it (`abl:saidOf`, `abl:saidAs`). One that lies between two
    of them states neither (`abl:saidBetween`). Where the conditions are `abl:inNote`,
    a part may go on after such a word or have none, as a note: `bleached twice, fine`.

    Raises:
        ConditionError: nothing of the base is an aspect of that name, or a part is
            none of its words.
    """
    known = _of_aspect(base, aspect)
    if not known and aspect in noted(base):
        return ()
    if not known:
        told = ", ".join(f"`{each}`" for each in aspects(base))
        raise ConditionError(f"`{aspect}` is nothing that is known of washing: {told}")
    note = any(base.record(each).truth("inNote") for each in known)
    found: list[str] = []
    for part in _PARTS.split(words):
        condition = _begun(base, part.split(), known, whole=not note)
        if condition is not None:
            found.append(condition)
        elif not (note or between(base, aspect, part)):
            told = ", ".join(f"`{aspect_of(base, each)[1]}`" for each in known)
            raise ConditionError(f"{aspect} is one of {told}, not `{part}`")
    return tuple(dict.fromkeys(found))


def between(base: Base, aspect: str, words: str) -> bool:
    """Whether some words of an aspect lie between two conditions and state neither."""
    known = _of_aspect(base, aspect)
    middle = {word for each in known for word in base.record(each).texts("saidBetween")}
    return any(part.casefold() in middle for part in _PARTS.split(words))


def is_note(base: Base, aspect: str) -> bool:
    """Whether what is said of an aspect may be a longer note."""
    known = _of_aspect(base, aspect)
    return aspect in noted(base) or any(base.record(e).truth("inNote") for e in known)


def noted(base: Base) -> frozenset[str]:
    """What may be noted of somebody for the sake of a caution, and states nothing."""
    cautions = base.instances("Caution")
    return frozenset(noun for each in cautions for noun in signs.nouns(base, each))


_PARTS = re.compile(r"\s*,\s*(?:and\s+)?|\s+and\s+")


def _of_aspect(base: Base, aspect: str) -> list[str]:
    return [
        each
        for each in every(base)
        if aspect in (aspect_of(base, each)[0], *base.record(each).texts("saidOf"))
    ]


def _begun(
    base: Base, words: Sequence[str], known: Sequence[str], *, whole: bool
) -> str | None:
    """The condition whose word some words are, or begin with unless as a whole."""
    for length in range(len(words), len(words) - 1 if whole else 0, -1):
        start = " ".join(words[:length])
        for each in known:
            said = aspect_of(base, each)[1], *base.record(each).texts("saidAs")
            if start.casefold() in said:
                return each
        condition = base.find_value(start, base.term(Role.CONDITION))
        if condition in known:
            return condition
    return None


def _named(base: Base, words: str) -> str:
    kind = base.term(Role.CONDITION)
    if words in base and kind in base.classes_of(words):
        return words
    condition = base.find_value(words, kind)
    if condition is None:
        raise ConditionError(
            f"`{words}` is no condition that the base knows\n"
            "Known are: " + ", ".join(base.label(c) for c in base.instances(kind))
        )
    return condition


def implied(base: Base, condition: str) -> Iterator[str]:
    """A condition, and all wider ones that it is a case of."""
    reached = [condition]
    for each in reached:
        reached += set(base.record(each).links("implies")).difference(reached)
        yield each
