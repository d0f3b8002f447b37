"""What is told of a thing besides its kind: what it does, and how far it goes.

What it does, what to do on wash day and what no label tells is advice of the base on
the nearest kind; how far it goes is judged by the washes of a few ingredients alone.
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.answer import Finding
from abluent.engine.questions.answers.nearest_advice import (
    LABEL_SILENCE,
    WASH_DAY,
    WHAT_IT_DOES,
    advice_on,
    tried_with,
)
from abluent.engine.questions.answers.rows import standing
from abluent.engine.questions.answers.verdicts import TAKES, Verdict
from abluent.engine.questions.answers.wording import kinds_of_grades
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.items import INGREDIENT, Item
from abluent.engine.questions.world.world import WATER, World
from abluent.grammar.common.text import in_a_row
from abluent.grammar.query import tree as q

_HEADS = ((WASH_DAY, "On wash day"), (LABEL_SILENCE, "What no label tells"))
"""What is told below, in this order, and what stands before it."""


def what_it_does(world: World, symbol: str) -> str:
    """What a kind or a thing does, in a sentence; empty if nothing is told of it.

    Of a name that may stand for several kinds it is what all of these do.
    """
    base = world.base
    told = advice_on(base, WHAT_IT_DOES, symbol, kinds=world.labels.kinds_of(symbol))
    if told and told.about != symbol and kinds_of_grades(base, symbol):
        grades = base.record(symbol).links("coversGrade")
        above = [set(base.ancestors(base.classes_of(each)[0])) for each in grades]
        shared = sorted(set.intersection(*above))
        nearest = max(shared, key=lambda kind: len(base.ancestors(kind)))
        told = advice_on(base, WHAT_IT_DOES, nearest)
    return told.text if told else ""


def told_below(world: World, symbol: str) -> list[Finding]:
    """What to do about a film on wash day, and what no label tells of a thing."""
    kinds = world.labels.kinds_of(symbol)
    found = []
    for matter, head in _HEADS:
        side = Role.FILM if matter == WASH_DAY else None
        told = advice_on(world.base, matter, symbol, side=side, kinds=kinds)
        if told:
            found.append(Finding(matter, head, (told.text,)))
    return found


def how_far_it_goes(judge: Judge, item: Item) -> str:
    """How much of a film a few washes of one ingredient take, and how sure that is."""
    if item.kind != INGREDIENT or not judge.removal.is_film(item):
        return ""
    base = judge.world.base
    kinds = judge.world.labels.kinds_of(item.key)
    agents = [Item(INGREDIENT, each) for each in tried_with(base, item.key, kinds)]
    said = q.Clears(q.Name(judge.nouns.title(item)))
    rows = judge.removal.on_films(agents, [item], said)[item]
    if not rows:
        return ""
    if all(row.role is Role.NO_WASH_NEEDED for row in rows):
        return f"No wash is needed for it ({standing(rows[0])})."
    rows.sort(key=lambda row: (VERDICTS.index(row.role), row.wash != WATER, row.wash))
    alike = len({standing(row) for row in rows}) == 1
    told: list[str] = []
    for (role, stands), names in _alike(rows).items():
        verb = "takes" if len(names) == 1 else "take"
        what = f"{TAKES[role]}{'' if told else ' of it'}"
        sure = "" if alike else f" ({stands})"
        told.append(f"{in_a_row(names)} {verb} {what}{sure}")
    last = f" ({standing(rows[0])})" if alike else ""
    return f"In one wash {in_a_row(told)}{last}."


def _alike(rows: Sequence[Verdict]) -> dict[tuple[Role, str], list[str]]:
    """The washes, those together that take as much and stand alike."""
    groups: dict[tuple[Role, str], list[str]] = {}
    for row in rows:
        groups.setdefault((row.role, standing(row)), []).append(row.wash)
    return groups
