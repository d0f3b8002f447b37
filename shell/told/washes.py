"""Several washes by how much each takes: well, in part, hardly, not; none left out.

Of films of one kind a wash stands where half of them put it at least, and what goes
otherwise is told beside it; where each of them is asked about, where the worst puts
it. What lays such a film down itself stands apart, and what goes alike in all of the
washes parts none.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.account import acting
from abluent.engine.questions.answers.folding import film_key
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.questions.answers.wording import left_itself, puts_back
from abluent.engine.questions.world.world import WATER
from abluent.shell.ground.strand import strand_of
from abluent.shell.told.asking import unread_names
from abluent.shell.told.group import Group
from abluent.shell.told.plain import in_a_word
from abluent.shell.told.reasons import why_of_group
from abluent.shell.told.spoken_names import aloud, few, kind_aloud, spoken_alone

BEST_FIRST = (
    Role.CLEARED,
    Role.AT_LEAST_PARTLY,
    Role.PARTLY_CLEARED,
    Role.AT_MOST_PARTLY,
    Role.OPEN,
    Role.NOT_CLEARED,
)
"""How much a wash may be said to take, the most first."""
_EFFECTS = (Role.NONE_OF_IT, Role.PART_OF_IT, Role.ALL_OF_IT)
_BY_ENDS = {ENDS[role]: role for role in BEST_FIRST}
_FEW = 2
"""So many films are named that go otherwise than the rest."""


class Washes:
    """What several washes do to one film or more."""

    def __init__(self, found: Sequence[Verdict], *, worst: bool) -> None:
        judged = [row for row in found if row.role is not Role.NO_WASH_NEEDED]
        self.base = found[0].case.world.base
        self.gone = [row for row in found if row.role is Role.NO_WASH_NEEDED]
        self.alike = {} if worst else _alike(judged)
        self.rows = [row for row in judged if film_key(row) not in self.alike]
        self.by_wash: dict[str, list[Verdict]] = {}
        for row in self.rows:
            self.by_wash.setdefault(row.wash, []).append(row)
        self.worst = worst
        self.films = dict.fromkeys(map(film_key, self.rows))
        self.apart = _laying(self.by_wash, worst=worst)
        grade = _least if worst else middling
        self.grades: Mapping[str, Role] = {
            wash: grade(rows) for wash, rows in self.by_wash.items()
        }

    def by_grade(self) -> dict[Role, list[str]]:
        """The washes by how much each takes, the most first."""
        return {
            role: mine
            for role in BEST_FIRST
            if (mine := [w for w in self.of(role) if w not in self.apart])
        }

    def of(self, role: Role) -> list[str]:
        """The washes that take so much."""
        return [wash for wash, grade in self.grades.items() if grade is role]

    def groups(self, *, kinds: bool = True) -> list[Group]:
        """The washes by how much each takes, each group with why.

        `kinds` if each is told with what it cleans with, where they differ.
        """
        grades = self.by_grade()
        told = [self._group(role, mine, kinds) for role, mine in grades.items()]
        if self._shared(told):
            told = [group._replace(why="") for group in told]
        if self.apart:
            films = list(dict.fromkeys(f for each in self.apart.values() for f in each))
            why = f"{'Each leaves' if len(self.apart) > 1 else 'Leaves'} {few(films)} "
            names = tuple(self.apart)
            word = "Takes off and puts on"
            told.append(Group(None, word, names, len(names), f"{why}on hair itself."))
        return told

    @staticmethod
    def _shared(told: Sequence[Group]) -> str:
        """Why something is so of each of several groups, if that is the same."""
        whys = {group.why for group in told}
        return whys.pop() if len(told) > 1 == len(whys) else ""

    def _group(self, role: Role, mine: Sequence[str], kinds: bool) -> Group:
        word = in_a_word(self.base, self._value(role))
        of = {wash: self.cleans_with(wash) for wash in mine}
        rows = [row for wash in mine for row in self.by_wash[wash]]
        decides = why_of_group([row for row in rows if row.role is role])
        decides = "" if self.hardest() else decides
        names: list[str] = list(mine)
        why = ""
        if role is Role.OPEN:
            why = self._dark(mine)
        elif len({*of.values()}) == 1 and (kind := of[mine[0]]):
            why = f"{'Each cleans' if len(mine) > 1 else 'It cleans'} with {kind}."
        elif kinds:
            names = [f"{w} ({bare_kind(of[w])})" if of[w] else w for w in mine]
        names = [f"{n}{self._disputed(w)}" for n, w in zip(names, mine, strict=True)]
        told = [why or decides, self._less(role, mine)]
        said = " ".join(filter(None, told))
        word = f"{word[:1].upper()}{word[1:]}"
        return Group(strand_of(role), word, tuple(names), len(mine), said)

    def _disputed(self, wash: str) -> str:
        """That sources part over the one film that a wash is to take."""
        alone = len(self.films) == 1 and self.by_wash[wash][0].disputed
        return " (sources disagree)" if alone else ""

    def _value(self, role: Role) -> str:
        roles = self.rows[0].case.world.known.verdict_roles
        return next(value for value, each in roles.items() if each is role)

    def _dark(self, mine: Sequence[str]) -> str:
        world = self.rows[0].case.world
        names = [name for wash in mine for name, _ in unread_names(world, wash)]
        return f"{few(names, _FEW)} on the label may be anything." if names else ""

    def _less(self, role: Role, mine: Sequence[str]) -> str:
        """Of which films less goes than most, or least."""
        rows = [row for wash in mine for row in self.by_wash[wash]]
        if len(self.films) < 2:
            return ""
        if self.worst:
            return "" if self.hardest() else _least_of(rows, role)
        known = [row for row in rows if row.role is not Role.OPEN]
        less = Counter(_short(row) for row in known if _rank(row.role) > _rank(role))
        often = [film for film, n in less.items() if 2 * n >= len(mine)]
        common = self.harder()
        return f"Less of {few(often, _FEW)}." if set(often) - set(common) else ""

    def cleans_with(self, wash: str) -> str:
        """What a wash cleans with first of all, in everyday words; empty if unknown."""
        if wash == WATER:
            return ""
        _, at_work = acting(self.by_wash[wash][0])
        cleanser, base = self.base.term(Role.CLEANSER), self.base
        for each in at_work:
            kinds = base.classes_of(each.symbol) if each.symbol in base else ()
            if cleanser in kinds:
                return kind_aloud(base, kinds)
        return ""

    def hardest(self) -> list[Verdict]:
        """A verdict on each film that puts most of the washes where they stand."""
        if not self.worst or len(self.films) < 2:
            return []
        found = []
        for key in self.films:
            rows = [row for row in self.rows if film_key(row) == key]
            low = [r for r in rows if _rank(r.role) >= _rank(self.grades[r.wash])]
            if len(low) * 4 > len(rows) * 3:
                found.append(low[0])
        return found if len(found) < len(self.films) else []

    def harder(self) -> list[str]:
        """The films of which less goes than of most with most washes that do work."""
        work = (Role.CLEARED, Role.AT_LEAST_PARTLY, Role.PARTLY_CLEARED)
        found = []
        for key in () if self.worst else self.films:
            rows = [
                row
                for row in self.rows
                if film_key(row) == key and self.grades[row.wash] in work
            ]
            off = [_rank(row.role) - _rank(self.grades[row.wash]) for row in rows]
            if off and min(off) >= 0 and sum(each > 0 for each in off) * 2 > len(off):
                found.append(_short(rows[0]))
        return found

    def besides(self) -> Iterator[str]:
        """What goes otherwise than the rest, whatever the wash."""
        grades = self.by_grade()
        yield self._shared([self._group(r, mine, True) for r, mine in grades.items()])
        hardest = self.hardest()
        if hardest:
            why = why_of_group(hardest)
            yield f"Hardest to take off: {few(list(map(_short, hardest)), 3)}."
            yield why
        hard = self.harder()
        if hard:
            of = [row for row in self.rows if _short(row) == hard[0]]
            low = [row for row in of if row.role is Role.PARTLY_CLEARED] or of
            why = why_of_group(low)
            go = "goes" if len(hard) == 1 else "go"
            yield f"{few(hard, _FEW)} {go} less well than the rest."
            yield why
        easy = [_short(rows[0]) for rows in self.alike.values()]
        gone = list(dict.fromkeys(map(_short, self.gone)))
        if easy:
            role = next(iter(self.alike.values()))[0].role
            word = in_a_word(self.base, self._value(role)) if self.rows else ""
            s = "es" * (len(easy) == 1)
            yield f"{few(easy, 3)} go{s} {word} with any of them."
        if gone and (self.rows or easy):
            yield f"No wash is needed for {few(gone, 3)}."


def bare_kind(kind: str) -> str:
    """A kind of cleanser without its article and what stands after it, for brackets."""
    word = kind.removeprefix("a ").removeprefix("an ")
    for after in (" with ", " made ", " or "):
        word = word.partition(after)[0]
    return word


def _short(row: Verdict) -> str:
    return spoken_alone(aloud(row.case.world.base, row.film))


def _rank(role: Role) -> int:
    return BEST_FIRST.index(role)


def _alike(judged: Sequence[Verdict]) -> dict[str, list[Verdict]]:
    """Films that go alike in every wash, where others do not; by film."""
    films: dict[str, list[Verdict]] = {}
    for row in judged:
        films.setdefault(film_key(row), []).append(row)
    same = {k: rows for k, rows in films.items() if len({r.role for r in rows}) == 1}
    several = len({row.wash for row in judged}) > 1
    return same if several and len(same) < len(films) else {}


def _laying(
    by_wash: Mapping[str, Sequence[Verdict]], *, worst: bool
) -> dict[str, list[str]]:
    """The washes that leave such films themselves, with which ones.

    `worst` if one counts that takes least of what it leaves itself.
    """
    found: dict[str, list[str]] = {}
    for wash, rows in by_wash.items():
        back = [row for row in rows if row.role is not Role.OPEN and puts_back(row)]
        rest = [row for row in rows if row not in back]
        sets_back = worst and rest and _rank(_least(rest)) < _rank(_least(rows))
        if back and (sets_back or 2 * len(back) >= len(rows)):
            base = back[0].case.world.base
            films = [f for row in back for f in left_itself(row) or [row.film]]
            named = [spoken_alone(aloud(base, each)) for each in films]
            found[wash] = list(dict.fromkeys(named))
    return found


def _least(rows: Sequence[Verdict]) -> Role:
    """How much a wash takes of the film that it takes least of."""
    ends = [ENDS[row.role] for row in rows]
    least, most = (min(each, key=_EFFECTS.index) for each in zip(*ends, strict=True))
    return _BY_ENDS[(least, most)]


def middling(rows: Sequence[Verdict]) -> Role:
    """How much a wash takes of half of the films at least; of two middles the less."""
    ranked = sorted((row.role for row in rows), key=_rank)
    return ranked[len(ranked) // 2]


def _least_of(rows: Sequence[Verdict], role: Role) -> str:
    """Of which films least goes in some washes, those first of which it is so most."""
    times = Counter(_short(row) for row in rows if ENDS[row.role][0] is ENDS[role][0])
    if not times or len(times) == len(set(map(_short, rows))):
        return ""
    return f"Hardest: {few([name for name, _ in times.most_common()], 3)}."
