"""How the rows of a judgement bear on a claim: which decide it, and the best."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.best_known import how_well_known
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Judged, any_true
from abluent.engine.questions.verbs.removal import reaches
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.grammar.query import tree as q

PLAIN = q.Clears(q.Thing()).extent
"""How far a film goes where nothing is said of it: whole."""


class Bearing:
    """How rows bear on one claim.

    Args:
        judge: knows what labels list.
        said: what is claimed.
    """

    def __init__(self, judge: Judge, said: q.Predicate) -> None:
        self._seen, self._base = judge.nouns.seen, judge.world.base
        self._said = said

    def deciding_first(self, judged: Judged) -> list[Row]:
        """The rows of a judgement, those first that make it what it is.

        A film that needs no wash shows little of one, so it comes after the others.
        """

        def order(row: Row) -> tuple[bool, bool]:
            if not isinstance(row, Verdict):
                return False, False
            decides = self.truth(row) is judged.truth
            return not decides, needs_none(row)

        return sorted(judged.rows, key=order)

    def truth(self, verdict: Verdict) -> bool | None:
        """Whether one verdict is as the claim says."""
        said, flipped = self._said, False
        while isinstance(said, q.Not):
            said, flipped = said.part, not flipped
        extent = said.extent if isinstance(said, q.Clears) else PLAIN
        rounds = said.rounds if isinstance(said, q.Clears) else 1
        truth = reaches(verdict, extent, rounds)
        return truth if truth is None or not flipped else not truth

    def for_some(self, judged: Judged) -> Judged:
        """A judgement by the rows that are so, where one film is enough.

        What goes without a wash is no work of one.
        """
        found = [r for r in judged.rows if isinstance(r, Verdict)]
        rows = [r for r in found if not needs_none(r)]
        if not found:
            return judged
        so = tuple(row for row in rows if self.truth(row))
        if so:
            return Judged(True, so)
        unsure = any(self.truth(row) is None for row in rows)
        return Judged(None if unsure else False, judged.rows)

    def by_washing(self, judged: Judged) -> Judged:
        """A judgement by the films that a wash must take off, where there are some.

        That a film goes by itself is no work of a wash.
        """
        dry = [row for row in judged.rows if needs_none(row)]
        if not dry or len(dry) == len(judged.rows) or judged.truth is False:
            return judged
        rows = tuple(row for row in judged.rows if row not in dry)
        act = q.asked_act(self._said)
        films = act.object if isinstance(act, q.Clears) else None
        if not isinstance(films, q.Quantified) or films.quantity is not q.Quantity.SOME:
            return judged
        truths = [self.truth(row) for row in rows if isinstance(row, Verdict)]
        return Judged(any_true(truths), rows)

    def disputed(self, judged: Judged) -> bool:
        """Whether all that leaves a judgement open is what sources part over."""
        rows = [row for row in judged.rows if isinstance(row, Verdict)]
        unsure = [row for row in rows if self.truth(row) is None]
        return bool(unsure) and all(row.contested for row in unsure)

    def best_first(
        self, found: Sequence[tuple[Item, Judged]]
    ) -> list[tuple[Item, Judged]]:
        """What decides beyond dispute first, then what a reader knows best.

        That is a product, then what labels list; what needs no wash comes last.
        """
        seen = self._seen

        def order(each: tuple[Item, Judged]) -> tuple[bool, bool, bool, int, int]:
            item, judged = each
            found = [row for row in judged.rows if isinstance(row, Verdict)]
            telling = [row for row in found if self.truth(row) is judged.truth]
            doubted = bool(found) and all(row.contested for row in telling)
            aside = bool(found) and all(map(needs_none, telling))
            known = how_well_known(self._base, item.key)
            return doubted, aside, item.kind != PRODUCT, -seen[item.key], -known

        return sorted(found, key=order)


def takes_part(row: Row) -> bool:
    """Whether a row is of something that surely goes in part, and by a wash."""
    if not isinstance(row, Verdict) or needs_none(row):
        return False
    return ENDS[row.role][0] is not Role.NONE_OF_IT


def needs_none(row: Row) -> bool:
    """Whether a row is of a film that goes without a wash."""
    return isinstance(row, Verdict) and row.role is Role.NO_WASH_NEEDED


def water_leaves(rows: Sequence[Row]) -> bool:
    """Whether the first row is that water does not take a film off."""
    first = rows[0] if rows else None
    return isinstance(first, Verdict) and not first.gone
