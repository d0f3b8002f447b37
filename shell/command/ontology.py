"""What `abluent owl` does: hand the base out as one ontology, and take an edit in."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from abluent.engine.disk import write_bytes
from abluent.engine.faults import CommandError, Problem
from abluent.engine.owl.comparison import (
    difference,
    edited_folder,
    read_ontology,
    triples_in,
)
from abluent.engine.owl.ontology_file import base_files, ontology_file
from abluent.shell.ground import reports

if TYPE_CHECKING:
    from abluent.engine.base.files import BaseFile
    from abluent.engine.base.store import Base
    from abluent.engine.owl.comparison import Difference
    from abluent.engine.questions.world.world import World
    from abluent.shell.session.session import Session


def run_owl(args: argparse.Namespace) -> int:
    """Write the whole base as one OWL 2 file, or say what an edited copy changes."""
    from abluent.engine.teach.layer import of_kind
    from abluent.shell.command.runs import opened

    session = opened(args)
    instead, layers = session.grounds()
    every = base_files(of_kind(layers, ".ttl"), instead)
    if args.edited is not None:
        return _compared(session, every, args)
    if args.to is None:
        what = "there is nothing to do: name a file to write, or an edited one"
        hint = "abluent owl --to base.owl, then abluent owl base.owl"
        raise CommandError(Problem(what, hint=hint))
    from abluent.engine.trace.edition import edition

    version = edition(session.world)["digest"]
    write_bytes(Path(args.to), ontology_file(every, version), overwrite=args.overwrite)
    print(f'The whole base is in "{args.to}", as OWL 2 in RDF/XML.')
    print(f"`abluent owl {args.to}` says what you changed in it.")
    return reports.ANSWERED


def _compared(session: Session, every: list[BaseFile], args: argparse.Namespace) -> int:
    from abluent.shell.pages.ontology import (
        difference_json,
        difference_page,
        moves_page,
    )

    before = triples_in(every)
    found = difference(before, read_ontology(Path(args.edited)))
    with TemporaryDirectory(prefix="abluent-") as place:
        after = _edited(session, every, found, Path(place)) if any(found) else None
        base = after.base if after else session.base
        if args.json:
            print(json.dumps(difference_json(found, base), ensure_ascii=False))
            return reports.ANSWERED
        width = reports.page_of(sys.stdout)[0]
        print(difference_page(found, session.base, base, width))
        if after is not None:
            _say_if_impossible(found, base, Path(place) / "ontology")
            from abluent.engine.teach.effects import effects

            symbols = [s for s in found.subjects if s in base and s in session.base]
            moved = effects(session.world, after, symbols)
            print(moves_page(moved, session.shelf, width))
    return reports.ANSWERED


def _say_if_impossible(found: Difference, base: Base, folder: Path) -> None:
    """Say which axioms clash in an edited base, where HermiT can be asked."""
    from abluent.engine.owl.consistency import axioms_of, problems_of
    from abluent.engine.owl.hermit import NoReasoner

    try:
        problems = problems_of(axioms_of(instead=folder), base, found.subjects)
    except NoReasoner as error:
        print(error)
    else:
        for problem in problems:
            print(problem)
        if not problems:
            print("HermiT proves that the edited copy can all be so.")


def _edited(
    session: Session, every: list[BaseFile], found: Difference, place: Path
) -> World:
    """The world over the edited base; one that is refused is told with every reason."""
    from abluent.engine.base.rulebook import load_rulebook
    from abluent.engine.base.store import Base
    from abluent.engine.questions.world.world import World

    folder = place / "ontology"
    edited_folder(every, found, folder, session.grounds()[0])
    base = Base.load(instead=folder, cache_folder=place)
    program = load_rulebook(instead=folder, cache_folder=place)
    return World(base, program, session.world.products.values(), session.world.stated)
