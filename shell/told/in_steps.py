"""What a picture says of washes in an order: its steps from end to end, in lanes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from abluent.engine.base.contract import STRONGER_ON, TAKES_AS_MUCH
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer, Member, Row
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.nearest_advice import LABEL_SILENCE, advice_on
from abluent.engine.questions.verbs.mildness import steps
from abluent.engine.questions.verbs.strength import strength_steps
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import World
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_term
from abluent.shell.told.asking import Asking
from abluent.shell.told.group import Cell, Group, Table
from abluent.shell.told.told import Told

_WITH, _WITHOUT, _SHORT = "laneWith", "laneWithout", "laneWithoutInShort"
_LEAST, _STEPS = 3, 4
"""So many washes are told in an order at the least, in so many steps at the most."""
_NAMED = 3
_ENDS = (("mildest", "harshest"), ("strongest", "weakest"))
_THIRDS = ("stronger", "in the middle", "weaker")
_MUCH = 2
"""So many times as many stand on one side as on the other where it is on that side."""
_TOGETHER = "Nothing decides between those told together."


class _Lanes(NamedTuple):
    """Washes that have something on their lists, and those that have not.

    Args:
        words: what stands before the ones and the others.
        short: what is said of one of the others, in brackets.
        having: the ones.
    """

    words: tuple[str, str]
    short: str
    having: frozenset[str]


def in_steps(
    told: Told, answer: Answer, asking: Asking, rows: Sequence[Row]
) -> Told | None:
    """Return washes by the steps of their order; None where there is no such."""
    found = [row for row in rows if isinstance(row, Member)]
    washes = [each.key for each in answer.members]
    if not isinstance(asking.query, q.Rank | q.HowMuch) or not found:
        return None
    case = found[0].case
    world = case.world
    washes = [each for each in washes if each in world.products]
    strong = any(row.goal[0] in {STRONGER_ON, TAKES_AS_MUCH} for row in found)
    film = asking.query.film
    laid = _laid(case, washes, found, strong=strong)
    first, last = _ENDS[strong]
    heads = [first, *["then"] * (len(laid) - 2), last]
    if len(laid) < 2 and strong and film is None:
        laid, heads = _in_thirds(case, washes)
    if len(washes) < _LEAST or len(laid) < 2:
        return None
    on = f" on {print_term(film)}".replace('"', "") if film is not None else ""
    many = "are" if len(laid[0]) > 1 else "is"
    claim = f"{_who(laid[0])} {many} {heads[0]}{on}, {_who(laid[-1])} {heads[-1]}."
    lanes = _lanes(world, washes)
    table = Table(tuple(heads), tuple(_rows(laid, lanes)))
    told = told._replace(
        claim=claim,
        table=table,
        note=_TOGETHER,
        else_groups=tuple(
            Group(None, head.capitalize(), _briefly(step, lanes), len(step))
            for head, step in zip(heads, laid, strict=True)
        ),
    )
    silence = advice_on(world.base, LABEL_SILENCE, world.base.term(Role.CLEANSER))
    told = told._replace(advice=silence.text if silence else "")
    return told.with_reasons([_across(laid, lanes, heads)])


def _who(names: Sequence[str]) -> str:
    return listed(names) if len(names) <= _NAMED else f"{len(names)} washes"


def _laid(
    case: Case, washes: Sequence[str], found: Sequence[Member], *, strong: bool
) -> list[list[str]]:
    """The washes by steps, the first first, in no more steps than have room."""
    names = {case.world.symbol(name): name for name in washes}
    if strong:
        families = {str(row.goal[1][2]) for row in found if len(row.goal[1]) > 2}
        laid = strength_steps(case, list(names), sorted(families))
    else:
        laid = steps(case, list(names))
    told = [[names[each] for each in step] for step in laid.steps]
    while len(told) > _STEPS:
        told[1:3] = [[*told[1], *told[2]]]
    return told


def _in_thirds(case: Case, washes: Sequence[str]) -> tuple[list[list[str]], list[str]]:
    """The washes that are stronger than most here, weaker than most, and the rest."""
    names = {case.world.symbol(name): name for name in washes}
    pairs = {
        (str(one), str(other))
        for one, other, _ in case.model.match(STRONGER_ON, (None, None, None))
        if str(one) in names and str(other) in names
    }
    thirds: list[list[str]] = [[], [], []]
    for symbol, name in names.items():
        below = len({o for one, o in pairs if one == symbol and (o, one) not in pairs})
        above = len({one for one, o in pairs if o == symbol and (o, one) not in pairs})
        strong, weak = below > _MUCH * above, above > _MUCH * below
        thirds[0 if strong else 2 if weak else 1].append(name)
    told = zip(thirds, _THIRDS, strict=True)
    kept = [(some, head) for some, head in told if some]
    return [some for some, _ in kept], [head for _, head in kept]


def _briefly(names: Sequence[str], lanes: _Lanes | None) -> tuple[str, ...]:
    """Some names, those of the second lane with what tells that they are in it."""
    if lanes is None:
        return tuple(names)
    return tuple(n if n in lanes.having else f"{n} ({lanes.short})" for n in names)


def _lanes(world: World, washes: Sequence[str]) -> _Lanes | None:
    """The two lanes of the base, where some washes are in one and some in the other."""
    for kind in filter(world.base.is_class, world.base.symbols):
        record = world.base.record(kind)
        words = record.text(_WITH), record.text(_WITHOUT)
        if words[0] and words[1]:
            having = [
                name
                for name in washes
                if any(kind in each.classes for each in world.read(name).readings)
            ]
            if 0 < len(having) < len(washes):
                short = record.text(_SHORT) or words[1]
                return _Lanes((words[0], words[1]), short, frozenset(having))
    return None


def _rows(
    laid: Sequence[Sequence[str]], lanes: _Lanes | None
) -> list[tuple[str, tuple[Cell | None, ...]]]:
    if lanes is None:
        return [("", tuple(_cell(step) for step in laid))]
    within = [[name for name in step if name in lanes.having] for step in laid]
    rest = [[name for name in step if name not in lanes.having] for step in laid]
    return [
        (word, tuple(map(_cell, each)))
        for word, each in zip(lanes.words, (within, rest), strict=True)
    ]


def _cell(names: Sequence[str]) -> Cell | None:
    return Cell(None, "\n".join(names)) if names else None


def _across(
    laid: Sequence[Sequence[str]], lanes: _Lanes | None, heads: Sequence[str]
) -> str:
    """Which of the lane that does not come first is the first of its own."""
    if lanes is None:
        return ""
    word, without = lanes.words
    ahead = [name in lanes.having for name in laid[0]]
    if len(set(ahead)) > 1:
        both = [name for name in laid[0] if name not in lanes.having]
        s = "s" * (len(both) == 1)
        return f"{_who(both)}, {without}, stand{s} among the {heads[0]}."
    behind, ahead_of = (without, word) if ahead[0] else (word, without)
    others = [[n for n in s if (n in lanes.having) is not ahead[0]] for s in laid]
    first = next(filter(None, others), [])
    if first and first == others[-1]:
        who = "The only one" if len(first) == 1 else "All"
        told = f"{who} {behind} stand{'s' * (len(first) == 1)} among the {heads[-1]}"
        also = [name for name in laid[-1] if name not in first]
        so = f", and so do{'es' * (len(also) == 1)} {_who(also)} {ahead_of}"
        return f"{told}{so if also else ''}."
    return f"Of those {behind}, {_who(first)} come{'s' * (len(first) == 1)} first."
