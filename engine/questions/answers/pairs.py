"""Several washes on several films: who takes part of all, and what else may stay.

The washes that take part of every film come first; of the others it is told which
film each may leave. A reason is told with the films that it bounds, and with the
washes where these are not all of which the list tells.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.contract import PUTS_BACK
from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.because import telling_end
from abluent.engine.questions.answers.described import Describer
from abluent.engine.questions.answers.folded_words import described
from abluent.engine.questions.answers.folding import film_key, wash_key
from abluent.engine.questions.answers.group import parted
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.lists import (
    BY_NAME,
    FILMS,
    Block,
    Lists,
    Why,
)
from abluent.engine.questions.answers.verdicts import Verdict, amount_of


def by_wash(lists: Lists) -> Iterator[Block]:
    """The washes that take part of every film, then what the others may leave."""
    mine: dict[str, list[Verdict]] = {}
    for row in lists.rows:
        mine.setdefault(wash_key(row), []).append(row)
    surely = [key for key, rows in mine.items() if not any(map(telling_end, rows))]
    told = _Pairs(lists)
    if surely:
        yield told.of_every(surely, [row for key in surely for row in mine[key]])
    rest = [row for key in mine if key not in surely for row in mine[key]]
    if goes := [row for row in rest if not telling_end(row)]:
        who = "The others take" if surely else "Take"
        yield told.of_some(f"{who} at least part of", goes, why=False)
    roles = {row.role for row in rest if telling_end(row)}
    for role in sorted(roles, key=VERDICTS.index, reverse=True):
        yield told.of_some(
            f"Take {amount_of(role)} of", [r for r in rest if r.role is role]
        )


class _Pairs:
    def __init__(self, lists: Lists) -> None:
        self.lists = lists
        self.films: Describer = lists.describer(FILMS)

    def of_every(self, keys: Sequence[str], rows: Sequence[Verdict]) -> Block:
        """Washes that take part of every film."""
        names = ", ".join(map(self.lists.name, keys))
        verb, count = "Take" if len(keys) > 1 else "Takes", len(self.lists.films)
        head = f"{verb} at least part of every one of the {count} films"
        capped = [row for row in rows if row.role is Role.PARTLY_CLEARED]
        beside: tuple[str, ...] = ()
        if capped and len(capped) < len(rows):
            told = self._pairs(capped, keys)
            beside = (f"No more than part in one wash: {told}.",)
        whys = tuple(sorted(self._whys(rows, keys), key=self._stays_less_often))
        return Block(head, (names,), (rows[0],), tuple(rows), whys, beside, True)

    def _stays_less_often(self, why: Why) -> int:
        """Lower for the reason of films that other washes may leave: they decide."""
        films = {film_key(row) for row in why.rows}
        rows = (row for row in self.lists.rows if film_key(row) in films)
        return -sum(map(telling_end, rows))

    def of_some(self, head: str, rows: Sequence[Verdict], *, why: bool = True) -> Block:
        """Films, and the washes that take so much of them."""
        told = self._pairs(rows, ())
        whys = self._whys(rows, ()) if why else ()
        return Block(head, (told,), (rows[0],), tuple(rows), whys)

    def _whys(self, rows: Sequence[Verdict], every: Sequence[str]) -> tuple[Why, ...]:
        """The reasons film by film; films with the same reason and washes together."""
        of: dict[str, list[Verdict]] = {}
        for row in rows:
            of.setdefault(film_key(row), []).append(row)
        found: dict[tuple[object, ...], list[Verdict]] = {}
        for mine in of.values():
            for each in parted(mine):
                said = each.because and each.because.what != PUTS_BACK
                why = each.because if said else each.words
                key = why, tuple(map(wash_key, each.rows))
                found.setdefault(key, []).extend(each.rows)
        groups = [group for own in found.values() for group in parted(own)]
        if not any(group.words for group in groups):
            return ()
        groups.sort(key=lambda group: -len(group.rows))
        return tuple(
            Why(self._pairs(each.rows, every), each.words, each.rows, each.because)
            for each in groups
        )

    def _pairs(self, rows: Sequence[Verdict], every: Sequence[str]) -> str:
        """Films, each group with the washes it is told of if these are not all."""
        of: dict[str, list[str]] = {}
        for row in rows:
            of.setdefault(film_key(row), []).append(wash_key(row))
        groups: dict[tuple[str, ...], list[str]] = {}
        for film, washes in of.items():
            groups.setdefault(tuple(sorted(washes)), []).append(film)
        told = []
        for who, keys in groups.items():
            terms = self.films.described(self.films.mask(keys))
            names = described(self.lists.base, terms, self.lists.name)
            of_class = len(terms) == 1 and not terms[0].but and len(keys) > 1
            if len(keys) <= BY_NAME and not of_class:
                names = listed([self.lists.name(key) for key in keys])
            by = listed([self.lists.name(key) for key in who], BY_NAME)
            told.append(names if set(who) == set(every) else f"{names} by {by}")
        return "; ".join(told)
