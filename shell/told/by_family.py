"""Several washes by the kinds of film: how much each takes of most of each kind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.routines.overview import called, family_among
from abluent.shell.ground.strand import strand_of
from abluent.shell.told.group import Cell, Table
from abluent.shell.told.told import Told
from abluent.shell.told.washes import BEST_FIRST, middling

_WASHES, _TOGETHER = 4, 24
"""So many washes stand in a grid, at the least and at the most."""
_KINDS, _MOST = 3, 5
"""So many kinds of film stand in a grid, at the least and at the most."""
_FILMS = 2
"""A kind of fewer films is left out of a grid."""
_NAMED = 3
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
            kind = called(base, family_among(base, row.film))
            rows.setdefault(kind, {}).setdefault(row.wash, []).append(row)
    grades = {
        kind: {wash: middling(mine) for wash, mine in each.items()}
        for kind, each in rows.items()
        if max(map(len, each.values())) >= _FILMS
    }
    apart = {k: g for k, g in grades.items() if len({*g.values()}) > 1}
    if len(apart) < _KINDS:
        return None
    most = sorted(apart, key=lambda k: -max(map(len, rows[k].values())))[:_MOST]
    shown = {kind: apart[kind] for kind in most}
    best_first = sorted(washes, key=lambda wash: _weight(grades, wash), reverse=True)
    heads = _heads(most)
    lines = [
        (
            wash,
            tuple(
                Cell(strand_of(each[wash]), "") if wash in each else None
                for each in shown.values()
            ),
        )
        for wash in best_first
    ]
    table = Table(tuple(heads.values()), tuple(lines))
    claim = _claim(grades, best_first)
    return told._replace(claim=claim, table=table, note=_note(heads))


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


def _heads(kinds: Sequence[str]) -> dict[str, str]:
    """A word for each kind, by the kind."""
    words = {kind: kind.split(" and ")[0].split()[-1] for kind in kinds}
    alone = len({*words.values()}) == len(words)
    return words if alone else {kind: kind for kind in kinds}


def _note(heads: Mapping[str, str]) -> str:
    """What a mark is of, and which heads were shortened to what."""
    short = [kind for kind, word in heads.items() if kind.endswith(f" {word}")]
    said = f" Here: {listed(short)}." if short else ""
    return f"Each mark: most of its kind.{said}"
