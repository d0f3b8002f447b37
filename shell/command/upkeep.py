"""What `abluent audit` and `abluent changed` do."""

from __future__ import annotations

import argparse
import json
import sys
from typing import TYPE_CHECKING, Any

from abluent.engine.base.matters import shares_of
from abluent.shell.command.common_options import conditions_of, grounds
from abluent.shell.ground.reports import ANSWERED, DATA_IS_WRONG
from abluent.shell.pages.upkeep import (
    audit_page,
    changed_page,
    consistency_page,
    rests_page,
)
from abluent.shell.session.session import Session
from abluent.shell.session.upkeep import audited, compared, consistent

if TYPE_CHECKING:
    from abluent.engine.owl.consistency import Consistency


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
    proof = consistent(session)
    if args.json:
        counts = {work: len(answers) for work, answers in found.fragile.items()}
        told: dict[str, Any] = {"unused_rules": found.unused, "idle": found.idle}
        rests = [each._asdict() | {"works": dict(each.works)} for each in shares]
        told |= {"fragile": counts, "fragile_answers": found.fragile, "rests": rests}
        print(json.dumps({**told, "owl": _proof(proof)}))
    else:
        width = page_of(sys.stdout)[0]
        print(rests_page(shares, width))
        print(consistency_page(proof, session.base, width))
        print(audit_page(found, session.world.base, width))
    if isinstance(proof, str):
        return ANSWERED
    return DATA_IS_WRONG if proof.problems else ANSWERED


def _proof(found: Consistency | str) -> dict[str, Any]:
    if isinstance(found, str):
        return {"consistent": None, "why": found}
    return {
        "consistent": not found.problems,
        "axioms": found.axioms,
        "things": found.things,
        "problems": [str(each) for each in found.problems],
        "inferred": [each._asdict() for each in found.inferred],
    }


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
    return Session.open(args.shelf, conditions_of(args), **grounds(args))
