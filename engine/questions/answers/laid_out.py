"""Many verdicts laid out as plain lists, as they are read aloud.

Verdicts on one film, or of one wash, stand under a heading for each verdict, a class
on each line. Verdicts of several washes on several films stand under what was asked
for, the washes or the films, those alike in all together. A class may leave something
out, and what it leaves out leaves out nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from abluent.engine.base.contract import ISA
from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.best_known import best_known, how_well_known
from abluent.engine.questions.answers.described import Describer, Term
from abluent.engine.questions.answers.folded_words import described, foldings
from abluent.engine.questions.answers.folding import (
    Folding,
    classes_among,
    film_key,
    film_of,
    kinds_by,
    same_verdict,
    wash_key,
)
from abluent.engine.questions.answers.verdicts import ENDS, PERHAPS, TAKES, Verdict
from abluent.engine.questions.world.world import WATER

_WASHES, _FILMS = 0, 1
"""The sides of a verdict."""
_APIECE = 16
"""So many washes are told of one by one; more, by what becomes of the films."""
_BY_NAME = 6
"""So many things are named, whatever classes they make up."""
_LINES = 3
"""So many things that no class makes up have lines of their own; more share one."""


class Block(NamedTuple):
    """A heading, and the lines under it.

    Args:
        head: what is said of all under it.
        items: the lines.
        known: a verdict for each line, on what is best known of it.
        rows: the verdicts that it stands for.
    """

    head: str
    items: tuple[str, ...]
    known: tuple[Verdict, ...]
    rows: tuple[Verdict, ...]


def laid_out(rows: Sequence[Verdict], *, by_film: bool = False) -> list[Block]:
    """Verdicts as lists, those that take most first.

    Args:
        rows: the verdicts, at least one.
        by_film: whether films were asked for, and not washes.
    """
    return [*_Layout(rows).blocks(by_film)]


class _Layout:
    def __init__(self, rows: Sequence[Verdict]) -> None:
        self.rows = rows
        self.base = rows[0].case.world.base
        self.washes = list(dict.fromkeys(map(wash_key, rows)))
        self.films = list(dict.fromkeys(map(film_key, rows)))
        self.sources = {row.source for row in rows}

    def blocks(self, by_film: bool) -> Iterator[Block]:
        if len(self.washes) == 1 or len(self.films) == 1:
            return self._by_verdict()
        if by_film or len(self.washes) > _APIECE:
            return self._by_film()
        return self._by_wash()

    # -- one film, or one wash -----------------------------------------------------

    def _by_verdict(self) -> Iterator[Block]:
        side = _FILMS if len(self.washes) == 1 < len(self.films) else _WASHES
        for each in reversed(foldings(self.rows)):
            count = len(each.members)
            told = f" ({count})" if count > 1 else ""
            head = self._head(each.first, side, count > 1)
            lines = self._lines(each, side)
            items, known = [text for text, _ in lines], [row for _, row in lines]
            yield Block(f"{head}{told}", tuple(items), tuple(known), each.members)

    def _head(self, row: Verdict, side: int, many: bool) -> str:
        """What becomes of the one film, or what the one wash does."""
        how = self.base.record(row.value).text("spokenAs")
        if row.role is Role.NO_WASH_NEEDED:
            return f"No wash needed{f', for {how}' if how else ''}"
        if side == _FILMS:
            wash = "Water" if row.wash == WATER else row.wash
            return f"{wash} takes {TAKES[row.role]} of{_dispute(row)}"
        verb = "Take" if many else "Takes"
        amount = TAKES[row.role]
        amount += "" if row.contested else PERHAPS.get(row.role, "")
        return f"{verb} {amount}{_dispute(row)}"

    def _lines(self, each: Folding, side: int) -> list[tuple[str, Verdict]]:
        """A line for each class; things by name share one where they are many."""
        rows = {(wash_key(row), film_key(row))[side]: row for row in each.members}
        if len(rows) <= _BY_NAME:
            names = ", ".join(map(self.name, rows))
            return [(names, rows[self._best(list(rows))])]
        terms = (each.washes, each.films)[side].terms
        things = [term.symbol for term in terms if not term.whole]
        lines: list[tuple[str, Verdict]] = []
        for term in terms:
            if term.whole:
                lines.append(self._class_line(term, rows, [row for _, row in lines]))
        if len(things) > _LINES:
            return [*lines, (self._some(things), rows[self._best(things)])]
        return [*lines, *((self.name(key), rows[key]) for key in things)]

    def _class_line(
        self, term: Term, rows: Mapping[str, Verdict], told_of: Sequence[Verdict]
    ) -> tuple[str, Verdict]:
        """A class, what it leaves out, and of what is left the best known."""
        told = self._with_exceptions(term)
        own = [key for key in rows if _belongs(rows[key], key, term.symbol)]
        own = own or list(rows)
        first = self._best([key for key in own if rows[key] not in told_of] or own)
        return f"{told}, as {self.base.label(film_of(first)[0])}", rows[first]

    def _best(self, keys: Sequence[str]) -> str:
        symbols = {film_of(key)[0]: key for key in reversed(keys)}
        return symbols[best_known(self.base, list(symbols))]

    def _with_exceptions(self, term: Term) -> str:
        """A class and what it leaves out; of many things by name, how many they are."""
        if sum(not each.whole for each in term.but) <= _BY_NAME:
            return described(self.base, [term], self.name)
        kinds = [self.base.plural(each.symbol) for each in term.but if each.whole]
        names = sum(not each.whole for each in term.but)
        left_out = ", ".join([*kinds, f"{names} by name"])
        return f"{self.base.plural(term.symbol)} except {left_out}"

    def _some(self, things: Sequence[str]) -> str:
        """Things by name, those that are known best first where they are many."""
        products = not any(film_of(key)[0] in self.base for key in things)
        if products or len(things) <= _BY_NAME + 1:
            return ", ".join(map(self.name, things))

        def known(key: str) -> int:
            return how_well_known(self.base, film_of(key)[0])

        first = sorted(things, key=known, reverse=True)[:_BY_NAME]
        shown = ", ".join(map(self.name, first))
        return f"{shown} and {len(things) - _BY_NAME} more by name"

    def name(self, key: str) -> str:
        """A wash, or a film with what left it where that is not always the same."""
        film, source = film_of(key)
        shown = self.base.label(film) if film in self.base else film
        return f"{shown} from {source}" if source and len(self.sources) > 1 else shown

    # -- several washes and films --------------------------------------------------

    def _by_wash(self) -> Iterator[Block]:
        """For each wash, or washes alike in all, what becomes of the films."""
        for keys, mine in self._alike(_WASHES):
            names = ", ".join(map(self.name, keys))
            worst = min(mine, key=lambda row: VERDICTS.index(row.role))
            told = "; ".join(self._of_films(mine))
            yield Block(names, (told,), (worst,), tuple(mine))

    def _of_films(self, rows: Sequence[Verdict]) -> Iterator[str]:
        """What some washes that are alike take of the films, the least first."""
        found = foldings(rows)
        for number, each in enumerate(found):
            count = len(each.films.keys)
            films = described(self.base, each.films.terms, self.name)
            if count <= _BY_NAME:
                films = ", ".join(map(self.name, each.films.keys))
            if count > 1 and each.films.every:
                films = f"all {count} films"
            elif count > 1 and number == len(found) - 1:
                films = "the rest"
            disputed = _doubted(each.first)
            amount = f"{TAKES[each.first.role]} of"
            if each.first.role is Role.NO_WASH_NEEDED:
                amount = "no wash needed for"
            yield f"{amount} {films}{disputed}"

    def _by_film(self) -> Iterator[Block]:
        """The films of which every wash takes as much, then those where it depends."""
        classes = classes_among(self.base, self.films, kinds_by(self.rows), parts=True)
        describer = Describer(self.films, classes)
        same: dict[tuple[object, ...], tuple[list[str], list[Verdict]]] = {}
        lines: list[tuple[str, Verdict, list[str]]] = []
        apart: list[Verdict] = []
        for keys, mine in self._alike(_FILMS):
            kinds = {same_verdict(row) for row in mine}
            if len(kinds) == 1 and len(mine) == len(self.washes) * len(keys):
                names, rows = same.setdefault(kinds.pop(), ([], []))
                names += keys
                rows += mine
                continue
            terms = describer.described(describer.mask(keys))
            films = described(self.base, terms, self.name)
            told = f"{films}: {'; '.join(self._by_whom(mine))}"
            lines.append((told, mine[0], keys))
            apart += mine
        for names, rows in same.values():
            terms = describer.described(describer.mask(names))
            told = described(self.base, terms, self.name)
            head = self._each(rows[0], len(names))
            yield Block(head, (told,), (rows[0],), tuple(rows))
        lines.sort(key=lambda line: -len(line[2]))
        if apart:
            count = len({film_key(row) for row in apart})
            items = [text for text, *_ in lines]
            known = [row for _, row, _ in lines]
            head = f"It depends on which ({count})"
            yield Block(head, tuple(items), tuple(known), tuple(apart))

    def _each(self, row: Verdict, count: int) -> str:
        """What each of several washes takes of some films."""
        if row.role is Role.NO_WASH_NEEDED:
            return self._head(row, _FILMS, True)
        number = len(self.washes)
        who = "Both take" if number == 2 else f"Each of the {number} takes"
        told = f" ({count})" if count > 1 else ""
        return f"{who} {TAKES[row.role]} of{_dispute(row)}{told}"

    def _by_whom(self, rows: Sequence[Verdict]) -> Iterator[str]:
        """Which washes take how much of films that are alike, the most first."""
        for each in reversed(foldings(rows)):
            who = described(self.base, each.washes.terms, self.name)
            disputed = _doubted(each.first)
            yield f"{TAKES[each.first.role]} by {who}{disputed}"

    def _alike(self, side: int) -> Iterator[tuple[list[str], list[Verdict]]]:
        """What is alike in all, with its verdicts; that of which most goes first."""
        mine: dict[str, list[Verdict]] = {}
        like: dict[str, dict[str, object]] = {}
        for row in self.rows:
            pair = wash_key(row), film_key(row)
            mine.setdefault(pair[side], []).append(row)
            like.setdefault(pair[side], {})[pair[1 - side]] = same_verdict(row)
        groups: dict[frozenset[tuple[str, object]], list[str]] = {}
        for key, verdicts in like.items():
            groups.setdefault(frozenset(verdicts.items()), []).append(key)
        for keys in sorted(groups.values(), key=lambda keys: _worth(mine[keys[0]])):
            yield keys, [row for key in keys for row in mine[key]]


def _belongs(row: Verdict, key: str, kind: str) -> bool:
    """Whether the wash or film of a verdict belongs to a class."""
    symbol = film_of(key)[0]
    base = row.case.world.base
    stated = symbol in base and kind in base.classes_of(symbol)
    return stated or row.case.model.holds(ISA, (symbol, kind))


def _doubted(row: Verdict) -> str:
    """That it is disputed, and what, in brackets."""
    return f" ({_contested(row)} is disputed)" if row.contested else ""


def _contested(row: Verdict) -> str:
    effects = {Role.PART_OF_IT: "any", Role.ALL_OF_IT: "all"}
    return f"whether {' and '.join(effects[each] for each in row.contested)}"


def _dispute(row: Verdict) -> str:
    """That it is disputed, and what."""
    parts = _contested(row) if row.contested else ""
    return f", and sources disagree on {parts}" if parts else ""


def _worth(rows: Sequence[Verdict]) -> tuple[int, float, float]:
    """Lower for that of which, or by which, more goes: surely of every film first."""
    sure = [ENDS[row.role][0] is not Role.NONE_OF_IT for row in rows]
    ranks = [VERDICTS.index(row.role) for row in rows]
    return (-sum(sure), -min(ranks), -sum(ranks) / len(ranks))
