"""What a reader should know beside an answer: unread lines, conditions that turn it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice

from abluent.engine.base.contract import LEAVES_NONE
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import (
    ENDS,
    Verdict,
    films_left,
    not_left,
)
from abluent.engine.questions.answers.wording import kinds_of_grades
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.engine.questions.world.world import World
from abluent.grammar.common.record import replace
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q

_FILMS = 20
"""Of so many films it is looked for a wash that takes part of them all."""
_LOOKED_OVER = 20
"""Of so many washes it is told which leave films themselves."""
_OWN = 3
"""So many films of its own are named of each."""
_OFFERED = 4
"""So few washes are all offered."""
_OF_MORE = 3
"""Of more so many are, the mildest, and how to ask for the rest."""
_TURNED = 2
"""Of so many washes of a list it is told which condition would turn what they take."""
_CONDITIONED = 3
"""To how many verdicts of an answer it is told which conditions would turn them."""


def unread(judge: Judge, items: Sequence[Item], said: q.Predicate) -> list[str]:
    """Lines that were not understood on the labels a question looks at."""
    looked = [item.key for item in items if item.kind == PRODUCT]
    if isinstance(said, q.Clears) and said.source is not None:
        looked += [i.key for i in judge.terms.items(said.source, PRODUCT)]
    names = [name for name in dict.fromkeys(looked) if name in judge.world.products]
    of = _of(judge, said)
    told = [
        f"{name}: {note}" for name in names for note in _remarks(judge.world, name, of)
    ]
    return [*told, *_of_some_grade(judge, names, of)] if _contains(said) else told


def under_conditions(judge: Judge, said: q.Predicate) -> list[str]:
    """What is to be minded of verdicts under the conditions that are stated."""
    act = q.asked_act(said)
    if not isinstance(act, q.Clears):
        return []
    base = judge.world.base
    told = (base.record(e).text("besideClearing") for e in judge.terms.under(act))
    return [text for text in told if text]


def _contains(said: q.Predicate) -> bool:
    return isinstance(said.part if isinstance(said, q.Not) else said, q.Contains)


def _of_some_grade(
    judge: Judge, names: Sequence[str], of: frozenset[str] | None
) -> Iterator[str]:
    """Names on labels that are what was asked for in one of their grades only."""
    base = judge.world.base
    found: dict[str, list[str]] = {}
    for name in names:
        for symbol in sorted(judge.nouns.on_label(Item(PRODUCT, name)) - (of or set())):
            grades = base.record(symbol).links("coversGrade") if symbol in base else []
            if of is not None and not of.isdisjoint(grades):
                found.setdefault(symbol, []).append(name)
    for symbol, labels in found.items():
        kinds = kinds_of_grades(base, symbol)
        yield (
            f"{base.label(symbol)} ({listed(labels)}) may be {kinds}; its name does "
            "not say which."
        )


def _of(judge: Judge, said: q.Predicate) -> frozenset[str] | None:
    """The ingredients of which it is asked whether products have them; None for any."""
    core = said.part if isinstance(said, q.Not) else said
    if not isinstance(core, q.Leaves | q.Contains):
        return None
    wanted = judge.terms.wanted(core.object)
    return None if wanted is None else frozenset(wanted)


def _remarks(world: World, name: str, of: frozenset[str] | None) -> Iterator[str]:
    """What a reader should know of how the lines of a label were understood.

    Where some ingredients are asked about, how others are spelt is no matter of it.
    """
    readings = world.read(name).readings
    unknown = [f"`{each.printed}`" for each in readings if each.symbol is None]
    if unknown:
        verb, they = ("were", "they") if len(unknown) > 1 else ("was", "it")
        yield f"{listed(unknown)} {verb} not read, so {they} may be anything."
    told = [each for each in readings if each.symbol is not None and each.note]
    notes = [e.note for e in told if of is None or str(e.symbol) in of]
    if notes:
        yield as_sentence("; ".join(note.rstrip(".") for note in notes))


def beside(judge: Judge, items: Sequence[Item], said: q.Predicate) -> Iterator[str]:
    """What belongs to a predicate: how a pack is read, what more rounds can do."""
    core = said.part if isinstance(said, q.Not) else said
    if isinstance(core, q.Says):
        yield from judge.packs.notes(items, core)
    if isinstance(core, q.Clears) and core.source is not None:
        yield from _gone_by_itself(judge, core)
    if isinstance(core, q.Clears) and core.rounds > 1:
        yield (
            "The verdicts are of one round: what it takes each further one takes too, "
            "and of what it leaves in part a further one may take the rest."
        )


def _gone_by_itself(judge: Judge, said: q.Clears) -> Iterator[str]:
    """What of all that a product holds leaves hair by itself, where all is asked of."""
    every = isinstance(said.object, q.Quantified | q.Thing)
    if said.source is None:
        return
    sources = [i.key for i in judge.terms.items(said.source, PRODUCT)]
    if not every or len(sources) != 1:
        return
    case = Case.of(judge.world, sources=sources)
    gone = [row for row in not_left(case, *sources) if row.how == LEAVES_NONE]
    if gone:
        names = [judge.world.base.label(row.film) for row in gone]
        stay, them = ("does", "it") if len(gone) == 1 else ("do", "them")
        yield f"{listed(names, _OWN)} {stay} not stay: no wash has to take {them}."


# What only some answers need is imported for them: a plain question is to be
# answered in a fifth of a second, imports included.


def turning(rows: Sequence[Row]) -> Iterator[str]:
    """Which conditions would turn the verdicts of a short answer."""
    found = [row for row in rows if isinstance(row, Verdict)]
    if len(found) <= _CONDITIONED:
        from abluent.engine.questions.about.other_conditions import (  # noqa: PLC0415
            turning_notes,
        )

        yield from turning_notes(found)


def turning_washes(rows: Sequence[Verdict]) -> Iterator[str]:
    """Under which condition nobody spoke of a wash of a list would take more.

    Of each wash that may leave something whole it is told of the first such film that
    a condition turns.
    """
    from abluent.engine.questions.about.other_conditions import (  # noqa: PLC0415
        turning_notes,
    )

    mine: dict[str, list[Verdict]] = {}
    for row in rows:
        if not _takes_part(row) and not row.gone:
            mine.setdefault(row.wash, []).append(row)
    if len(mine) <= _LOOKED_OVER:
        told = (next(turning_notes(some[:_FILMS]), "") for some in mine.values())
        yield from islice(filter(None, told), _TURNED)


def offered_instead(
    judge: Judge, items: Sequence[Item], said: q.Predicate, rows: Sequence[Row]
) -> list[Item] | None:
    """The washes at hand that take part of what a wash may leave whole.

    The mildest first; nothing where that is not asked, or it leaves nothing whole.
    """
    found = [row for row in rows if isinstance(row, Verdict)]
    if not isinstance(said, q.Clears) or len(items) != 1 or not found:
        return None
    if all(_takes_part(row) for row in found) or len(found) > _FILMS:
        return None
    others = [wash for wash in judge.nouns.washes if wash not in items]
    judged = judge.judge(others, said)
    sure = [wash for wash in others if all(map(_takes_part, judged[wash].rows))]
    sure = [wash for wash in sure if judged[wash].rows]
    return judge.mildness.mildest(sure) if sure else []


def instead(
    judge: Judge,
    said: q.Predicate,
    rows: Sequence[Row],
    first: Sequence[Item] | None,
) -> Iterator[str]:
    """Which wash at hand takes at least part of what a wash may leave whole."""
    if first is None or not isinstance(said, q.Clears):
        return
    one = len([row for row in rows if isinstance(row, Verdict)]) == 1
    if not first:
        which = "it" if one else "all of them"
        yield f"No wash at hand is known to take part of {which}."
        return
    more = 0 if len(first) <= _OFFERED else len(first) - _OF_MORE
    names = [judge.nouns.title(wash) for wash in first[: len(first) - more]]
    names += [f"{more} more"] if more else []
    take = "takes" if len(names) == 1 else "take"
    what = "it" if one else "every one of them"
    rest = f"; all: `{_asking(said)}`" if more else ""
    yield (
        f"Of the washes at hand {listed(names, len(names))} {take} at least part of "
        f"{what}{rest}."
    )


def own_films(
    judge: Judge, items: Sequence[Item], rows: Sequence[Row]
) -> Iterator[str]:
    """What washes that are offered surely leave on hair themselves."""
    world = judge.world
    names = [item.key for item in items if item.key in world.products]
    names = list(dict.fromkeys(names))
    found = [row for row in rows if isinstance(row, Verdict)]
    if not names or len(names) > _LOOKED_OVER:
        return
    if any(row.case.at_a_glance for row in found):
        return
    case = Case.of(world, sources=names)
    told = []
    for name in names:
        own = [world.base.label(e.film) for e in films_left(case, name) if e.sure]
        told += [f"{name} ({listed(own, _OWN)})"] if own else []
    if told:
        leave = "leaves a film" if len(told) == 1 else "leave films"
        own_ = "its" if len(told) == 1 else "their"
        yield f"{listed(told, _OFFERED)} {leave} of {own_} own on hair."


def _asking(said: q.Clears) -> str:
    """The question of which washes take at least part of what was asked of one."""
    from abluent.grammar.query.printer import print_query  # noqa: PLC0415

    part = replace(said, extent=q.Extent.AT_LEAST_PARTLY)
    return print_query(q.Which(q.Name("washes"), part))


def _takes_part(row: Row) -> bool:
    return isinstance(row, Verdict) and ENDS[row.role][0] is not Role.NONE_OF_IT


def left_else(
    world: World, items: Sequence[Item], said: q.Leaves, rows: Sequence[Row]
) -> Iterator[str]:
    """Under which conditions the products of a short question leave more."""
    names = [item.key for item in items]
    if len(names) <= _CONDITIONED:
        from abluent.engine.questions.about.other_conditions import (  # noqa: PLC0415
            leaving_notes,
        )

        asked = [row.case for row in rows[:1]]
        more = said.circumstances
        (case,) = asked or [Case.of(world, sources=names, stated=more)]
        for name in names:
            yield from leaving_notes(case, name)
