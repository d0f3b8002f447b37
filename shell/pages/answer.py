"""An answer for the terminal: the verdict in one sentence, then what it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from abluent.engine.base.contract import LEVEL
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.account import numbered_sources
from abluent.engine.questions.answers.answer import Answer, Finding, Row
from abluent.engine.questions.answers.cautions import nearest_cautions
from abluent.engine.questions.answers.folded_words import foldings, many, phrases
from abluent.engine.questions.answers.folding import Folding
from abluent.engine.questions.answers.group import grounds
from abluent.engine.questions.answers.rows import (
    all_rows,
    named,
    short_citation,
    standing,
    step_words,
    title,
)
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.grammar.common.text import as_sentence, wrapped

_BOLD, _NORMAL = "\x1b[1m", "\x1b[0m"
LISTED = 60
FOLDED = 5  # on a screen; `--rows` lists what they stand for
EXPLAINED = 2


def answer_page(
    answer: Answer, width: int, styled: bool = False, *, whole: bool = False
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
    """
    page = _Page(width, whole)
    if answer.heard:
        page.text(f"Read as: {answer.query}", "")
    sentence = wrapped(answer.sentence, width)
    page.lines.append(f"{_BOLD}{sentence}{_NORMAL}" if styled else sentence)
    if answer.why or answer.compared or not answer.findings:
        _rows(page, answer)
    for each in answer.findings:
        page.finding(each)
    for part in answer.compared if not answer.findings else ():
        page.text(part.sentence, "")
        page.rows(part.rows)
    page.bullets("Note", answer.notes)
    for text in nearest_cautions(all_rows(answer)):
        page.text(f"Mind: {text}")
    return "\n".join(page.lines)


class _Page:
    """Lines wrapped to one width."""

    def __init__(self, width: int, whole: bool = False) -> None:
        self.width = width
        self.whole = whole
        self.lines: list[str] = []

    def text(self, text: str, margin: str = "  ") -> None:
        self.lines.append(wrapped(text, self.width, margin))

    def numbered(self, texts: Sequence[str]) -> None:
        gap = len(str(len(texts)))
        for number, text in enumerate(texts, 1):
            self.lines.append(wrapped(text, self.width, f"  {number:>{gap}}. "))

    def bullets(self, heading: str, texts: Sequence[str]) -> None:
        """Print one text after its heading, or several below it."""
        if len(texts) == 1:
            self.text(f"{heading}: {texts[0]}")
        elif texts:
            self.text(f"{heading}:")
            self.lines += [wrapped(text, self.width, "  - ") for text in texts]

    def rows(self, rows: Sequence[Row]) -> None:
        """List rows, or what they fold to where they are many."""
        if self.whole or not many(rows):
            self.lines += _listed(rows, self.width, self.whole)
            return
        found = foldings(rows)
        shown = _largest(found)
        self.lines += [
            wrapped(each, self.width, "  ", "      ") for each in phrases(shown, found)
        ]
        rest = [each for each in found if each not in shown]
        if rest:
            count = sum(len(each.members) for each in rest)
            self.text(f"… and {count} more in {len(rest)} smaller groups")

    def sources(self, base: Base, numbers: Mapping[str, int]) -> None:
        """Print the works that steps cite by number."""
        works = (f"[{n}] {short_citation(base, w)}" for w, n in numbers.items())
        if numbers:
            self.text(f"Sources: {'; '.join(works)}.")

    def finding(self, found: Finding, margin: str = "") -> None:
        """Print what was found out: its head, and its items below."""
        self.text(f"{found.head}{':' if found.items else '.'}", margin)
        self.lines += [
            wrapped(text, self.width, f"{margin}  - ") for text in found.items
        ]


def _rows(page: _Page, answer: Answer) -> None:
    if answer.why and many(answer.rows or answer.others):
        _grouped(page, answer.rows or answer.others)
        return
    if len(answer.rows) == 1 or answer.why:
        for row in answer.rows:
            if len(answer.rows) > 1:
                page.lines.append("")
                page.text(title(row), "")
            _explained(page, row, answer.why)
        return
    unsettled = [row for row in answer.others if row.goal[0] == LEVEL]
    rest = [row for row in answer.others if row not in unsettled]
    for heading, rows in (
        ("", answer.rows),
        ("Open, as far as the label tells:", unsettled),
        ("Looked at, and not so:", rest),
    ):
        if rows and heading and (answer.rows or not many(rows)):
            page.text(heading, "")
        page.rows(rows)


def _grouped(page: _Page, rows: Sequence[Row]) -> None:
    """Print why the largest foldings of many rows are so."""
    found = foldings(rows)
    shown = _largest(found)[:EXPLAINED]
    for says, each in zip(phrases(shown, found), shown, strict=True):
        page.lines.append(wrapped(as_sentence(says), page.width, ""))
        steps = grounds(each)
        numbers = numbered_sources(steps)
        base, own = each.first.case.world.base, each.first.standing
        page.numbered([step_words(base, step, numbers, own) for step in steps])
        page.sources(base, numbers)
    if len(found) > len(shown):
        page.text(f"Told of {len(shown)} of {len(found)} groups; ask why of one.", "")


def _largest(found: Sequence[Folding]) -> list[Folding]:
    """The foldings that fit a screen: those of most rows, in their own order."""
    sizes = sorted((len(each.members) for each in found), reverse=True)
    least = sizes[:FOLDED][-1]
    return [each for each in found if len(each.members) >= least][:FOLDED]


def _listed(rows: Sequence[Row], width: int, whole: bool = False) -> Iterator[str]:
    shown = rows if whole else rows[:LISTED]
    for row in shown:
        stands = standing(row)
        text = f"{title(row)} ({stands})" if stands else title(row)
        yield wrapped(text, width, "  ", "      ")
    if len(rows) > len(shown):
        yield f"  … and {len(rows) - len(shown)} more"


def _explained(page: _Page, row: Row, whole: bool) -> None:
    """Print what a reader needs to trust a row, or to doubt it.

    A verdict is told in the order of thought; the whole chain is told on asking why.
    """
    if isinstance(row, Verdict) and not whole:
        _accounted(page, row)
        return
    page.numbered(row.reasons)
    _disputed(page, row)
    page.bullets("Caveat", row.caveats)
    conventions = row.case.world.known.conventions
    works = [name for name in row.sources if name not in conventions]
    page.bullets("Source", [named(row, name) for name in works])
    if standing(row):
        page.text(f"Stands as: {standing(row)}")
    if row.weakest:
        more = len(row.weakest) - 1
        others = f" ({more} more stand as low)" if more else ""
        page.text(f"Its weakest step: {row.weakest[0]}{others}")


def _disputed(page: _Page, row: Row) -> None:
    if isinstance(row, Verdict) and row.disputed:
        from abluent.engine.questions.about.dispute import parted

        page.text("Disputed, as sources of equal rank part:")
        for each in parted(row):
            page.finding(each, "  ")


def _accounted(page: _Page, row: Verdict) -> None:
    from abluent.engine.questions.answers.account import (
        account,
        turning,
    )

    base = row.case.world.base
    steps = account(row)
    numbers = numbered_sources(steps)
    own = row.standing
    page.numbered([step_words(base, step, numbers, own) for step in steps])
    if row.disputed:
        from abluent.engine.questions.about.dispute import parted

        for each in parted(row):
            if each.kind == "crux":
                page.finding(each, "  ")
    number, words = turning(row, steps)
    if words and standing(row):
        told = f"Stands as {standing(row)}; it turns on {number or words.rstrip('.')}"
        more = len(row.weakest) - 1
        told += f" ({more} more stand as low)" if more else ""
        if number and row.bounding:
            told += ": what stands higher and says otherwise would change it"
        page.text(f"{told}.")
    page.sources(base, numbers)
