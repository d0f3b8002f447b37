"""`abluent ask --over`: a question asked of a judged catalogue."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from abluent.engine.faults import CommandError, DataError, Problem
from abluent.grammar.common.text import unmoving, visible
from abluent.shell.command.common_options import grounds
from abluent.shell.ground import reports
from abluent.shell.ground.extras import needing
from abluent.shell.session.session import Session

if TYPE_CHECKING:
    from abluent.engine.relational.duck import Duck

_SHOWN = 10


def run_over(args: argparse.Namespace, query: str) -> int:
    """Count over the tables of a sweep; without a question, sum them up."""
    place = Path(args.over).expanduser()
    if not place.exists():
        what = f'there is no "{place}"'
        hint = "make it first: abluent sweep --shelf catalogue.jsonl --to judged.duckdb"
        raise CommandError(Problem(what, hint=hint))
    with needing("a catalogue", "bulk"):
        from abluent.engine.errors import EngineError
        from abluent.engine.sweep.written import opened

        try:
            database = opened(place)
        except EngineError as error:
            what = f'"{place}" holds no tables of a sweep'
            raise DataError(Problem(what, hint="sweep the catalogue again")) from error
    try:
        data = _counted(args, query, database) if query else _summed_up(args, database)
    finally:
        database.close()
    if args.json:
        del data["told"]
        print(unmoving(json.dumps(data, ensure_ascii=False)))
    else:
        print("\n".join(data["told"]))
    return reports.ANSWERED


def _counted(args: argparse.Namespace, query: str, database: Duck) -> dict[str, Any]:
    from abluent.engine.questions.forms.question import UnknownName
    from abluent.engine.sweep.over import ASKED, Over, about_one
    from abluent.grammar.query.parse import parse_query
    from abluent.grammar.query.printer import print_query

    session = Session.open(**grounds(args))
    with session.speaking():
        parsed = parse_query(query)
        try:
            count = Over(database, session.world).answer(parsed)
        except UnknownName as error:
            hint = f"a catalogue answers such as: {'; '.join(ASKED)}"
            raise CommandError(Problem(str(error), query, hint)) from error
    shares = [_share(n, count.of) for n in (len(count.so), count.most)]
    told = f"{_number(len(count.so))} of {_number(count.of)} {count.things}"
    told += f" ({shares[0]})." if count.of else "."
    if count.open:
        are = "is open: with it" if len(count.open) == 1 else "are open: with these"
        told += (
            f" Besides, {_number(len(count.open))} {are} it is "
            f"{_number(count.most)} ({shares[1]})."
        )
    lines = [told]
    if count.means:
        lines.append(count.means)
    lines += _listed(count.so, "")
    lines += _listed(count.open, "Open: ")
    some = next(iter([*count.so, *count.open]), None)
    alone = None if some is None else about_one(parsed, some)
    opens = "" if alone is None else print_query(alone)
    if opens:
        lines.append(f"With its reasons, of the catalogue itself: {opens}")
    return {
        "query": query,
        "sentence": told,
        "of": count.of,
        "at_least": len(count.so),
        "at_most": count.most,
        "so": count.so,
        "open": count.open,
        "one": opens,
        "told": lines,
    }


def _summed_up(args: argparse.Namespace, database: Duck) -> dict[str, Any]:
    from abluent.engine.sweep.over import Over

    found = Over(database, Session.open(**grounds(args)).world).summary()
    ((labels, washes),) = found["labels"]
    verdicts = dict(found["verdicts"])
    total = sum(verdicts.values())
    lines = [f"{_number(labels)} labels, {_number(washes)} of them washes."]
    lines += [f"{_number(total)} verdicts:"] if total else ["No verdict."]
    lines += [
        f"  {word}: {_number(often)} ({_share(often, total)})"
        for word, often in verdicts.items()
    ]
    if found["unread"]:
        lines.append("Names that were not understood, by what they leave unsettled:")
    lines += [
        f"  {visible(name)}: {_of(open_, 'verdict')}, on {_of(often, 'label')}"
        for name, often, open_ in found["unread"]
    ]
    unread = [
        {"name": name, "labels": often, "not_settled": open_}
        for name, often, open_ in found["unread"]
    ]
    counts = {"labels": labels, "washes": washes, "verdicts": verdicts}
    return {**counts, "unread": unread, "told": lines}


def _listed(names: Sequence[str], head: str) -> list[str]:
    shown = [f"  {head}{visible(name)}" for name in names[:_SHOWN]]
    more = len(names) - len(shown)
    return [*shown, f"  {head}and {_number(more)} more"] if more else shown


def _of(number: int, thing: str) -> str:
    return f"{_number(number)} {thing}{'' if number == 1 else 's'}"


def _share(part: int, whole: int) -> str:
    return f"{100 * part / whole:.1f} %" if whole else "none"


def _number(number: int) -> str:
    return f"{number:,}"
