"""For those who keep the base: an audit, and what an edit changed in an answer.

Both are commands, orders of the interactive shell, and calls: `audited`, `compared`.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from abluent.engine.faults import CommandError, Problem
from abluent.grammar.common.text import wrapped
from abluent.shell.session.session import Session

if TYPE_CHECKING:
    from abluent.engine.base.store import Base
    from abluent.engine.questions.about.upkeep import Turned
    from abluent.engine.questions.answers.answer import Answer
    from abluent.shell.shelf.shelf import Shelf

_SHOWN = 20


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


def audited(
    session: Session, step: Callable[[int, int], None] | None = None
) -> Audited:
    """Audit the base of a session.

    Args:
        session: whose base, and whose shelf.
        step: called with how many sources were tried, and how many there are.
    """
    from abluent.engine.questions.about.upkeep import audit_shelf

    found = audit_shelf(session.world, step)
    fragile: dict[str, list[str]] = {}
    for each in found.fragile:
        told = session.world.known.sentences.claim(*each.answer)
        fragile.setdefault(each.source, []).append(told)
    return Audited(
        sorted({rule.id for rule in found.unused_rules}),
        sorted({fact.basis.origin for fact in found.idle_facts}),
        dict(sorted(fragile.items(), key=lambda item: -len(item[1]))),
    )


def compared(
    shelf: Shelf, question: str, before: str | None, after: str | None
) -> Compared:
    """Ask one question under two versions of the base.

    Args:
        shelf: the shelf it is asked of.
        question: the question.
        before: the folder of the older version; None is the installed one.
        after: that of the newer.

    Raises:
        CommandError: there is no such folder.
        GrammarError: the question is not understood.
        EngineError: a version is refused, or the question cannot be answered.
    """
    from abluent.engine.base.rulebook import load_rulebook
    from abluent.engine.base.store import Base
    from abluent.engine.questions.about.upkeep import turned
    from abluent.engine.questions.forms.question import ask
    from abluent.engine.questions.world.world import World
    from abluent.grammar.query.parse import parse_query
    from abluent.shell.session.loading import products

    query = parse_query(question)
    older, newer = (
        World(
            Base.load(instead=folder),
            load_rulebook(instead=folder),
            products(shelf),
            shelf.stated,
        )
        for folder in map(_folder, (before, after))
    )
    old, new = ask(query, older), ask(query, newer)
    rows = [*old.rows, *old.others, *new.rows]
    return Compared(old, new, list(turned(older, newer, rows)))


def _folder(name: str | None) -> Path | None:
    if name is None:
        return None
    path = Path(name).expanduser()
    if not path.is_dir():
        what = f'there is no folder "{name}"'
        raise CommandError(Problem(what, hint="name a copy of the ontology folder"))
    return path


# -- commands ----------------------------------------------------------------------


def run_audit(args: argparse.Namespace) -> int:
    """Say which rules, facts and sources the answers of a shelf rest on too little."""
    from abluent.shell.ground.reports import page_of
    from tqdm import tqdm

    session = _opened(args)
    with tqdm(unit="source", leave=False, disable=None) as bar:

        def step(done: int, of: int) -> None:
            bar.total = of
            bar.update(done - bar.n)

        found = audited(session, step)
    if args.json:
        counts = {work: len(answers) for work, answers in found.fragile.items()}
        told = {"unused_rules": found.unused, "idle": found.idle, "fragile": counts}
        print(json.dumps({**told, "fragile_answers": found.fragile}))
    else:
        print(audit_page(found, session.world.base, page_of(sys.stdout)[0]))
    return 0


def run_changed(args: argparse.Namespace) -> int:
    """Say what an edit of the base changed in an answer, and which edit did it."""
    from abluent.shell.command.runs import question_of
    from abluent.shell.ground.reports import page_of

    question = question_of(args.query)
    found = compared(_opened(args).shelf, question, args.before, args.after)
    if args.json:
        changes = [
            {"lost": each.lost, "gained": each.gained, "edits": each.edits}
            for each in found.turned
        ]
        told = {"before": found.before.sentence, "after": found.after.sentence}
        print(json.dumps({"query": found.before.query, **told, "changes": changes}))
    else:
        print(changed_page(found, page_of(sys.stdout)[0]))
    return 0


def _opened(args: argparse.Namespace) -> Session:
    return Session.open(
        getattr(args, "shelf", None) or [], getattr(args, "water", None)
    )


# -- pages -------------------------------------------------------------------------


def audit_page(found: Audited, base: Base, width: int) -> str:
    """Return what an audit found as lines of text."""
    works = [
        f"{base.label(name).rstrip('.')}: {len(answers)} answers"
        for name, answers in found.fragile.items()
    ]
    lists = {
        "Rules that no answer of this shelf uses": found.unused,
        "Subjects with facts that no answer of this shelf uses": found.idle,
        "Works without which answers of this shelf fail": works,
    }
    return "\n".join(
        line for head, told in lists.items() for line in _listed(head, told, width)
    )


def changed_page(found: Compared, width: int) -> str:
    """Return what became of an answer, and by which edits, as lines of text."""
    lines = [
        wrapped(f"Before: {found.before.sentence}", width),
        wrapped(f"After:  {found.after.sentence}", width),
    ]
    if not found.turned:
        lines.append("No row of the answer changed.")
    for each in found.turned:
        lines += _listed("No longer", each.lost, width)
        lines += _listed("Now", each.gained, width)
        edits = "These edits are enough, and each is needed"
        lines += _listed(edits, each.edits, width)
    return "\n".join(lines)


def _listed(head: str, told: Sequence[str], width: int) -> Iterator[str]:
    yield f"{head}: {len(told) or 'none'}"
    for text in told[:_SHOWN]:
        yield wrapped(text, width, "  ", "    ")
    if len(told) > _SHOWN:
        yield f"  and {len(told) - _SHOWN} more; --json lists all"
