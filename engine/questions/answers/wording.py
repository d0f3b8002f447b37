"""Answers in one plain sentence."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import (
    NotMember,
    Row,
)
from abluent.engine.questions.answers.explained import as_sentence
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.engine.questions.world.world import World

_SHOWN = 12


def listed(names: Sequence[str], limit: int = _SHOWN) -> str:
    """Names as a list in words; past the limit, how many more there are."""
    names = list(dict.fromkeys(names))
    if len(names) > limit:
        return f"{', '.join(names[:limit])} and {len(names) - limit} more"
    *first, last = names or [""]
    return f"{', '.join(first)} and {last}" if first else last


def row_phrase(world: World, row: Row) -> str:
    """What one row says, without a full stop."""
    if isinstance(row, Verdict):
        return _verdict_phrase(world, row)
    if isinstance(row, Left):
        return f"{row.source} leaves {world.base.label(row.film)}"
    if isinstance(row, NotMember):
        predicate, _ = row.goal
        told = [world.known.sentences.claim(*beside) for beside in row.beside]
        return " and ".join(
            [*told, world.known.sentences.absence(predicate, row.pattern)]
        )
    return world.known.sentences.claim(*row.goal)


def _verdict_phrase(world: World, row: Verdict) -> str:
    film = world.base.label(row.film)
    source = f" from {row.source}" if row.source else ""
    doubt = " (disputed)" if row.disputed else ""
    if row.role is Role.NO_WASH_NEEDED:
        return f"{film}{source} needs no wash{doubt}"
    if row.role is Role.OPEN:
        return f"whether {row.wash} clears {film}{source} is open{doubt}"
    return f"{row.wash} {world.base.label(row.value)} {film}{source}{doubt}"


def verdicts_sentence(world: World, rows: Sequence[Verdict], truth: bool | None) -> str:
    """Verdicts on several films as one sentence, those of one kind together."""
    if len(rows) == 1:
        return as_sentence(row_phrase(world, rows[0]))
    groups: dict[tuple[str, str, str], list[str]] = {}
    for row in rows:
        name = world.base.label(row.film) + (" (disputed)" if row.disputed else "")
        groups.setdefault((row.wash, row.value, row.source), []).append(name)
    told = []
    for (wash, value, source), films in groups.items():
        shown = listed(films) + (f" from {source}" if source else "")
        role = world.known.verdict_roles[value]
        if role is Role.NO_WASH_NEEDED:
            told.append(f"{shown} {'need' if len(films) > 1 else 'needs'} no wash")
        elif role is Role.OPEN:
            told.append(f"whether {wash} clears {shown} is open")
        else:
            told.append(f"{wash} {world.base.label(value)} {shown}")
    head = {True: "Yes", False: "No", None: "Open"}[truth]
    return f"{head}: {'; '.join(told)}."
