"""Conditions that a question, a shelf or a routine states, from words to symbols.

A condition of the base has a phrase (`in hard water`), which is its label, an aspect
and a word for it, as a shelf writes them (`water: hard`), and perhaps an opposite and
a wider condition that it implies. Nothing here knows any of them by name.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.errors import EngineError


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


def phrases(base: Base) -> tuple[str, ...]:
    """Every phrase of several words that states a condition, in order."""
    found = {
        phrase
        for condition in base.instances(base.term(Role.CONDITION))
        for phrase in (base.label(condition), *base.record(condition).texts("alias"))
        if " " in phrase
    }
    return tuple(sorted(found))


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
    for condition in base.instances(base.term(Role.CONDITION)):
        aspect, word = aspect_of(base, condition)
        found.setdefault(aspect, {})[word] = condition
    return found


def in_note(base: Base, aspect: str, note: str) -> tuple[str, ...]:
    """The conditions of one aspect that parts of a note begin with the words for.

    The parts stand between commas: `bleached twice, fine` begins with `bleached`.
    """
    kind = base.term(Role.CONDITION)
    found = []
    for part in note.split(","):
        words = part.split()
        for length in range(len(words), 0, -1):
            condition = base.find_value(" ".join(words[:length]), kind)
            if condition and aspect_of(base, condition)[0] == aspect:
                found.append(condition)
                break
    return tuple(dict.fromkeys(found))


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
