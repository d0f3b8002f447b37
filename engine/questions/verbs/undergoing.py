"""Judging films by what is done to them: `is cleared by`, `is left by`."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.verdicts import films_left
from abluent.engine.questions.verbs.judgement import (
    Judged,
    Judgements,
    Unanswerable,
    all_true,
    any_true,
    enough,
)
from abluent.engine.questions.verbs.removal import Removal, reaches
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.grammar.query import tree as q
from abluent.grammar.query.meaning import quantity

_FULLY = q.Clears(q.Thing()).extent


class Undergoing:
    """What is done to films, for the terms of one question."""

    def __init__(self, terms: Terms, removal: Removal) -> None:
        self._terms, self._removal = terms, removal

    def undergoes(self, items: Sequence[Item], said: q.Undergoes) -> Judgements:
        doers = self._terms.items(said.object, PRODUCT)
        films = [i for i in items if i.kind == INGREDIENT and self._removal.is_film(i)]
        if items and not films:
            problem = f"only films are {said.way.value} something, and this names none"
            raise Unanswerable(problem, said.span)
        if said.way is q.Passive.CLEARED:
            found = self._cleared(films, doers, said)
        else:
            found = self._left(films, doers, said)
        return {item: found.get(item, Judged(False)) for item in items}

    def _cleared(
        self, films: Sequence[Item], doers: Sequence[Item], said: q.Undergoes
    ) -> dict[Item, Judged]:
        """Each film, by how far each of some washes takes it."""
        acts = q.Clears(q.Thing(), None, _FULLY, said.circumstances, said.rounds)
        rows = self._removal.on_films(doers, films, acts)
        truths = {
            film: [reaches(row, _FULLY, said.rounds) for row in rows[film]]
            for film in films
        }
        return {
            film: Judged(_among(said, truths[film]), tuple(rows[film]))
            for film in films
        }

    def _left(
        self, films: Sequence[Item], doers: Sequence[Item], said: q.Undergoes
    ) -> dict[Item, Judged]:
        """Each film, by which of some products leave it."""
        names = [item.key for item in doers if item.kind == PRODUCT]
        if not names:
            problem = "what is left is left by a product, and this names none"
            raise Unanswerable(problem, said.span)
        stated = self._terms.under(q.Leaves(q.Thing(), said.circumstances))
        case = Case.of(self._terms.world, sources=names, stated=stated)
        rows = {
            name: {row.film: row for row in films_left(case, name)} for name in names
        }
        found: dict[Item, Judged] = {}
        for film in films:
            mine = [each.get(film.key) for each in rows.values()]
            truths = [False if e is None else (True if e.sure else None) for e in mine]
            shown: tuple[Row, ...] = tuple(each for each in mine if each is not None)
            found[film] = Judged(_among(said, truths), shown)
        return found


def _among(said: q.Undergoes, truths: Sequence[bool | None]) -> bool | None:
    """Whether so many of what does it do it as the question asks for."""
    if quantity(said) is q.Quantity.EVERY:
        return all_true(truths) if truths else False
    if quantity(said) in q.COUNTED:
        sure, unsure = list(truths).count(True), list(truths).count(None)
        least, most = enough(said, sure, None), enough(said, sure + unsure, None)
        return least if least == most else None
    return any_true(truths)
