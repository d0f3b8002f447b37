"""Many verdicts laid out as plain lists, as they are read aloud.

Verdicts on one film, or of one wash, stand under a heading for each verdict, a class
on each line. Verdicts of several washes on several films stand under what was asked
for, the washes or the films, those alike in all together. A class may leave something
out, and what it leaves out leaves out nothing. Whether more than part goes is told
apart: what goes at least in part stands in one list. Each list has its reasons, each
with what it bounds.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.answer import Order
from abluent.engine.questions.answers.folded_words import described, foldings
from abluent.engine.questions.answers.folding import film_key, wash_key
from abluent.engine.questions.answers.graded_words import by_grade
from abluent.engine.questions.answers.group import parted
from abluent.engine.questions.answers.lists import (
    AS_TOLD,
    FILMS,
    WASHES,
    Block,
    Lists,
    doubted,
    told_as,
)
from abluent.engine.questions.answers.verdicts import ENDS, TAKES, Verdict
from abluent.engine.questions.world.alone import agent_of
from abluent.engine.questions.world.world import WATER

APIECE = 16
"""So many washes are told of one by one; more, by what becomes of the films."""


def laid_out(
    rows: Sequence[Verdict], *, by_film: bool = False, order: Order | None = None
) -> list[Block]:
    """Verdicts as lists, those that take most first.

    Args:
        rows: the verdicts, at least one.
        by_film: whether films were asked for, and not washes.
        order: the order in which washes that take part were asked for.
    """
    found = _Layout(rows)
    if not by_film and of_products(rows):
        return [*by_grade(found, order)]
    if len(found.washes) == 1 or len(found.films) == 1:
        return [*found.by_verdict()]
    if by_film or len(found.washes) > APIECE:
        return [*found.by_film()]
    return [*by_grade(found, order)]


def of_products(rows: Sequence[Verdict]) -> bool:
    """Whether verdicts are of several products, few enough to be told one by one."""
    washes = {row.wash: row for row in rows}
    if not 1 < len(washes) <= APIECE or WATER in washes:
        return False
    return not any(agent_of(r.case.world, wash) for wash, r in washes.items())


class _Layout(Lists):
    def by_verdict(self) -> Iterator[Block]:
        side = FILMS if len(self.washes) == 1 < len(self.films) else WASHES
        classes = self.describer(side)
        for mine in self._as_told():
            keys = self.keys(mine, side)
            count = len(mine)
            told = f" ({count})" if count > 1 else ""
            lines = self.lines(mine, side, classes)
            items, known = [text for text, _ in lines], [row for _, row in lines]
            whys = self.whys(parted(mine), side, classes)
            beside = self.beside(mine, side, classes)
            head = f"{self.head(mine, side, many=len(keys) > 1)}{told}"
            yield Block(head, tuple(items), tuple(known), mine, whys, beside)

    def _as_told(self) -> list[tuple[Verdict, ...]]:
        """The verdicts by what is told of them, those that take most first.

        What takes part and what takes at least part stand together.
        """
        found: dict[tuple[object, ...], dict[int, Verdict]] = {}
        for each in reversed(foldings(self.rows)):
            mine = found.setdefault(told_as(each.first), {})
            mine |= {id(row): row for row in each.members}
        return [tuple(mine.values()) for mine in found.values()]

    def by_film(self) -> Iterator[Block]:
        """The films of which every wash takes as much, then those where it depends."""
        describer = self.describer(FILMS)
        same: dict[tuple[object, ...], list[Verdict]] = {}
        lines: list[tuple[str, Verdict, list[str]]] = []
        apart: list[Verdict] = []
        for keys, mine in self._alike(FILMS):
            kinds = {told_as(row) for row in mine}
            if len(kinds) == 1 and len(mine) == len(self.washes) * len(keys):
                same.setdefault(kinds.pop(), []).extend(mine)
                continue
            terms = describer.described(describer.mask(keys))
            films = described(self.base, terms, self.name)
            line = f"{films}: {'; '.join(self._by_whom(mine))}"
            lines.append((line, mine[0], keys))
            apart += mine
        for rows in same.values():
            names = self.keys(rows, FILMS)
            items = self.lines(rows, FILMS, describer)
            known = tuple(row for _, row in items)
            whys = self.whys(parted(rows), FILMS, describer)
            beside = self.beside(rows, FILMS, describer)
            told = tuple(text for text, _ in items)
            head = self._each(rows, len(names))
            yield Block(head, told, known, tuple(rows), whys, beside)
        lines.sort(key=lambda line: -len(line[2]))
        if apart:
            count = len({film_key(row) for row in apart})
            told = tuple(text for text, *_ in lines)
            known = tuple(row for _, row, _ in lines)
            head = f"It depends on which ({count})"
            yield Block(head, told, known, tuple(apart), ())

    def _each(self, rows: Sequence[Verdict], count: int) -> str:
        """What each of several washes takes of some films."""
        if rows[0].role is Role.NO_WASH_NEEDED:
            return self.head(rows, FILMS, many=True)
        number = len(self.washes)
        who = "Both take" if number == 2 else f"Each of the {number} takes"
        told = f" ({count})" if count > 1 else ""
        return f"{who} {self.amount(rows, of=True)}{told}"

    def _by_whom(self, rows: Sequence[Verdict]) -> Iterator[str]:
        """Which washes take how much of films that are alike, the most first."""
        found = [*reversed(foldings(rows, told_as))]
        for number, each in enumerate(found, 1):
            who = described(self.base, each.washes.terms, self.name)
            if number == len(found) > 1:
                who = "the others"
            role = AS_TOLD.get(each.first.role, each.first.role)
            yield f"{TAKES[role]} by {who}{doubted(each.first)}"

    def _alike(self, side: int) -> Iterator[tuple[list[str], list[Verdict]]]:
        """What is alike in all, with its verdicts; that of which most goes first."""
        mine: dict[str, list[Verdict]] = {}
        like: dict[str, dict[str, object]] = {}
        for row in self.rows:
            pair = wash_key(row), film_key(row)
            mine.setdefault(pair[side], []).append(row)
            like.setdefault(pair[side], {})[pair[1 - side]] = told_as(row)
        groups: dict[frozenset[tuple[str, object]], list[str]] = {}
        for key, verdicts in like.items():
            groups.setdefault(frozenset(verdicts.items()), []).append(key)
        for keys in sorted(groups.values(), key=lambda keys: _worth(mine[keys[0]])):
            yield keys, [row for key in keys for row in mine[key]]


def _worth(rows: Sequence[Verdict]) -> tuple[int, float, float]:
    """Lower for that of which, or by which, more goes: surely of every film first."""
    sure = [ENDS[row.role][0] is not Role.NONE_OF_IT for row in rows]
    ranks = [VERDICTS.index(row.role) for row in rows]
    return (-sum(sure), -min(ranks), -sum(ranks) / len(ranks))
