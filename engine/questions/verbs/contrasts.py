"""One wash against another on a film, and one film against another under washes.

How far a wash takes a film has two ends, none, part or all; something is said to be
more only where its least is above the other's most.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from abluent.engine.base.roles import EFFECTS
from abluent.engine.questions.answers.verdicts import ENDS, Verdict, verdicts
from abluent.engine.questions.verbs.judgement import Judged, Judgements
from abluent.engine.questions.verbs.removal import Removal
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.grammar.query import tree as q


class _Tally(NamedTuple):
    """For how many pairs one side surely takes more, less, and it is open."""

    more: int
    less: int
    open: int


def ends(verdict: Verdict) -> tuple[int, int]:
    """How far a film goes by a verdict, at least and at most, by rank."""
    low, high = ENDS[verdict.role]
    return EFFECTS.index(low), EFFECTS.index(high)


class Contrasts:
    """Comparing by what washes take off, for the terms of one question."""

    def __init__(self, terms: Terms, removal: Removal) -> None:
        self._terms, self._removal = terms, removal

    def outdoes(self, items: Sequence[Item], said: q.Outdoes) -> Judgements:
        """Whether each takes more of a film than each of some other washes."""
        clearing = self._removal
        others = self._terms.items(said.than, PRODUCT)
        names = {item: clearing.as_wash(item) for item in [*items, *others]}
        asked = q.Clears(said.object)
        found = clearing.verdicts(list(dict.fromkeys(names.values())), asked)
        by_film = {name: {v.film: v for v in rows} for name, rows in found.items()}
        return {
            item: _joined(
                [_against(by_film, names[item], names[other]) for other in others],
            )
            for item in items
        }

    def resists(self, items: Sequence[Item], said: q.Resists) -> Judgements:
        """Whether each film goes less easily, under the washes of the shelf."""
        films = self._removal.films
        others = films(said.object, []) or []
        own = {item: [item] if item.kind == INGREDIENT else [] for item in items}
        keys = {each.key for each in others} | {
            film.key for mine in own.values() for film in mine
        }
        washes = [wash.key for wash in self._terms.nouns.washes]
        case = Case.of(self._terms.world, washes, sorted(keys))
        by_film: dict[str, dict[str, Verdict]] = {}
        for verdict in verdicts(case):
            by_film.setdefault(verdict.film, {})[verdict.wash] = verdict
        harder = said.way is q.Ease.HARDER
        return {
            item: _joined(
                [
                    _against(by_film, other.key, film.key, harder=harder)
                    for film in mine
                    for other in others
                    if other != film
                ]
            )
            for item, mine in own.items()
        }


def _against(
    found: Mapping[str, Mapping[str, Verdict]],
    one: str,
    other: str,
    *,
    harder: bool = True,
) -> Judged:
    """Whether one row of verdicts says more than another, place by place."""
    first, second = found.get(one, {}), found.get(other, {})
    if not harder:
        first, second = second, first
    pairs = [(first[key], second[key]) for key in first if key in second]
    tally = _tally(pairs)
    telling = [(a, b) for a, b in pairs if _sign(a, b)] or pairs[:1]
    rows = tuple(row for pair in telling[:3] for row in pair)
    if tally.less or (pairs and not tally.more and not tally.open):
        return Judged(False, rows)
    return Judged(True if tally.more and not tally.open else None, rows)


def _tally(pairs: Sequence[tuple[Verdict, Verdict]]) -> _Tally:
    signs = [_sign(*pair) for pair in pairs]
    unsure = sum(
        sign == 0 and any(low != high for low, high in map(ends, pair))
        for sign, pair in zip(signs, pairs, strict=True)
    )
    return _Tally(signs.count(1), signs.count(-1), unsure)


def _sign(a: Verdict, b: Verdict) -> int:
    """1 where the first surely takes more, -1 where it surely takes less, else 0."""
    (low_a, high_a), (low_b, high_b) = ends(a), ends(b)
    return (low_a > high_b) - (high_a < low_b)


def _joined(parts: Sequence[Judged]) -> Judged:
    """One judgement for all that a thing is set against."""
    if not parts:
        return Judged(None)
    truths = [part.truth for part in parts]
    truth = False if False in truths else None if None in truths else True
    telling = [part for part in parts if part.truth is truth]
    return Judged(truth, tuple(row for part in telling[:3] for row in part.rows))
