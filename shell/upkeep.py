"""Commands for those who keep the base: an audit, and what an edit changed."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from abluent.shell.errors import CommandError, Problem
from abluent.shell.session import Session

_SHOWN = 20


def run_audit(args: argparse.Namespace) -> int:
    """Say which rules, facts and sources the answers of a shelf rest on too little."""
    from abluent.engine.questions.upkeep import audit_shelf
    from tqdm import tqdm

    session = Session.open(
        getattr(args, "shelf", None) or [], getattr(args, "water", None)
    )
    with tqdm(unit="source", leave=False, disable=None) as bar:

        def step(done: int, of: int) -> None:
            bar.total = of
            bar.update(done - bar.n)

        found = audit_shelf(session.world, step)
    unused = sorted({rule.id for rule in found.unused_rules})
    idle = sorted({fact.basis.origin for fact in found.idle_facts})
    fragile: dict[str, int] = {}
    for each in found.fragile:
        fragile[each.source] = fragile.get(each.source, 0) + 1
    if args.json:
        print(json.dumps({"unused_rules": unused, "idle": idle, "fragile": fragile}))
        return 0
    base = session.world.base
    _listing("Rules that no answer of this shelf uses", unused)
    _listing("Subjects with facts that no answer of this shelf uses", idle)
    works = sorted(fragile.items(), key=lambda each: -each[1])
    told = [f"{base.label(name).rstrip('.')}: {count} answers" for name, count in works]
    _listing("Works without which answers of this shelf fail", told)
    return 0


def run_changed(args: argparse.Namespace) -> int:
    """Say what an edit of the base changed in an answer, and which edit did it."""
    from abluent.engine.base.rulebook import load_rulebook
    from abluent.engine.base.store import Base
    from abluent.engine.questions.asking import ask
    from abluent.engine.questions.upkeep import turned
    from abluent.engine.questions.world import World
    from abluent.grammar.query_parse import parse_query
    from abluent.shell.loading import products

    session = Session.open(
        getattr(args, "shelf", None) or [], getattr(args, "water", None)
    )
    worlds = []
    for folder in (args.before, args.after):
        place = _folder(folder)
        base, rules = Base.load(instead=place), load_rulebook(instead=place)
        shelf = session.shelf
        worlds.append(World(base, rules, products(shelf), shelf.stated))
    query = parse_query(" ".join(args.query))
    old, new = worlds
    before, after = ask(query, old), ask(query, new)
    found = list(turned(old, new, [*before.rows, *before.others, *after.rows]))
    if args.json:
        changes = [
            {"lost": each.lost, "gained": each.gained, "edits": each.edits}
            for each in found
        ]
        told = {"before": before.sentence, "after": after.sentence}
        print(json.dumps({"query": before.query, **told, "changes": changes}))
        return 0
    print(f"Before: {before.sentence}")
    print(f"After:  {after.sentence}")
    if not found:
        print("No row of the answer changed.")
    for each in found:
        _listing("No longer", each.lost)
        _listing("Now", each.gained)
        _listing("These edits are enough, and each is needed", each.edits)
    return 0


def _folder(name: str | None) -> Path | None:
    if name is None:
        return None
    path = Path(name)
    if not path.is_dir():
        what = f'there is no folder "{name}"'
        raise CommandError(Problem(what, hint="name a copy of the ontology folder"))
    return path


def _listing(head: str, lines: list[str] | tuple[str, ...]) -> None:
    print(f"{head}: {len(lines) or 'none'}")
    for line in lines[:_SHOWN]:
        print(f"  {line}")
    if len(lines) > _SHOWN:
        print(f"  and {len(lines) - _SHOWN} more; --json lists all")
