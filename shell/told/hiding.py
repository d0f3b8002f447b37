"""What a picture says of what a label hides: names that tell nothing, films, idlers."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from abluent.engine.base.fold import fold
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer, Member, Row
from abluent.engine.questions.answers.verdicts import Left
from abluent.engine.reading.readings import Reading
from abluent.shell.ground.strand import LEFT, MAY_BE_LEFT, Strand
from abluent.shell.told.asking import Asking, unread_names
from abluent.shell.told.group import Group
from abluent.shell.told.labels import deposit_of
from abluent.shell.told.spoken_names import aloud, common_name, few, spoken_alone
from abluent.shell.told.told import Told

_BEGINNING = 6
_IN_CLAIM = 3
_TRANSLATED = 6
"""So many names are told in other words."""


def hidden(told: Told, answer: Answer, asking: Asking, rows: Sequence[Row]) -> Told:
    """Return what is easy to miss on a label, each with why, in everyday words."""
    world = asking.world
    if world is None or len(asking.products) != 1:
        return told._replace(claim=answer.sentence)
    (product,) = asking.products
    unread = unread_names(world, product)
    readings = world.read(product).readings
    idle = _idle(world.base, readings, rows)
    groups = [*_unknown(unread), *_stays(world.base, rows), *idle]
    many = sum(group.many for group in groups)
    if not groups:
        claim = f"Nothing is hidden on the label of {product}."
        looked = (
            "We looked for a film that the wash leaves itself, and for a cleanser that "
            "is too little to count on."
        )
        return told._replace(claim=claim).with_reasons([looked])
    what = "One thing is" if many == 1 else f"{many} things are"
    claim = f"{what} easy to miss on the label of {product}."
    if many <= _IN_CLAIM:
        names = [spoken_alone(name) for group in groups for name in group.names]
        claim = f"Easy to miss on the label of {product}: {few(names)}."
    if unread:
        dark = few([name for name, _ in unread], 2)
        claim = f"One name on the label of {product} tells nobody what it is: {dark}."
        if len(unread) == 2:
            claim = (
                f"Two names on the label of {product} tell nobody what they are: "
                f"{dark}."
            )
        elif len(unread) > 1:
            claim = (
                f"{len(unread)} of {len(readings)} names on the label of {product} "
                "tell nobody what they are."
            )
    water = world.known.water_symbol
    named = [each for each in readings if each.symbol != water]
    groups += _in_other_words(world.base, named)
    return told._replace(claim=claim, groups=tuple(groups), caution="")


def _in_other_words(base: Base, readings: Sequence[Reading]) -> Iterator[Group]:
    """The names that look like no name of the base, with what they are."""
    told = []
    for each in readings:
        if not each.symbol or each.symbol not in base:
            continue
        plain = common_name(base, each.symbol) or base.label(each.symbol)
        known = {*_words(plain), *_words(base.label(each.symbol))}
        if not known & {*_words(each.printed)}:
            told.append(f"{each.printed} is {plain}")
    if told:
        names = tuple(told[:_TRANSLATED])
        yield Group(None, "In other words", names, len(names))


def _words(text: str) -> list[str]:
    """The beginnings of words, by which two spellings of one are known as alike."""
    parts = re.split(r"[^\w]+", fold(text))
    return [part[:_BEGINNING] for part in parts if part]


def _unknown(unread: Sequence[tuple[str, int]]) -> Iterator[Group]:
    if unread:
        names = tuple(name for name, _ in unread)
        many = len(unread) > 1
        why = (
            f"{'They' if many else 'It'} may leave a film such as silicone, or none: "
            "the label does not tell."
        )
        yield Group(None, "Not to be read", names, len(names), why)


def _stays(base: Base, rows: Sequence[Row]) -> Iterator[Group]:
    found = [row for row in rows if isinstance(row, Left)]
    for sure, mark, word in (
        (True, LEFT, "Listed, and stays after the rinse"),
        (False, MAY_BE_LEFT, "Listed, and may stay after the rinse"),
    ):
        parts: dict[str, list[str]] = {}
        for row in (each for each in found if each.sure is sure):
            parts.setdefault(deposit_of(row), []).append(aloud(base, row.film))
        shown: tuple[Strand | None, str] = (mark, word)
        for why, names in parts.items():
            yield Group(*shown, tuple(names), len(names), why)
            shown = (None, "")


def _idle(
    base: Base, readings: Sequence[Reading], rows: Sequence[Row]
) -> Iterator[Group]:
    found = {row.item.key for row in rows if isinstance(row, Member)}
    if found:
        listed = dict.fromkeys(r.symbol for r in readings if r.symbol in found)
        names = tuple(aloud(base, symbol) for symbol in listed if symbol)
        why = "So little of it is there that it cannot be counted on to clean."
        yield Group(None, "Listed, but may do no work", names, len(names), why)
