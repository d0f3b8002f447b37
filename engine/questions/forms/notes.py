"""What a reader should know beside an answer: unread lines, conditions that turn it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.engine.questions.world.world import World
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q

_CONDITIONED = 3
"""To how many verdicts of an answer it is told which conditions would turn them."""


def unread(judge: Judge, items: Sequence[Item], said: q.Predicate) -> list[str]:
    """Lines that were not understood on the labels a question looks at."""
    looked = [item.key for item in items if item.kind == PRODUCT]
    if isinstance(said, q.Clears) and said.source is not None:
        looked += [i.key for i in judge.terms.items(said.source, PRODUCT)]
    return [
        f"{name}: {note}"
        for name in dict.fromkeys(looked)
        if name in judge.world.products
        for note in _remarks(judge.world, name)
    ]


def _remarks(world: World, name: str) -> Iterator[str]:
    """What a reader should know of how the lines of a label were understood."""
    readings = world.read(name).readings
    unknown = [f"`{each.printed}`" for each in readings if each.symbol is None]
    if unknown:
        verb, they = ("were", "they") if len(unknown) > 1 else ("was", "it")
        yield f"{listed(unknown)} {verb} not read, so {they} may be anything."
    notes = [each.note for each in readings if each.symbol is not None and each.note]
    if notes:
        yield as_sentence("; ".join(note.rstrip(".") for note in notes))


def beside(judge: Judge, items: Sequence[Item], said: q.Predicate) -> Iterator[str]:
    """What belongs to a predicate: how a pack is read, what more rounds can do."""
    core = said.part if isinstance(said, q.Not) else said
    if isinstance(core, q.Says):
        yield from judge.packs.notes(items, core)
    if isinstance(core, q.Clears) and core.rounds > 1:
        yield (
            "The verdicts are of one round: what it takes each further one takes too, "
            "and of what it leaves in part a further one may take the rest."
        )


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
