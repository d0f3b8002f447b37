"""Many verdicts as one sentence that can be said aloud: what goes, and what stays.

What goes for sure comes first, in the classes that most of it belongs to; then what
may go in part, what stays, and what nobody here knows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.folded_words import in_brief
from abluent.engine.questions.answers.folding import film_key, film_of, wash_key
from abluent.engine.questions.answers.verdicts import Verdict

_ORDER = (
    (Role.CLEARED, "all of"),
    (Role.PARTLY_CLEARED, "at least part of"),
    (Role.AT_MOST_PARTLY, "at most part of"),
    (Role.NOT_CLEARED, "none of"),
)
"""What is told of what a wash takes, in this order."""
_AS = {Role.AT_LEAST_PARTLY: Role.PARTLY_CLEARED}
"""What is told as another is: what goes at least in part goes in part."""
_GROUPS = 4
"""So many groups of films are named of what is alike."""


def spoken(rows: Sequence[Verdict], who: str = "") -> str:
    """What some washes take of several films, without a full stop.

    Args:
        rows: the verdicts, at least one.
        who: the washes in the plural; by their number if it is not given.
    """
    base = rows[0].case.world.base
    found, depends = _by_role(rows)
    films = list(dict.fromkeys(film_of(film_key(row))[0] for row in rows))
    names, verb, again = _washes(rows, who)
    told: list[str] = []
    for role, words in _ORDER:
        if some := found.pop(role, []):
            told.append(f"{words} {_brief(base, some, films)}")
    parts = [f"{names} {verb} {told[0]}"] if told else []
    parts += [f"{again} {each}" for each in told[1:]]
    parts += _rest(base, found, films)
    if depends:
        which = f"which {who[:1].lower()}{who[1:]}" if who else "which wash"
        parts.append(f"of {_brief(base, depends, films)} it depends on {which}")
    return ". ".join([*parts[:1], *(part[:1].upper() + part[1:] for part in parts[1:])])


def _by_role(
    rows: Sequence[Verdict],
) -> tuple[dict[Role, list[str]], list[str]]:
    """The films of which every wash takes as much, and those where it depends."""
    of: dict[str, set[Role]] = {}
    for row in rows:
        film, _ = film_of(film_key(row))
        of.setdefault(film, set()).add(_AS.get(row.role, row.role))
    found: dict[Role, list[str]] = {}
    for film, roles in of.items():
        if len(roles) == 1:
            found.setdefault(next(iter(roles)), []).append(film)
    return found, [film for film, roles in of.items() if len(roles) > 1]


def _washes(rows: Sequence[Verdict], who: str) -> tuple[str, str, str]:
    """The washes, what they do, and the same said again."""
    names = list(dict.fromkeys(map(wash_key, rows)))
    if who:
        return who, "take", "they take"
    if len(names) == 1:
        return rows[0].wash, "takes", "it takes"
    if len(names) == 2:
        return "both", "take", "they take"
    return f"each of the {len(names)}", "takes", "each takes"


def _rest(
    base: Base, found: dict[Role, list[str]], films: Sequence[str]
) -> Iterator[str]:
    """What needs no wash, and what nobody here knows."""
    if dry := found.get(Role.NO_WASH_NEEDED):
        need = "needs" if len(dry) == 1 else "need"
        yield f"{_brief(base, dry, films)} {need} no wash"
    if unknown := found.get(Role.OPEN):
        yield f"how much of {_brief(base, unknown, films)} is not known here"


def _brief(base: Base, some: Sequence[str], films: Sequence[str]) -> str:
    return in_brief(base, some, films, _GROUPS)
