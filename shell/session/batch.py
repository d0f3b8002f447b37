"""A file of questions answered one after the other: a page each, an index, a table.

A page costs little more than its answer: every step, and the check of them, are put on
it only where that is asked for. A question that cannot be answered is listed with the
reason, and stops no other.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass

from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.folded_words import groups
from abluent.engine.questions.answers.folding import film_key, wash_key
from abluent.engine.questions.answers.rows import all_rows, standing, title, verdict
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.grammar.common.text import visible
from abluent.shell.ground import reports
from abluent.shell.ground.cells import defused
from abluent.shell.pages.html import answer_html, rendered, today
from abluent.shell.session.session import Session

INDEX, TABLE = "index.html", "verdicts.csv"
COLUMNS = (
    "question",
    "answer",
    "row",
    "verdict",
    "disputed",
    "standing",
    "weakest step",
    "group",
    "page",
    "not answered because",
)
_LONGEST_NAME = 48
_BACKWARD = {"those", "these", "them", "let", "save", "forget"}


@dataclass(frozen=True)
class Entry:
    """What came of one question.

    Args:
        question: as it was asked.
        sentence: the answer, if there is one.
        page: the name of its file, empty if there is none.
        problem: why there is no answer.
        lines: its lines in the table.
    """

    question: str
    sentence: str = ""
    page: str = ""
    problem: str = ""
    lines: Sequence[Sequence[str]] = ()


def answered(
    session: Session,
    questions: Sequence[str],
    done: Sequence[Entry] = (),
    day: str = "",
    *,
    check: bool = False,
) -> Iterator[tuple[Entry, str]]:
    """Answer questions one after the other, as `those` and `why` need.

    Args:
        session: asked.
        questions: in the words of the query language.
        done: what came of the first of them before; these get no page again.
        day: the day to print on the pages; today if empty.
        check: whether each page has every step, gone through again by the checker.

    Yields:
        What came of each question that was not done, and its page, if it has one.
    """
    day = day or today()
    if done and any(map(_looks_back, questions)):
        for question in questions[: len(done)]:
            with suppress(Exception):  # It is told of already.
                session.ask(question)
    digits = len(str(len(questions)))
    for number, question in enumerate(questions[len(done) :], len(done) + 1):
        try:
            answer = session.ask(question)
        except Exception as error:
            reports.exit_code(error)  # A fault of the program is raised again.
            said = reports.said(error)
            line = (question, *[""] * (len(COLUMNS) - 2), said)
            yield Entry(question, problem=said, lines=(line,)), ""
            continue
        page = f"{number:0{digits}}-{file_name(question)}.html"
        lines = tuple(_lines(question, answer, page))
        text = answer_html(answer, question, day, by_base=False, steps=check)
        yield Entry(question, answer.sentence, page, lines=lines), text


def index_of(entries: Sequence[Entry], shelf: str, day: str = "") -> str:
    """Return the page that leads to all others."""
    day = day or today()
    return rendered("batch.html", entries=entries, shelf=shelf, day=day)


def table_of(entries: Sequence[Entry]) -> str:
    """Return every verdict as CSV, and each question without an answer."""
    return table([COLUMNS, *(line for entry in entries for line in entry.lines)])


def _looks_back(question: str) -> bool:
    """Whether a question may need those before it."""
    words = set(re.findall(r"\w+", question.casefold()))
    return bool(words & _BACKWARD) or words <= {"why", "not"}


def file_name(text: str) -> str:
    """Return a text as part of a file name that every system takes."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    words = re.findall(r"[a-z0-9]+", plain.lower())
    return "-".join(words)[:_LONGEST_NAME].strip("-") or "question"


def table(lines: Sequence[Sequence[str]]) -> str:
    """Return lines as CSV that no spreadsheet takes for formulas."""
    out = io.StringIO()
    csv.writer(out).writerows([cell(each) for each in line] for line in lines)
    return out.getvalue()


def cell(text: str) -> str:
    """Return a text as a cell; one that would be run as a formula is led by `'`."""
    return defused(visible(text, keep="\n"))


def _lines(question: str, answer: Answer, page: str) -> Iterator[Sequence[str]]:
    rows = list(all_rows(answer))
    if not rows:
        yield question, answer.sentence, "", answer.claim, "", "", "", "", page, ""
    group = groups(rows)
    for row in rows:
        found = isinstance(row, Verdict)
        yield (
            question,
            answer.sentence,
            title(row),
            verdict(row) if isinstance(row, Verdict) else answer.claim,
            "yes" if isinstance(row, Verdict) and row.disputed else "no" * found,
            standing(row),
            row.weakest[0] if row.weakest else "",
            group[wash_key(row), film_key(row)] if isinstance(row, Verdict) else "",
            page,
            "",
        )
