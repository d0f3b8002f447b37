"""An answer for the terminal: the verdict in one sentence, then what it rests on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from abluent.engine.base.contract import LEVEL
from abluent.engine.base.contract import LISTED as ON_LABEL
from abluent.engine.questions.answers.account import film_step
from abluent.engine.questions.answers.advised import advised, holding, not_on_labels
from abluent.engine.questions.answers.answer import Answer, Member, Row, symbol_of
from abluent.engine.questions.answers.cautions import cautions_beside
from abluent.engine.questions.answers.rows import how_sure, mostly_sure, named, title
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.grammar.common.text import not_used, wrapped
from abluent.shell.pages.row_reasons import OF_DEGREE, explained
from abluent.shell.pages.screen import HUNDREDS, LIMITS, UNBOUND, Page, many

if TYPE_CHECKING:
    from abluent.engine.questions.answers.lists import Block

_BOLD, _NORMAL = "\x1b[1m", "\x1b[0m"
SCREEN = 40
ONE_BY_ONE = 3
"""Why so many verdicts are so is told of each; of more, list by list."""


def answer_page(
    answer: Answer,
    width: int,
    styled: bool = False,
    *,
    whole: bool = False,
    lists: dict[tuple[int, ...], list[Block]] | None = None,
) -> str:
    """Return an answer as lines of text.

    One row, or a question that asks why, is shown with every reason; several rows
    are listed, each with how it stands, and many are folded to the classes that they
    make up. What was asked about the rows follows, or stands alone where the question
    is about nothing else.

    Args:
        answer: the answer.
        width: the columns to wrap to.
        styled: whether the sentence may be set in bold.
        whole: whether every row is listed, however many there are.
        lists: where the lists that are made are kept, for the signs of their heads.
    """
    mind = cautions_beside(answer)
    lists = {} if lists is None else lists
    for limit in (None,) if whole else LIMITS:
        page = Page(width, whole, limit, lists)
        _told(page, answer, styled)
        if page.short:
            page.text("`rows` shows what is left out here.")
        for text in mind:
            page.text(f"Mind: {text}")
        if page.height <= SCREEN:
            break
    return "\n".join(page.lines)


def _told(page: Page, answer: Answer, styled: bool) -> None:
    if answer.heard:
        page.text(f"Read as: {answer.query}", "")
    if answer.unused:
        page.text(not_used(answer.unused), "")
    sentence = wrapped(answer.sentence, page.width)
    page.lines.append(f"{_BOLD}{sentence}{_NORMAL}" if styled else sentence)
    if answer.compared and not answer.why and not answer.findings:
        for part in answer.compared:
            if part.sentence not in answer.sentence:
                page.text(part.sentence, "")
            if len(part.rows) > 1:
                page.rows(part.rows, answer)
    elif answer.why or not answer.findings:
        _rows(page, answer)
    most = 3 * page.limit if page.limit else len(answer.findings)
    for each in answer.findings[:most]:
        page.finding(each)
    if len(answer.findings) > most:
        page.short = True
        page.text(f"… and {len(answer.findings) - most} more", "")
    _closing(page, answer)
    page.bullets("Note", answer.notes)
    few = len(answer.rows) + len(answer.others) <= HUNDREDS
    if few and (line := advised(answer)):
        page.text(f"{line.head}: {line.advice.text}")


def _closing(page: Page, answer: Answer) -> None:
    """How sure an answer about films is and what no label tells, if not told yet."""
    every = answer.rows if answer.shown is None else answer.shown
    every = every or (() if many(answer.others) else answer.others)
    rows = [row for row in every if isinstance(row, Verdict | Left)]
    if answer.aside or not rows or len(rows) < len(every):
        return
    told = " ".join(" ".join(page.lines).split())
    alone = len(rows) == 1 and not answer.findings
    explained_alone = alone and isinstance(rows[0], Verdict)
    films = {symbol_of(row) for row in rows}
    if len(films) <= _FILMS and not explained_alone:
        for text in holding(rows, told):
            page.text(text)
    base = rows[0].case.world.base
    spoken = {
        base.record(row.standing).text("spokenAs") for row in rows if row.standing
    }
    sure = ""
    if _SURE not in told and not any(
        each and each in answer.sentence for each in spoken
    ):
        sure = mostly_sure(rows) if many(rows) else how_sure(rows)
    silence = not_on_labels(rows)
    if _SILENT in told or silence in told:
        silence = ""
    if sure or silence:
        page.text(" ".join(filter(None, [sure, silence])))


_FILMS = 12
"""Of so many films it is told why those stay that hold most firmly."""
_SURE, _SILENT = "How sure", "no label tells"
"""What an answer says where it has told how sure it is, and what no label tells."""


def _rows(page: Page, answer: Answer) -> None:
    if answer.shown is None or page.whole:
        _every_row(page, answer)
        return
    verdicts = [row for row in answer.shown if isinstance(row, Verdict)]
    others = [row for row in answer.shown if row not in verdicts]
    if verdicts:
        page.rows(verdicts, answer)
    if verdicts and others:
        page.text("Left out:", "")
    if others:
        page.rows(others, answer)


def _every_row(page: Page, answer: Answer) -> None:
    every = answer.rows or answer.others
    verdicts = [row for row in every if isinstance(row, Verdict)]
    if answer.why and len(verdicts) == len(every) > ONE_BY_ONE:
        _grouped(page, verdicts, answer)
        return
    if len(every) == len(verdicts) == 1 and answer.in_order:
        page.blocks(page.laid_out(verdicts, answer), None)
        page.text(how_sure(verdicts))
        return
    if len(answer.rows) == 1 or answer.why:
        for row in answer.rows:
            if len(answer.rows) > 1:
                page.lines.append("")
                page.text(title(row), "")
            explained(page, row, answer.why and page.has_room(answer.rows))
        return
    if _of_one_pair(answer.rows):
        explained(page, answer.rows[0], whole=False)
        return
    unsettled = [row for row in answer.others if row.goal[0] == LEVEL]
    rest = [row for row in answer.others if row not in unsettled]
    if not page.whole and all(isinstance(row, Member) for row in rest):
        rest = []  # What they are in part is no answer.
    for heading, rows in (
        ("", answer.rows),
        ("Open, as far as the label tells:", unsettled),
        ("Looked at besides:", rest),
    ):
        found = answer.rows or answer.members
        told = rows and heading and (found or rows is unsettled)
        if told and not _said_already(rows, answer):
            page.text(heading, "")
        if rows and not _said_already(rows, answer):
            page.rows(rows, answer)


def _of_one_pair(rows: Sequence[Row]) -> bool:
    """Whether rows set one wash above another, on one family of films after another."""
    pairs = {row.goal[1][:2] for row in rows}
    return len(pairs) == 1 and all(row.goal[0] in OF_DEGREE for row in rows)


def _said_already(rows: Sequence[Row], answer: Answer) -> bool:
    """Whether the first line has said all that a list would say."""
    return all(
        isinstance(row, Left) or row.goal[0] == ON_LABEL for row in rows
    ) and all(named(row, symbol_of(row)) in answer.sentence for row in rows)


def _grouped(page: Page, rows: Sequence[Verdict], answer: Answer) -> None:
    """Print why lists of verdicts are so, from the film to the rules of each list."""
    if len({row.film for row in rows}) == 1 and (first := film_step(rows[0])).text:
        page.text(first.text, "")
    blocks = page.laid_out(rows, answer)
    for block in blocks:
        page.text(f"{block.head}:", "")
        whys = [f"{each.names}: {each.words or UNBOUND}" for each in block.whys]
        if len(block.whys) == 1:
            whys = [*block.items, *(each.words for each in block.whys)]
        page.lines += [
            wrapped(each, page.width, "  - ")
            for each in page.cut(whys or list(block.items))
        ]
    if not many(rows):
        page.text(how_sure(rows))
