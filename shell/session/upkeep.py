"""For those who keep the base: an audit, and what an edit changed in an answer.

Both are commands, orders of the interactive shell, and calls: `audited`, `compared`.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from abluent.engine.faults import CommandError, Problem
from abluent.engine.questions.about.upkeep import Audited, Compared
from abluent.shell.session.session import Session

if TYPE_CHECKING:
    from abluent.engine.owl.consistency import Consistency
    from abluent.shell.shelf.shelf import Shelf


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


def consistent(session: Session) -> Consistency | str:
    """Have HermiT prove the base of a session, and what the user laid over it.

    Returns:
        What it found; where it cannot be run, why and what to do.
    """
    from abluent.engine.owl.consistency import axioms_of, proved
    from abluent.engine.owl.hermit import NoReasoner
    from abluent.engine.teach.layer import of_kind

    try:
        folder, layers = session.grounds()
        return proved(axioms_of(of_kind(layers, ".ttl"), folder), session.base)
    except NoReasoner as error:
        return str(error)


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
    from abluent.engine.base.conditions import by_words, speaking
    from abluent.engine.base.rulebook import load_rulebook
    from abluent.engine.base.store import Base
    from abluent.engine.questions.about.upkeep import turned
    from abluent.engine.questions.forms.question import ask
    from abluent.engine.questions.world.world import World
    from abluent.grammar.query.parse import parse_query
    from abluent.shell.session.loading import products

    bases = [(Base.load(instead=f), f) for f in map(_folder, (before, after))]
    older, newer = (
        World(
            base,
            load_rulebook(instead=folder),
            products(shelf),
            by_words(base, shelf.conditions),
        )
        for base, folder in bases
    )
    with speaking(newer.base):
        query = parse_query(question)
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
