"""What a picture lists, put together: by verdict, by family, or side by side.

Every thing is counted: a group says how many it holds where it cannot name them all.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.folded_words import (
    alike,
    foldings,
    many,
    phrases,
)
from abluent.engine.questions.answers.folding import film_key, wash_key
from abluent.engine.questions.answers.rows import title
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.engine.routines.overview import called, family_among
from abluent.shell.ground.strand import LEFT, MAY_BE_LEFT, strand_of
from abluent.shell.told.asking import unread_names
from abluent.shell.told.group import Cell, Group, Table
from abluent.shell.told.plain import caption_in_a_word, in_a_word, plainly
from abluent.shell.told.reasons import why_of_group, why_of_row
from abluent.shell.told.spoken_names import aloud, few, spoken_alone
from abluent.shell.told.washes import Washes

_MANY_NAMES = 4
"""Of so many names those that have a common name are told by it alone."""
COLUMNS = 3
"""So many washes stand side by side."""


def verdicts_among(rows: Sequence[Row]) -> list[Verdict]:
    """Return the verdicts among some rows."""
    return [row for row in rows if isinstance(row, Verdict)]


def side_by_side(found: Sequence[Verdict]) -> Table | None:
    """Return a few washes over several films as a table; None where it is no such."""
    washes = list(dict.fromkeys(row.wash for row in found))
    films = {film_key(row) for row in found}
    if not 1 < len(washes) <= COLUMNS or len(films) < 2:
        return None
    cells = {(row.wash, film_key(row)): row for row in found}
    keys = {row.wash: wash_key(row) for row in found}
    rows = []
    sources = {row.source for row in found}
    whose = f" from {found[0].source}" if len(sources) == 1 and found[0].source else ""
    for told, film in alike(found, 1):
        line = [cells.get((wash, film)) for wash in keys]
        name = told.replace(whose, "") if whose else told
        rows.append((name, tuple(_cell(row) for row in line)))
    return Table(tuple(washes), tuple(rows))


def _cell(row: Verdict | None) -> Cell | None:
    if row is None:
        return None
    said = in_a_word(row.case.world.base, row.value)
    return Cell(strand_of(row.role), f"{said}, disputed" if row.disputed else said)


def groups_of(
    rows: Sequence[Row], others: Sequence[Row], *, worst: bool = True
) -> list[Group]:
    """Return rows by what is so of them.

    `worst` if each wash stands where the film puts it of which it takes least.
    """
    found = verdicts_among([*rows, *others])
    films = {film_key(row) for row in found}
    if len({row.wash for row in found}) > 1 and not _need_none(found):
        return Washes(found, worst=worst).groups()
    if many(found) and len(films) > 1:
        return list(_folded(found))
    return [*_left(rows), *_judged(found), *_plain(rows)]


def _need_none(found: Sequence[Verdict]) -> bool:
    return all(row.role is Role.NO_WASH_NEEDED for row in found)


def several_of_each(found: Sequence[Verdict]) -> bool:
    """Whether several washes meet several films."""
    films = {film_key(row) for row in found}
    return len({row.wash for row in found}) > 1 and len(films) > 1


def _judged(found: Sequence[Verdict]) -> Iterator[Group]:
    """What one wash does, by how much of what it takes, the most first."""
    for role in sorted(VERDICTS, key=lambda each: -VERDICTS.index(each)):
        mine = [row for row in found if row.role is role]
        if mine and role is Role.NO_WASH_NEEDED:
            yield _no_wash(mine)
        elif mine:
            word = caption_in_a_word(mine[0])
            names = _spoken(_names(mine, found))
            why = _why(mine)
            yield Group(strand_of(mine[0].role), word, names, len(mine), why)


def _spoken(names: Iterable[str]) -> tuple[str, ...]:
    """Names of a list; of many that have a common name it alone is told."""
    found = tuple(names)
    if len(found) < _MANY_NAMES:
        return found
    return tuple(spoken_alone(name) for name in found)


def _why(mine: Sequence[Verdict]) -> str:
    """What decides most of some verdicts; of what is open, what nobody knows."""
    if mine[0].role is not Role.OPEN:
        return why_of_row(mine[0]) if len(mine) == 1 else why_of_group(mine)
    world = mine[0].case.world
    names = [name for row in mine for name, _ in unread_names(world, row.wash)]
    if not names:
        return ""
    return f"{few(names, 2)} on the label may be anything."


def _no_wash(mine: Sequence[Verdict]) -> Group:
    """Films that go by themselves, and how: no wash does anything there."""
    base = mine[0].case.world.base
    how = base.record(mine[0].value).text("spokenAs")
    word = f"None needed: {how}" if how else plainly(base, mine[0].value)
    films = tuple(dict.fromkeys(aloud(base, row.film) for row in mine))
    return Group(strand_of(Role.NO_WASH_NEEDED), word, films, len(films))


def _names(mine: Sequence[Verdict], found: Sequence[Verdict]) -> Iterator[str]:
    """Each row by what sets it apart: its wash, its film, or both."""
    washes = {row.wash for row in found}
    films = {(row.film, row.source) for row in found}
    sources = {row.source for row in found}
    for row in mine:
        film = aloud(row.case.world.base, row.film)
        film += f" from {row.source}" if len(sources) > 1 and row.source else ""
        told = f"{row.wash} on {film}" if len(washes) > 1 else film
        told = row.wash if len(films) == 1 else told
        yield f"{told} (sources disagree)" if row.disputed else told


def _folded(found: Sequence[Verdict]) -> Iterator[Group]:
    """Many films of one wash by their classes; all but the others come last."""
    folds = foldings(found)
    top = found[0].case.world.base.term(Role.FILM)
    one = len({row.wash for row in found}) == 1
    last: list[Group] = []
    for fold, text in zip(folds, phrases(folds), strict=True):
        _, _, names = text.partition(": ")
        word = caption_in_a_word(fold.first)
        mark, count = strand_of(fold.first.role), len(fold.members)
        terms = fold.films.terms
        rest = one and not last and len(terms) == 1 and terms[0].but and len(folds) > 1
        if rest and terms[0].symbol == top:
            last.append(Group(mark, word, (f"everything else ({count})",), count))
            continue
        if count > 1:
            names = names.removesuffix(f" ({count})")
            word = f"{word} ({count})"
        yield Group(mark, word, tuple(_at_commas(names)), count)
    yield from last


def _at_commas(text: str) -> Iterator[str]:
    """A description cut at its commas, but for those within brackets."""
    depth, start = 0, 0
    for at, letter in enumerate(text):
        depth += (letter in "([") - (letter in ")]")
        if letter == "," and not depth:
            yield text[start:at].strip()
            start = at + 1
    yield text[start:].strip()


def _left(rows: Sequence[Row]) -> Iterator[Group]:
    """What is left: by product where there are several, else by family."""
    found = [row for row in rows if isinstance(row, Left)]
    several = len({row.source for row in found}) > 1
    for sure, mark, word in ((True, LEFT, "Leaves"), (False, MAY_BE_LEFT, "May leave")):
        mine = [row for row in found if row.sure is sure]
        if several and mine:
            names = tuple(dict.fromkeys(row.source for row in mine))
            yield Group(mark, word, names, len(names))
        elif mine and sure and len(mine) > 3:
            yield from _families(mine)
        elif mine:
            names = tuple(aloud(row.case.world.base, row.film) for row in mine)
            yield Group(mark, word, names, len(names))


def _families(mine: Sequence[Left]) -> Iterator[Group]:
    families: dict[str, list[str]] = {}
    for row in mine:
        base = row.case.world.base
        family = called(base, family_among(base, row.film))
        families.setdefault(family, []).append(aloud(base, row.film))
    for family, told in sorted(families.items(), key=lambda f: -len(f[1])):
        names = told if len(mine) < _MANY_NAMES else list(map(spoken_alone, told))
        word = family[:1].upper() + family[1:]
        yield Group(None, word, tuple(names), len(names))


def _plain(rows: Sequence[Row]) -> Iterator[Group]:
    plain = [row for row in rows if not isinstance(row, Verdict | Left)]
    if plain:
        told = tuple(map(title, plain))
        yield Group(None, "", told, len(told))
