"""Several washes by the kinds of film: how much each takes of most of each kind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.routines.how_often import washed_for
from abluent.engine.routines.overview import called, family_among
from abluent.shell.ground.strand import LEFT, MAY_BE_LEFT, Half, Strand
from abluent.shell.told.group import Cell, Table
from abluent.shell.told.plain import in_a_word
from abluent.shell.told.told import Told
from abluent.shell.told.washes import BEST_FIRST, middling

_WASHES, _TOGETHER = 4, 24
"""So many washes stand in a grid, at the least and at the most."""
_KINDS, _MOST = 3, 5
"""So many kinds of film stand in a grid, at the least and at the most."""
_FILMS = 2
"""A kind of fewer films is left out of a grid."""
_NAMED = 3
_BY_KIND = "By kind, not amount."
"""What a grid rests on: no label tells amounts."""
_MARKS = {
    Role.CLEARED: Strand(Half.GONE, Half.GONE),
    Role.AT_LEAST_PARTLY: Strand(Half.GONE, Half.GONE),
    Role.PARTLY_CLEARED: Strand(Half.GONE, Half.STAYS),
    Role.AT_MOST_PARTLY: LEFT,
    Role.NOT_CLEARED: LEFT,
    Role.OPEN: MAY_BE_LEFT,
}
"""The mark of a verdict in a grid: as told in a word, well or hardly."""
_CALLED = {
    LEFT: "Coated",
    MAY_BE_LEFT: "Dotted",
    _MARKS[Role.PARTLY_CLEARED]: "Half",
    _MARKS[Role.CLEARED]: "Bare",
}
_IN_A_COLUMN = "inAColumn"
_Grades = Mapping[str, Mapping[str, Role]]


def by_family(told: Told, found: Sequence[Verdict]) -> Told | None:
    """Return many washes over many films as a grid of kinds; None if they are few."""
    washes = list(dict.fromkeys(row.wash for row in found))
    if not _WASHES <= len(washes) <= _TOGETHER:
        return None
    base = found[0].case.world.base
    rows: dict[str, dict[str, list[Verdict]]] = {}
    for row in found:
        if row.role is not Role.NO_WASH_NEEDED:
            kind = family_among(base, row.film)
            rows.setdefault(kind, {}).setdefault(row.wash, []).append(row)
    grades = {
        kind: {wash: middling(mine) for wash, mine in each.items()}
        for kind, each in rows.items()
        if max(map(len, each.values())) >= _FILMS
    }
    apart = {k: g for k, g in grades.items() if len({*g.values()}) > 1}
    if len(apart) < _KINDS:
        return None
    # What nobody washes for comes last, then what there is least of.
    much = {k: max(map(len, rows[k].values())) for k in apart}
    most = sorted(apart, key=lambda k: (not washed_for(base, k), -much[k]))[:_MOST]
    best_first = sorted(washes, key=lambda wash: _weight(grades, wash), reverse=True)
    lines = [
        (
            wash,
            tuple(
                Cell(_MARKS[apart[kind][wash]], "") if wash in apart[kind] else None
                for kind in most
            ),
        )
        for wash in best_first
    ]
    heads = _heads(base, most)
    shown = [role for kind in most for role in apart[kind].values()]
    table = Table(tuple(heads), tuple(lines), _key(found, shown))
    told = told._replace(claim=_claim(grades, best_first), table=table)
    return told._replace(note=_BY_KIND, sure="", caution="")


def _key(found: Sequence[Verdict], shown: Sequence[Role]) -> str:
    """What the marks of a grid mean, those first that say that most comes off."""
    base = found[0].case.world.base
    value_of = {row.role: row.value for row in found}
    words: dict[Strand, str] = {}
    for role in sorted({*shown}, key=BEST_FIRST.index):
        words.setdefault(_MARKS[role], in_a_word(base, value_of[role]))
    return " ".join(f"{_CALLED[mark]}: {word}." for mark, word in words.items())


def _weight(grades: _Grades, wash: str) -> tuple[int, int]:
    """Of how many kinds a wash surely takes a part, and how much of all of them."""
    mine = [each[wash] for each in grades.values() if wash in each]
    sure = sum(ENDS[role][0] is not Role.NONE_OF_IT for role in mine)
    return sure, -sum(map(BEST_FIRST.index, mine))


def _claim(grades: _Grades, best_first: Sequence[str]) -> str:
    """Which washes take most kinds off, and which takes the fewest."""
    sure = {wash: _weight(grades, wash)[0] for wash in best_first}
    first = [w for w in best_first if sure[w] == sure[best_first[0]]]
    last = [w for w in best_first if sure[w] == sure[best_first[-1]]]
    if len(first) == len(best_first):
        return f"All {len(first)} washes take part of the same kinds of film."
    s = "s" * (len(first) == 1)
    who = listed(first) if len(first) <= _NAMED else f"{len(first)} washes"
    told = f"{who} take{s} off most"
    return f"{told}, {last[0]} least." if len(last) == 1 else f"{told}."


def _heads(base: Base, kinds: Sequence[str]) -> list[str]:
    """A word for each kind; its whole name where that has none."""
    return [base.record(k).text(_IN_A_COLUMN) or called(base, k) for k in kinds]
