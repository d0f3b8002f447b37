"""`abluent sweep`: judge a whole catalogue into tables."""

from __future__ import annotations

import argparse
from pathlib import Path

from abluent.engine.faults import CommandError, DataError, Problem
from abluent.shell.command import runs
from abluent.shell.ground.extras import needing
from abluent.shell.ground.progress import judging_bar, reading_bar
from abluent.shell.session.session import Session


def run_sweep(args: argparse.Namespace) -> int:
    """Judge every wash of a shelf against every product of it."""
    session = runs.opened(args)
    place = Path(args.to).expanduser()
    if not place.absolute().parent.is_dir():
        what = f'"{place.parent}", where the tables should go, is no folder'
        raise CommandError(Problem(what, hint="make it first, or name another"))
    print(_done(session, place, args))
    if args.page is not None:
        _write_page(session, place, Path(args.page).expanduser())
    return runs.code_of(session)


def _done(session: Session, place: Path, args: argparse.Namespace) -> str:
    with needing("a sweep", "bulk,spark" if args.on == "spark" else "bulk"):
        from abluent.engine.sweep.sweep import Options, Watched, sweep

        options = Options(
            args.format,
            args.all,
            args.processes,
            args.memory,
            session.layers(),
            args.again,
            args.on,
        )
        labels = [*session.world.products.values()]
        with reading_bar(len(labels)) as read, judging_bar(len(labels)) as judged:
            watch = Watched(read, judged)
            try:
                found = sweep(session.world, labels, place, options, watch)
            except OSError as error:
                what = f'"{place}" could not be written: {error.strerror or error}'
                raise DataError(Problem(what, hint="name another place")) from error
    session.keep()
    state = "" if found.done else " (as it was: nothing has changed)"
    names = "1 name" if found.unread == 1 else f"{found.unread:,} names"
    return (
        f"{place}: {found.labels:,} labels, {found.washes:,} of them washes; "
        f"{found.verdicts:,} verdicts, {found.judged:,} worked out; "
        f"{names} not understood{state}"
    )


def _write_page(session: Session, place: Path, page: Path) -> None:
    """Write what the tables come to as one page."""
    from abluent.engine.disk import write_file
    from abluent.engine.sweep.over import Over
    from abluent.engine.sweep.written import opened
    from abluent.shell.pages.catalogue import catalogue_page

    database = opened(place)
    try:
        asked = Over(database, session.world)
        text = catalogue_page(asked.summary(most=20), asked.about())
    finally:
        database.close()
    write_file(page, text, overwrite=True)
    print(f"{page}: what it comes to, as a page")
