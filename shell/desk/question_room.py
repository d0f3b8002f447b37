"""The question: typed or built, its answer, and reasons that open to the label."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from abluent.engine.base.roles import Role
from abluent.engine.faults import ShellError
from abluent.engine.questions.answers.cautions import cautions_beside
from abluent.engine.questions.answers.folded_words import foldings, many, phrases
from abluent.engine.questions.answers.rows import (
    all_rows,
    short_citation,
    standing,
    step_words,
    title,
)
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.common.record import replace
from abluent.shell.desk.page import LARGE, SMALL, desk, filled, marked, row_mark
from abluent.shell.ground.strand import strand_svg
from abluent.shell.session.unexact import Unexact, beside, lead, unread
from abluent.shell.shelf.words import shelf_words
from abluent.shell.talk.help import examples
from flask import Blueprint, Response, request
from markupsafe import Markup

if TYPE_CHECKING:
    from abluent.engine.questions.answers.answer import Answer, Row
    from abluent.engine.trace.steps import Step
    from abluent.shell.pages.chain import Mark

ROOM = Blueprint("question", __name__)
FORMS = {
    "clear": "Does a wash clear a film",
    "everything": "Does a wash clear all that a product leaves",
    "which": "Which washes clear a film",
    "leave": "What does a product leave",
    "why": "Why does a wash clear a film, or not",
    "compare": "Compare two washes",
}
"""The questions that can be built from menus."""


class Shown(NamedTuple):
    """A row of an answer, with its short reasons."""

    number: int
    mark: Markup
    title: str
    stands: str
    reasons: Sequence[str]
    sources: Sequence[str]


class Group(NamedTuple):
    """Rows that are alike, told by their classes."""

    mark: Markup
    text: str
    members: Sequence[Shown]


class Graded(NamedTuple):
    """Washes that take as much, or what one wash takes as well, with why."""

    mark: Markup
    word: str
    names: Sequence[str]
    why: str


class Change(NamedTuple):
    """What becomes of a verdict under another switch."""

    about: str
    before: str
    after: str
    mark: Markup


@ROOM.get("/question")
def question() -> str:
    """Show a question and its answer."""
    asked = request.args.get("q", "").strip() or _built(request.args)
    aspects = shelf_words().aspects
    under = {a: w for a in aspects if (w := request.args.get(a, ""))}
    return filled("question.html", here="question", **_found(asked, under))


def _found(asked: str, under: Mapping[str, str]) -> dict[str, object]:
    session = desk().fresh()
    labels = session.shelf.labels
    told: dict[str, object] = {
        "q": asked,
        "examples": [] if asked else examples(session.shelf),
        "under": under,
        "switches": shelf_words().aspects,
        "conditions": session.shelf.conditions,
        "forms": FORMS,
        "form": request.args.get("form", "clear"),
        "washes": [x.product for x in labels if x.kind in shelf_words().cleaning],
        "products": [x.product for x in labels],
        "films": _films(),
        "chosen": {k: request.args.get(k, "") for k in ("wash", "film", "from")},
        "answer": None,
        "fault": "",
        "readings": [],
        "unsettled": "",
        "week": [],
        "changes": None,
    }
    if not asked:
        return told
    try:
        answer = desk().answer(asked)
    except Unexact as error:
        readings = error.heard.readings
        told["readings"] = [(each.question, unread(asked, each)) for each in readings]
        told["unsettled"] = " ".join(beside(asked, error.heard))
        told["lead"] = lead(error.heard) if readings else ""
        told["week"] = error.week.lines if error.week is not None else []
        told["examples"] = [] if readings or told["week"] else examples(session.shelf)
        return told
    except (ShellError, GrammarError) as error:
        from abluent.shell.ground.reports import said

        others = examples(session.shelf)
        return {**told, "fault": said(error), "examples": others}
    told |= {"answer": answer, **_shown(answer)}
    if under:
        told["changes"] = _changes(answer, asked, under)
    return told


def _built(args: Mapping[str, str]) -> str:
    """Return the question that menus say; empty if they do not say enough."""
    wash, film, source = (_quoted(args.get(k, "")) for k in ("wash", "film", "from"))
    other = _quoted(args.get("other", ""))
    of = f" from {source}" if source else ""
    made = {
        "clear": wash and film and f"does {wash} clear {film}{of}",
        "everything": wash and source and f"does {wash} clear everything from {source}",
        "which": film and f"which washes at least partly clear {film}{of}",
        "leave": source and f"what does {source} leave",
        "why": wash and film and f"why does {wash} clear {film}{of}",
        "compare": wash and other and film and f"compare {wash} and {other} for {film}",
    }
    return made.get(args.get("form", ""), "")


def _quoted(name: str) -> str:
    name = " ".join(name.replace('"', "").split())
    return f'"{name}"' if name else ""


def _films() -> list[str]:
    from abluent.engine.base.kinds import ingredient_classes

    base = desk().session.world.base
    top = base.term(Role.FILM)
    classes = (k for k in ingredient_classes(base) if top in base.ancestors(k))
    names = [*map(base.label, base.instances(top)), *map(base.plural, classes)]
    return sorted(dict.fromkeys(names), key=str.casefold)


def _shown(answer: Answer) -> dict[str, object]:
    rows = list(all_rows(answer))
    groups: list[Group] = []
    # Where nothing is as it was asked, what was looked at is the answer.
    shown = rows or list(answer.others)
    if many(shown):
        folds = foldings(shown)
        place = {id(row): number for number, row in enumerate(shown)}
        for fold, text in zip(folds, phrases(folds), strict=True):
            members = [_brief(place[id(row)], row) for row in fold.members]
            groups.append(Group(marked(fold.first.role), text, members))
    return {
        "graded": _graded(answer) if groups else [],
        "groups": groups,
        "rows": [] if groups else _wholes(rows),
        "others": []
        if groups and not rows
        else [_brief(n, row) for n, row in enumerate(answer.others, start=len(rows))],
        "cautions": cautions_beside(answer),
    }


def _graded(answer: Answer) -> list[Graded]:
    """What many verdicts come to, as a picture of them tells it."""
    from abluent.shell.told.telling import told_of

    told = told_of(answer, answer.query, desk().session.world)
    return [
        Graded(
            Markup(strand_svg(group.mark, SMALL) if group.mark else ""),
            group.word,
            group.names,
            group.why,
        )
        for group in told.groups
        if group.word
    ]


def _brief(number: int, row: Row) -> Shown:
    return Shown(number, row_mark(row), title(row), standing(row), (), ())


def _wholes(rows: Sequence[Row]) -> list[Shown]:
    """Each row with its reasons; the mark of a single one is large."""
    wide = LARGE if len(rows) == 1 else SMALL
    found = []
    for number, row in enumerate(rows):
        reasons, sources = _reasons(row)
        shown = _brief(number, row)._replace(reasons=reasons, sources=sources)
        found.append(shown._replace(mark=row_mark(row, wide)))
    return found


def _reasons(row: Row) -> tuple[list[str], list[str]]:
    """The reasons of a row for one screen, and the works they cite, numbered."""
    if not isinstance(row, Verdict):
        return list(row.reasons), []
    from abluent.engine.questions.answers.account import account, numbered_sources

    steps, base = account(row), row.case.world.base
    numbers = numbered_sources(steps)
    told = [step_words(base, step, numbers, row.standing) for step in steps]
    return told, [f"[{n}] {short_citation(base, w)}" for w, n in numbers.items()]


@ROOM.get("/question/row")
def row() -> str | tuple[str, int]:
    """Show every step of one row, down to the label line, the rule and the source."""
    from abluent.engine.trace.answer import traces
    from abluent.engine.trace.steps import goals_of, steps_of
    from abluent.shell.pages.chain import tree_of

    asked, number = request.args.get("q", ""), request.args.get("n", "0")
    answer = desk().answer(asked)
    rows = [*all_rows(answer), *answer.others]
    if not number.isdecimal() or int(number) >= len(rows):
        return filled("fault.html", text="this answer has no such row"), 404
    chosen = rows[int(number)]
    alone = replace(answer, rows=[chosen], others=(), compared=(), findings=())
    trees: list[Sequence[Mark]] = []
    steps: list[Step] = []
    for trace in traces(alone, asked):
        found = steps_of(trace)
        steps += found
        trees += list(tree_of(found, goals_of(trace)))
    reasons, sources = _reasons(chosen)
    return filled(
        "row.html",
        here="question",
        q=asked,
        title=title(chosen),
        mark_of=row_mark(chosen),
        trees=trees,
        count=len(steps),
        reasons=reasons,
        sources=sources,
        number=number,
    )


@ROOM.get("/question/page")
def page() -> Response:
    """Show the whole page of an answer, as it is handed to a reviewer."""
    from abluent.shell.pages.html import answer_html

    asked = request.args.get("q", "")
    text = answer_html(desk().answer(asked), asked, by_base=False)
    shown = Response(text, mimetype="text/html")
    shown.headers["Content-Security-Policy"] = (
        "default-src 'none'; style-src 'unsafe-inline'; font-src data:"
    )
    return shown


@ROOM.get("/question/offers")
def offers() -> Response:
    """Return how a question that is being typed may go on, as options of a list."""
    from abluent.shell.talk.completion import offered_lines

    typed = request.args.get("q", "")
    found = offered_lines(desk().fresh(), typed)
    options = Markup("").join(Markup('<option value="{}">').format(x) for x in found)
    return Response(str(options), mimetype="text/html")


def _changes(answer: Answer, asked: str, under: Mapping[str, str]) -> list[Change]:
    """What of an answer is otherwise under other switches."""
    return list(_differing(answer, desk().answer(asked, under)))


def _differing(before: Answer, after: Answer) -> Iterator[Change]:
    old, new = _by_name(before), _by_name(after)
    for name, row in new.items():
        was = old.get(name)
        if was is None or _said(was) != _said(row):
            told = _said(was) if was else "not there"
            yield Change(name, told, _said(row), row_mark(row))
    for name, row in old.items():
        if name not in new:
            yield Change(name, _said(row), "not there", Markup(""))


def _by_name(answer: Answer) -> dict[str, Row]:
    rows = [*all_rows(answer), *answer.others]
    return {title(row).rpartition(": ")[0] or title(row): row for row in rows}


def _said(row: Row) -> str:
    told = title(row).rpartition(": ")[2] if isinstance(row, Verdict) else "so"
    disputed = isinstance(row, Verdict) and row.disputed
    stands = standing(row)
    return ", ".join(filter(None, [told, "disputed" if disputed else "", stands]))
