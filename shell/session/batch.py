"""A file of questions answered into one folder: an index, a page each, a table.

The folder appears whole or not at all; with `overwrite` its files are replaced one by
one and nothing else in it is touched. A question that cannot be answered is listed
with the reason, and stops no other.
"""

from __future__ import annotations

import csv
import io
import re
import shutil
import tempfile
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from abluent.engine.disk import write_file
from abluent.engine.faults import CommandError, DataError, Problem
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.folded_words import groups
from abluent.engine.questions.answers.folding import film_key, wash_key
from abluent.engine.questions.answers.rows import all_rows, standing, title, verdict
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.grammar.common.text import visible
from abluent.shell.ground import reports
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


@dataclass(frozen=True)
class Entry:
    """What came of one question; `page` is a file name, empty if there is none."""

    question: str
    sentence: str = ""
    page: str = ""
    problem: str = ""


@dataclass(frozen=True)
class Batch:
    """The files of a folder by name, and what came of each question."""

    files: dict[str, str]
    entries: tuple[Entry, ...]

    @property
    def unanswered(self) -> int:
        """How many questions have no answer."""
        return sum(1 for entry in self.entries if entry.problem)


def answered(
    session: Session,
    questions: Sequence[str],
    day: str = "",
    watch: Callable[[], object] | None = None,
) -> Batch:
    """Answer questions one after the other, as `those` and `why` need.

    Args:
        session: asked.
        questions: in the words of the query language.
        day: the day to print on the pages; today if empty.
        watch: called after each question.
    """
    day = day or today()
    files: dict[str, str] = {}
    entries = []
    lines: list[Sequence[str]] = []
    digits = len(str(len(questions)))
    for number, question in enumerate(questions, 1):
        try:
            answer = session.ask(question)
        except Exception as error:
            reports.exit_code(error)  # A fault of the program is raised again.
            entry = Entry(question, problem=reports.said(error))
            lines.append((question, *[""] * (len(COLUMNS) - 2), entry.problem))
        else:
            page = f"{number:0{digits}}-{file_name(question)}.html"
            files[page] = answer_html(answer, question, day, by_base=False)
            entry = Entry(question, answer.sentence, page)
            lines += _lines(question, answer, page)
        entries.append(entry)
        if watch is not None:
            watch()
    shelf = session.shelf.name
    files[TABLE] = table([COLUMNS, *lines])
    files[INDEX] = rendered("batch.html", entries=entries, shelf=shelf, day=day)
    return Batch(files, tuple(entries))


def write_folder(folder: Path, files: dict[str, str], *, overwrite: bool) -> None:
    """Write files into a folder, the index last.

    Raises:
        CommandError: the folder is there, and `overwrite` was not asked for.
        DataError: the system refused to write.
    """
    if folder.exists() and (overwrite or _is_empty(folder)):
        for name, text in files.items():
            write_file(folder / name, text, overwrite=overwrite)
        return
    if folder.exists():
        what = f'"{folder}" is there already and was left as it is'
        hint = "name another folder, or add --overwrite to replace its pages"
        raise CommandError(Problem(what, hint=hint))
    try:
        room = Path(tempfile.mkdtemp(prefix=f".{folder.name}.", dir=folder.parent))
    except OSError as error:
        what = f'"{folder}" could not be made: {error.strerror or error}'
        raise DataError(Problem(what, hint="make its parent folder first")) from error
    try:
        for name, text in files.items():
            write_file(room / name, text)
        room.chmod(0o755)
        room.rename(folder)
    finally:
        shutil.rmtree(room, ignore_errors=True)


def _is_empty(folder: Path) -> bool:
    return folder.is_dir() and not any(folder.iterdir())


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
    shown = visible(text, keep="\n")
    return f"'{shown}" if shown.lstrip()[:1] in set("=+-@|%") else shown


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
