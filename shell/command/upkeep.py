"""What `abluent audit` and `abluent changed` do."""

from __future__ import annotations

import argparse
import json
import sys

from abluent.engine.base.matters import shares_of
from abluent.shell.pages.upkeep import audit_page, changed_page, rests_page
from abluent.shell.session.session import Session
from abluent.shell.session.upkeep import audited, compared


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
    shares = shares_of(session.world.base)
    if args.json:
        counts = {work: len(answers) for work, answers in found.fragile.items()}
        told = {"unused_rules": found.unused, "idle": found.idle, "fragile": counts}
        rests = [each._asdict() | {"works": dict(each.works)} for each in shares]
        print(json.dumps({**told, "fragile_answers": found.fragile, "rests": rests}))
    else:
        width = page_of(sys.stdout)[0]
        print(rests_page(shares, width))
        print(audit_page(found, session.world.base, width))
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
