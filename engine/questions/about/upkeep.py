"""For those who keep the base: what lies idle in it, and what an edit changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from abluent.engine.base.contract import CONTESTED, LEAVES, VERDICT
from abluent.engine.base.phrases import product_name
from abluent.engine.base.rulebook import require_known
from abluent.engine.logic.clauses import Rule
from abluent.engine.logic.facts import Fact
from abluent.engine.proof.audit import Audit, audit
from abluent.engine.proof.changes import Change, Edit, what_changed
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.origins import QUESTION
from abluent.engine.proof.slices import Pattern
from abluent.engine.questions.answers.answer import Answer, Row
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import World

ANSWERS = (VERDICT, LEAVES, CONTESTED)
"""The predicates whose facts answer questions."""


@dataclass(frozen=True, slots=True)
class Turned:
    """One thing that an edit turned: what follows now and did not, and why."""

    change: Change
    gained: tuple[str, ...]
    lost: tuple[str, ...]
    edits: tuple[str, ...]


class Audited(NamedTuple):
    """What an audit found, with a view to every verdict on a shelf.

    Args:
        unused: the rules that nothing met, by id.
        idle: the subjects with facts that no answer rests on, by file and symbol.
        fragile: for each work without which answers fail, these answers.
    """

    unused: Sequence[str]
    idle: Sequence[str]
    fragile: Mapping[str, Sequence[str]]


class Compared(NamedTuple):
    """An answer under two versions of the base, and what of it was turned by what."""

    before: Answer
    after: Answer
    turned: Sequence[Turned]


def audit_shelf(
    world: World, progress: Callable[[int, int], None] | None = None
) -> Audit:
    """Audit the base with a view to every verdict of a shelf.

    Args:
        world: the base and the shelf; every product is judged as a wash.
        progress: called with how many sources were tried, and how many there are.

    Raises:
        ProgramError: a rule speaks of what the base does not know.
    """
    require_known(world.program, world.base)
    case = Case.of(world, world.products, sources=world.products)
    known = Knowledge(world.program, case.facts)
    return audit(known, ANSWERS, world.known.conventions, progress)


def turned(before: World, after: World, rows: Iterable[Row]) -> Iterator[Turned]:
    """What became of the rows of an answer, and the fewest edits that did it.

    Args:
        before: the world with the one version of the base.
        after: the world with the other, on the same shelf.
        rows: rows of the answer in either.
    """
    for pattern, facts in _patterns(before, after, rows):
        old = Knowledge(before.program, facts[0])
        new = Knowledge(after.program, facts[1])
        change = what_changed(old, new, pattern)
        if change.gained or change.lost:
            yield Turned(
                change,
                tuple(_said(after, change.gained)),
                tuple(_said(before, change.lost)),
                tuple(_edit(after, each) for each in change.edits),
            )


def _patterns(
    before: World, after: World, rows: Iterable[Row]
) -> Iterator[tuple[Pattern, tuple[tuple[Fact, ...], tuple[Fact, ...]]]]:
    """Each row's question as a pattern, with the facts of both versions."""
    done = set()
    for row in rows:
        predicate, args = row.goal
        open_ended = (predicate, (*args[:-1], None))
        pattern = open_ended if predicate == VERDICT else (predicate, args)
        if pattern in done:
            continue
        done.add(pattern)
        asked = [f for f in row.case.facts if f.basis.origin == QUESTION]
        yield pattern, (_facts(before, row, asked), _facts(after, row, asked))


def _facts(world: World, row: Row, asked: list[Fact]) -> tuple[Fact, ...]:
    """The facts of one version that bear on what a row was asked about."""
    named = {product_name(t) for f in asked for t in f.args}
    names = [name for name in world.products if name in named]
    return Case.of(world, sources=names, more=asked).facts


def _said(world: World, facts: Iterable[Ground]) -> list[str]:
    return sorted(world.known.sentences.claim(*fact) for fact in facts)


def _edit(world: World, edit: Edit) -> str:
    was = _part(world, edit.removed) if edit.removed else ""
    now = _part(world, edit.added) if edit.added else ""
    if was and now:
        return f"changed: {was} → {now}"
    return f"added: {now}" if now else f"taken out: {was}"


def _part(world: World, part: Fact | Rule) -> str:
    if isinstance(part, Rule):
        return f"rule `{part.id}`"
    told = world.known.sentences.claim(part.predicate, part.args)
    return f"{told} ({part.basis.origin})"
