"""Several washes by how far each goes, each group with why.

Every wash stands in one group, by that of which least goes. Those that surely take part
are parted by the order of strength on these films, where one sets some above others. A
wash that leaves such a film itself stands apart. A reason that would hold as well of
washes that take more is no reason why others take less: there it is told that nothing
shows their cleansers to take any.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from enum import Enum
from typing import NamedTuple

from abluent.engine.base.contract import (
    PUTS_BACK,
    STRENGTH_FAMILY,
    STRONGER_ON,
    UNREAD_LINE,
)
from abluent.engine.base.kinds import telling
from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.account import acting
from abluent.engine.questions.answers.because import Because, telling_end
from abluent.engine.questions.answers.folding import film_key, wash_key
from abluent.engine.questions.answers.group import Group, parted
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.questions.answers.wording import left_itself, puts_back
from abluent.engine.questions.world.case import Case


class Kind(Enum):
    """How far the washes of a group go, those that go furthest first."""

    ALL = 0
    BEST = 1
    SURE = 2
    WEAKER = 3
    SOME = 4
    BACK = 5
    HARDLY = 6
    UNKNOWN = 7
    NONE = 8
    NEEDLESS = 9


SURELY = frozenset({Kind.ALL, Kind.BEST, Kind.SURE, Kind.WEAKER})
"""Of which it is sure that they take part of every film."""


class Grade(NamedTuple):
    """Washes that go as far.

    Args:
        kind: how far.
        washes: the washes, as they are told.
        rows: their verdicts.
        stays: the films that may stay whole.
        own: what each leaves of the kind itself, in the order of the washes.
    """

    kind: Kind
    washes: tuple[str, ...]
    rows: tuple[Verdict, ...]
    stays: tuple[str, ...] = ()
    own: tuple[tuple[str, ...], ...] = ()

    @property
    def films(self) -> tuple[str, ...]:
        """The films that need a wash."""
        return tuple(dict.fromkeys(film_key(row) for row in self.rows if not _dry(row)))

    @property
    def most(self) -> bool:
        """Whether practice counts on most of every film going."""
        judged = [row for row in self.rows if not _dry(row)]
        return (
            self.kind in SURELY and bool(judged) and all(r.takes_most for r in judged)
        )


def graded(rows: Sequence[Verdict]) -> list[Grade]:
    """Verdicts of several washes by how far each wash goes.

    Args:
        rows: the verdicts, at least one; the washes of a group keep their order.
    """
    mine: dict[str, list[Verdict]] = {}
    for row in rows:
        mine.setdefault(wash_key(row), []).append(row)
    found: dict[tuple[Kind, tuple[str, ...]], list[str]] = {}
    for wash, own in mine.items():
        found.setdefault(_grade(own), []).append(wash)
    whole = [
        Grade(
            kind,
            tuple(washes),
            _of(mine, washes),
            stays,
            tuple(_own(mine[wash]) for wash in washes if kind is Kind.BACK),
        )
        for (kind, stays), washes in found.items()
    ]
    told = [part for each in whole for part in _by_strength(each)]
    return sorted(told, key=lambda each: (each.kind.value, len(each.stays)))


def _of(mine: dict[str, list[Verdict]], washes: Iterable[str]) -> tuple[Verdict, ...]:
    return tuple(row for wash in washes for row in mine[wash])


def _dry(row: Verdict) -> bool:
    return row.role is Role.NO_WASH_NEEDED


def _own(rows: Sequence[Verdict]) -> tuple[str, ...]:
    """What a wash leaves itself of what it is to take off."""
    back = [row for row in rows if telling_end(row) and puts_back(row)]
    return tuple(sorted({f for row in back for f in left_itself(row) or [row.film]}))


def _grade(rows: Sequence[Verdict]) -> tuple[Kind, tuple[str, ...]]:
    """How far one wash goes, and which films may stay whole."""
    judged = [row for row in rows if not _dry(row)]
    if not judged:
        return Kind.NEEDLESS, ()
    stays = tuple(sorted({film_key(row) for row in judged if telling_end(row)}))
    if not stays:
        whole = all(row.role is Role.CLEARED for row in judged)
        return Kind.ALL if whole else Kind.SURE, ()
    back = [row for row in judged if telling_end(row) and puts_back(row)]
    if len({film_key(row) for row in back}) == len(stays):
        return Kind.BACK, ()
    if len(stays) < len({film_key(row) for row in judged}):
        return Kind.SOME, stays
    roles = {row.role for row in judged}
    if roles == {Role.NOT_CLEARED}:
        return Kind.NONE, ()
    return Kind.UNKNOWN if roles == {Role.OPEN} else Kind.HARDLY, ()


# -- which of those that surely take part are the stronger -------------------------


def _by_strength(grade: Grade) -> Iterator[Grade]:
    """The strongest of washes that surely take part, apart from the weaker."""
    if grade.kind is not Kind.SURE or len(grade.washes) == 1:
        yield grade
        return
    best, weaker = foremost(grade.rows)
    for kind in (Kind.BEST, Kind.SURE, Kind.WEAKER):
        of = {Kind.BEST: best, Kind.WEAKER: weaker}
        rest = {row.wash for row in grade.rows} - best - weaker
        rows = tuple(row for row in grade.rows if row.wash in of.get(kind, rest))
        if rows:
            yield Grade(kind, tuple(dict.fromkeys(map(wash_key, rows))), rows)


def foremost(rows: Sequence[Verdict]) -> tuple[set[str], set[str]]:
    """The washes to which some are weaker on the films of their verdicts.

    None is stronger than they are.

    Beside them those that are weaker than one of them. Both are empty where no order
    tells any of them apart.
    """
    case = rows[0].case
    wanted = {kind for row in rows if not _dry(row) for kind in families(case, row)}
    symbols = {row.wash: row.goal[1][0] for row in rows}
    pairs = {
        (str(one), str(other))
        for family in wanted
        for one, other, _ in case.model.match(STRONGER_ON, (None, None, family))
        if {one, other} <= set(symbols.values())
    }
    pairs = {pair for pair in pairs if pair[::-1] not in pairs}
    above, below = {one for one, _ in pairs}, {other for _, other in pairs}
    best = {wash for wash, symbol in symbols.items() if symbol in above - below}
    least = {
        wash
        for wash, symbol in symbols.items()
        if any((symbols[one], symbol) in pairs for one in best)
    }
    return best, least


def families(case: Case, row: Verdict) -> list[str]:
    """The narrowest families of films with an order of strength that hold a film."""
    base = case.world.base
    if STRENGTH_FAMILY not in case.world.known.program.arities:
        return []
    known = {str(found[0]) for found in case.model.match(STRENGTH_FAMILY, (None,))}
    kinds = set(base.classes_of(row.film)) if row.film in base else set()
    held = known & kinds.union(*(base.ancestors(kind) for kind in kinds))
    depth = max((len(base.ancestors(each)) for each in held), default=0)
    return [each for each in held if len(base.ancestors(each)) == depth]


# -- why ---------------------------------------------------------------------------


class Reason(NamedTuple):
    """Why some of a group go as far as they do.

    Args:
        words: the reason, in a sentence.
        rows: the verdicts that it bounds.
        because: what it is, of each a claim on other agents that is told alike; empty
            where it is that nothing shows more.
    """

    words: str
    rows: tuple[Verdict, ...]
    because: tuple[Because, ...]


def reasons(grade: Grade, among: Sequence[Grade]) -> list[Reason]:
    """Why the washes of a group go as far, that which tells it from others first."""
    if grade.kind in {Kind.NEEDLESS, Kind.BACK}:
        return []
    lower = not grade.stays and ENDS[_least(grade)][0] is not Role.NONE_OF_IT
    bounded = [row for row in grade.rows if not _dry(row)]
    if not lower:
        bounded = [row for row in bounded if telling_end(row)]
    found: dict[str, Reason] = {}
    general = set() if lower else _of_more(grade, among)
    for each in parted(bounded, upper=not lower):
        plain, because = _plainly(each), each.because
        if because and not lower and _says_nothing(each, general):
            plain, because = _not_shown(each.rows), None
        mine = (because,) if because else ()
        if not plain:
            continue
        before = found.get(plain)
        rows = (*before.rows, *each.rows) if before else each.rows
        found[plain] = Reason(plain, rows, (*before.because, *mine) if before else mine)
    times = _stays_elsewhere(among)

    def deciding(each: Reason) -> tuple[int, int]:
        elsewhere = sum(times.get(film_key(row), 0) for row in each.rows)
        return -elsewhere if lower else 0, -len(each.rows)

    return sorted(found.values(), key=deciding)


def _says_nothing(each: Group, general: set[str]) -> bool:
    """Whether a reason holds of any wash whatever, or of those that take more."""
    base, what = each.rows[0].case.world.base, each.because.what if each.because else ""
    if what in general or what not in base:
        return what in general
    kind = base.record(what).link("ofWash")
    return bool(kind) and not base.record(kind or what).links("actsOnlyBy")


def _least(grade: Grade) -> Role:
    roles = [row.role for row in grade.rows if not _dry(row)]
    return min(roles, key=VERDICTS.index)


def _stays_elsewhere(among: Sequence[Grade]) -> dict[str, int]:
    """How many washes may leave each film whole."""
    times: dict[str, int] = {}
    for row in (row for each in among for row in each.rows):
        if telling_end(row):
            times[film_key(row)] = times.get(film_key(row), 0) + 1
    return times


def _of_more(grade: Grade, among: Sequence[Grade]) -> set[str]:
    """The claims that bound as well what washes take that surely take part."""
    films = {film_key(row) for row in grade.rows}
    others = [
        row
        for each in among
        for row in each.rows
        if film_key(row) in films and not telling_end(row) and not _dry(row)
    ]
    return {
        each.because.what for each in parted(others, upper=True) if each.because
    } - {PUTS_BACK, UNREAD_LINE}


def _plainly(each: Group) -> str:
    """A reason as it is said aloud; by its own sentence where the base has no other."""
    if each.because is None:
        return ""
    base, what = each.rows[0].case.world.base, each.because.what
    told = base.record(what).text("plainly") if what in base else None
    return told if told and not each.because.carried else each.words


def _not_shown(rows: Sequence[Verdict]) -> str:
    """That nothing shows the cleansers of some washes to take any of a film."""
    base = rows[0].case.world.base
    kinds: dict[str, None] = {}
    for row in rows:
        for agent in acting(row)[1][:1]:
            found = telling(base.classes_of(agent.symbol), base)
            kinds.update(dict.fromkeys(base.plural(kind) for kind in found[:1]))
    who = listed([*kinds], 4) if kinds else "their cleansers"
    return f"Nothing here shows that {who} lift any of it."


def own_films(grade: Grade) -> list[str]:
    """What each wash of a group leaves itself, in words."""
    base = grade.rows[0].case.world.base
    return [listed([*map(base.label, films)], 3) for films in grade.own]
