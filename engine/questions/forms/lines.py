"""Two labels line by line: `compare "Old Cream" and "New Cream" line by line`.

Lines are matched by what they name. What moved is told only where it crosses the line
below which a list proves no order of amounts, or where lists part in order; then which
films the one leaves and the other does not, and which verdicts of the shelf turn.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from abluent.engine.base.contract import LATE, LINE
from abluent.engine.base.phrases import product_symbol
from abluent.engine.questions.answers.answer import Answer, Finding, Member, Row
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import films_left
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.query import tree as q

_TWO = "two products are set side by side line by line; name two"
_TURNED = 12
"""So many verdicts that turned are told."""


class _Label(NamedTuple):
    """One label: which place each ingredient has, and which stand late."""

    name: str
    places: dict[str, int]
    late: frozenset[str]
    unread: int


def compare_lines(judge: Judge, query: q.Compare, text: str) -> Answer:
    """Set two labels side by side.

    Raises:
        Unanswerable: the products are not two.
    """
    found = judge.terms.items(query.things, PRODUCT)
    items = [i for i in found if i.kind == PRODUCT and i.key != WATER]
    if len(items) != 2:
        raise Unanswerable(_TWO, query.things.span)
    names = [item.key for item in items]
    case = Case.of(judge.world, sources=names)
    old, new = (_label(judge, case, name) for name in names)
    base = judge.world.base

    def named(symbols: Sequence[str]) -> list[str]:
        return [base.label(each) for each in symbols]

    gone = [each for each in old.places if each not in new.places]
    come = [each for each in new.places if each not in old.places]
    both = [each for each in old.places if each in new.places]
    moved = [*_moved(base.label, old, new, both)]
    left = [*_left_otherwise(judge, case, old.name, new.name)]
    turned, rows = _turned(judge, old.name, new.name)
    findings = [
        Finding(kind, head, tuple(f"{each}." for each in told))
        for kind, head, told in (
            ("lost", f"Only in {old.name}", named(gone)),
            ("gained", f"Only in {new.name}", named(come)),
            ("moved", "Moved", moved),
            ("left", "Left on hair", left),
            ("turned", "Verdicts that come out otherwise", turned),
        )
        if told
    ]
    rows += _rows(case, old, gone) + _rows(case, new, come)
    sentence = _sentence(old, new, both, gone, come, [*moved, *left, *turned])
    notes = [
        f"{each.name}: {each.unread} line{'s' * (each.unread != 1)} not understood, "
        "which may be what only the other seems to have."
        for each in (old, new)
        if each.unread
    ]
    return Answer(text, sentence, rows, members=items, notes=notes, findings=findings)


def _label(judge: Judge, case: Case, name: str) -> _Label:
    symbol = product_symbol(name)
    lines = sorted(
        (int(str(n)), str(i))
        for _, n, i in case.model.match(LINE, (symbol, None, None))
    )
    places: dict[str, int] = {}
    for place, ingredient in lines:
        places.setdefault(ingredient, place)
    below = frozenset(str(each) for _, each in case.model.match(LATE, (symbol, None)))
    readings = judge.world.read(name).readings
    return _Label(name, places, below, sum(r.symbol is None for r in readings))


def _moved(
    label: Callable[[str], str], old: _Label, new: _Label, both: Sequence[str]
) -> Iterator[str]:
    for each in both:
        was, is_ = each in old.late, each in new.late
        if was is not is_:
            way = "below" if is_ else "above"
            yield (
                f"{label(each)} now stands {way} the 1 % line "
                f"(place {old.places[each]}, then {new.places[each]})"
            )
    firm = [each for each in both if each not in old.late | new.late]
    for one, other in pairwise(firm):
        if new.places[one] > new.places[other]:
            yield f"{label(other)} now stands before {label(one)}"


def _left_otherwise(judge: Judge, case: Case, old: str, new: str) -> Iterator[str]:
    """Which films the one leaves and the other does not."""
    base = judge.world.base
    sides = [{row.film: row for row in films_left(case, name)} for name in (old, new)]
    for name, own, other in ((old, sides[0], sides[1]), (new, sides[1], sides[0])):
        for film, row in own.items():
            if film not in other:
                verb = "leaves" if row.sure else "may leave"
                yield f"{name} {verb} {base.label(film)}"


def _turned(judge: Judge, old: str, new: str) -> tuple[list[str], list[Row]]:
    """The verdicts that turn with the formula, as washes on the films of the shelf."""
    washes = {item.key for item in judge.nouns.washes}
    if not {old, new} <= washes:
        return [], []
    films = q.Clears(q.Quantified(q.Quantity.EVERY, q.Thing()))
    found = judge.removal.verdicts([old, new], films)
    before = {row.film: row for row in found[old]}
    base, told = judge.world.base, list[str]()
    rows: list[Row] = []
    for row in found[new]:
        was = before.get(row.film)
        if was is not None and was.role is not row.role:
            film = base.label(row.film)
            told.append(
                f"{film}: {base.label(was.value)}, then {base.label(row.value)}"
            )
            rows += [was, row]
    more = len(told) - _TURNED
    if more > 0:
        told = [*told[:_TURNED], f"and {more} more"]
    return told, rows


def _rows(case: Case, label: _Label, symbols: Sequence[str]) -> list[Member]:
    """The lines of a label that name some ingredients."""
    rows = case.model.match(LINE, (product_symbol(label.name), None, None))
    wanted = set(symbols)
    return [
        Member(case, Item(INGREDIENT, str(row[2])), (LINE, row))
        for row in rows
        if str(row[2]) in wanted
    ]


def _sentence(  # noqa: PLR0913, PLR0917 - each is one part of the sentence
    old: _Label,
    new: _Label,
    both: Sequence[str],
    gone: Sequence[str],
    come: Sequence[str],
    more: Sequence[str],
) -> str:
    if not gone and not come and not more:
        return f"{old.name} and {new.name} list the same {len(both)} ingredients alike."
    parts = [f"{len(both)} ingredients are on both lists"]
    if gone:
        parts.append(f"{len(gone)} only on that of {old.name}")
    if come:
        parts.append(f"{len(come)} only on that of {new.name}")
    effect = "what they do differs" if more else "nothing shows that they act otherwise"
    return f"{listed(parts)}; {effect}."
