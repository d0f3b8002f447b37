"""`abluent ask --over`: a question asked of a judged catalogue."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

from abluent.engine.faults import CommandError, DataError, Problem, ShellError
from abluent.grammar.common.text import unmoving, visible
from abluent.shell.command.common_options import grounds
from abluent.shell.ground import reports
from abluent.shell.ground.extras import needing
from abluent.shell.session.session import Session

if TYPE_CHECKING:
    from abluent.engine.relational.duck import Duck
    from abluent.engine.sweep.over import Count, Over

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
    """What the tables come to for a question, or for the one that free speech means."""
    from abluent.engine.questions.forms.question import UnknownName
    from abluent.engine.sweep.over import ASKED, Over
    from abluent.grammar.common.errors import GrammarError

    session = Session.open(**grounds(args))
    asked = Over(database, session.world)
    question = session.exact(query)
    try:
        return _answered(session, asked, query, question)
    except UnknownName as error:
        with suppress(UnknownName, GrammarError, ShellError):
            other = session.exact(query, error)
            if question == query != other:
                return _answered(session, asked, query, other)
        hint = f"a catalogue answers such as: {'; '.join(ASKED)}"
        raise CommandError(Problem(str(error), query, hint)) from error


def _answered(
    session: Session, asked: Over, query: str, question: str
) -> dict[str, Any]:
    from abluent.engine.sweep.over import about_one
    from abluent.grammar.query import tree as q
    from abluent.grammar.query.parse import parse_query
    from abluent.grammar.query.printer import print_query

    with session.speaking():
        parsed = parse_query(question)
        told = [] if question == query else [f"Taken as: {print_query(parsed)}"]
        if isinstance(parsed, q.NotUnderstood):
            found = _unread(asked, parsed.limit)
            return {"query": query, **found, "told": [*told, *found["told"]]}
        count = asked.answer(parsed)
    share = isinstance(parsed, q.HowMany) and parsed.share
    sentence = _sentence(count, share=share)
    lines = [*told, sentence, *([count.means] if count.means else [])]
    lines += _listed(count.so, "")
    lines += _listed(count.open, "Open: ")
    some = next(iter([*count.so, *count.open]), None)
    alone = None if some is None else about_one(parsed, some)
    opens = "" if alone is None else print_query(alone)
    if opens:
        lines.append(f"With its reasons, of the catalogue itself: {opens}")
    return {
        "query": query,
        "understood": print_query(parsed),
        "sentence": sentence,
        "of": count.of,
        "perhaps_of": count.of + count.share.doubtful,
        "at_least": len(count.so),
        "at_most": count.most,
        "share": count.share.json(),
        "so": count.so,
        "open": count.open,
        "doubtful": count.doubtful,
        "one": opens,
        "told": lines,
    }


def _sentence(count: Count, *, share: bool) -> str:
    """How many it is, and what it can be with all that is open."""
    so, opened, most = len(count.so), len(count.open), count.most
    all_of = f"{_number(count.of)} {count.things}"
    if share:
        told = f"{count.share} of {all_of}: {_number(so)} surely"
        told += f", {_number(opened)} open." if opened else "."
    else:
        sure = so + opened
        told = f"{_number(so)} of {all_of}"
        told += f" ({_share(so, count.of)})." if count.of else "."
        if opened:
            are = "is open: with it" if opened == 1 else "are open: with these"
            told += (
                f" Besides, {_number(opened)} {are} it is "
                f"{_number(sure)} ({_share(sure, count.of)})."
            )
    doubtful = count.share.doubtful
    if doubtful:
        told += (
            f" Of {_number(doubtful)} more nobody can tell whether they are "
            f"{count.things}, as something on their labels was not understood: with "
            f"these it is {_number(so)} to {_number(most)}, {count.share}."
        )
    return told


def _unread(asked: Over, limit: int | None) -> dict[str, Any]:
    """The names that were not understood, those that matter most first."""
    found = asked.unread(limit)
    verdicts = asked.unsettled()
    lines = [f"{_of(len(found), 'name')} not understood, by what they leave unsettled."]
    if not found:
        lines = ["Every name was understood."]
    lines += [
        f"  {visible(each.name)}: {_of(each.not_settled, 'verdict')} "
        f"({_share(each.not_settled, verdicts)} of those not settled), on "
        f"{_of(each.labels, 'label')}, {_of(each.washes, 'wash', 'washes')}"
        for each in found[:_SHOWN]
    ]
    if len(found) > _SHOWN:
        lines.append(f"  and {_number(len(found) - _SHOWN)} more")
    if found:
        lines.append("Counted are the verdicts of the washes that list a name.")
    return {
        "understood": "which names were not understood",
        "sentence": lines[0],
        "not_settled": verdicts,
        "names": [
            {**each._asdict(), "share": each.not_settled / verdicts if verdicts else 0}
            for each in found
        ],
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


def _of(number: int, thing: str, several: str = "") -> str:
    return f"{_number(number)} {thing if number == 1 else several or f'{thing}s'}"


def _share(part: int, whole: int) -> str:
    return f"{100 * part / whole:.1f} %" if whole else "none"


def _number(number: int) -> str:
    return f"{number:,}"
