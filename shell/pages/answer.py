"""An answer for the terminal: the verdict in one sentence, then what it rests on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from abluent.engine.base.contract import LEVEL
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.account import Step, number_of, numbered_sources
from abluent.engine.questions.answers.answer import Answer, Finding, Row
from abluent.engine.questions.answers.cautions import cautions_beside
from abluent.engine.questions.answers.folded_words import foldings, many, phrases
from abluent.engine.questions.answers.folding import Folding
from abluent.engine.questions.answers.group import grounds
from abluent.engine.questions.answers.rows import (
    listing,
    named,
    short_citation,
    standing,
    step_words,
    title,
)
from abluent.engine.questions.answers.turns import Turning, turning_of
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.grammar.common.text import as_sentence, wrapped

_BOLD, _NORMAL = "\x1b[1m", "\x1b[0m"
LISTED = 8  # of rows, or twice as many; `rows` lists all
SCREEN = 40
LIMITS = (None, 8, 5, 3, 2, 1)
"""How many of each list are shown, the first with which all fits a screen."""
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
    mind = cautions_beside(answer)
    for limit in (None,) if whole else LIMITS:
        page = _Page(width, whole, limit)
        _told(page, answer, styled)
        if page.short:
            page.text("`rows` shows what is left out here.")
        for text in mind:
            page.text(f"Mind: {text}")
        if page.height <= SCREEN:
            break
    return "\n".join(page.lines)


def _told(page: _Page, answer: Answer, styled: bool) -> None:
    if answer.heard:
        page.text(f"Read as: {answer.query}", "")
    sentence = wrapped(answer.sentence, page.width)
    page.lines.append(f"{_BOLD}{sentence}{_NORMAL}" if styled else sentence)
    if answer.compared and not answer.why and not answer.findings:
        for part in answer.compared:
            if part.sentence not in answer.sentence:
                page.text(part.sentence, "")
            page.rows(part.rows)
    elif answer.why or not answer.findings:
        _rows(page, answer)
    most = 3 * page.limit if page.limit else len(answer.findings)
    for each in answer.findings[:most]:
        page.finding(each)
    if len(answer.findings) > most:
        page.short = True
        page.text(f"… and {len(answer.findings) - most} more", "")
    page.bullets("Note", answer.notes)


class _Page:
    """Lines wrapped to one width."""

    def __init__(self, width: int, whole: bool, limit: int | None) -> None:
        self.width = width
        self.whole = whole
        self.limit = limit
        self.lines: list[str] = []
        self.short = False
        """Whether something was left out."""

    @property
    def height(self) -> int:
        """How many lines there are so far."""
        return sum(text.count("\n") + 1 for text in self.lines)

    def has_room(self, rows: Sequence[Row]) -> bool:
        """Whether each step of each of some rows is shown, or the last ones are."""
        return self.whole or self.limit is None or len(rows) == 1

    def cut(self, texts: Sequence[str]) -> list[str]:
        """As many of some texts as there is room for, and how many are left out."""
        most = self.limit or len(texts)
        if len(texts) <= most + 1:
            return list(texts)
        self.short = True
        return [*texts[:most], f"… and {len(texts) - most} more"]

    def text(self, text: str, margin: str = "  ") -> None:
        self.lines.append(wrapped(text, self.width, margin))

    def numbered(self, texts: Sequence[str]) -> None:
        gap = len(str(len(texts)))
        skipped = 0
        if self.limit and len(texts) > 2 * self.limit + 1:
            # What is concluded last says most.
            skipped = len(texts) - 2 * self.limit
            self.short = True
            self.text(f"… after {skipped} earlier steps")
        for number, text in list(enumerate(texts, 1))[skipped:]:
            self.lines.append(wrapped(text, self.width, f"  {number:>{gap}}. "))

    def bullets(self, heading: str, texts: Sequence[str]) -> None:
        """Print one text after its heading, or several below it."""
        if len(texts) == 1:
            self.text(f"{heading}: {texts[0]}")
        elif texts:
            self.text(f"{heading}:")
            self.lines += [
                wrapped(text, self.width, "  - ") for text in self.cut(texts)
            ]

    def rows(self, rows: Sequence[Row]) -> None:
        """List rows, or what they fold to where they are many."""
        if self.whole or not many(rows):
            lines = listing(rows, whole=self.whole)
            most = len(lines) if self.whole else 2 * (self.limit or LISTED)
            self.lines += [
                wrapped(text, self.width, "  ", "      ") for text in lines[:most]
            ]
            if len(lines) > most:
                self.short = True
                self.text(f"… and {len(lines) - most} more")
            return
        found = foldings(rows)
        shown = _largest(found, self.limit or FOLDED)
        self.lines += [
            wrapped(each, self.width, "  ", "      ") for each in phrases(shown, found)
        ]
        rest = [each for each in found if each not in shown]
        if rest:
            count = sum(len(each.members) for each in rest)
            groups = f"{len(rest)} smaller group{'s' * (len(rest) > 1)}"
            self.text(f"… and {count} more in {groups}: `rows` lists all")

    def sources(self, base: Base, numbers: Mapping[str, int]) -> None:
        """Print the works that steps cite by number."""
        works = (f"[{n}] {short_citation(base, w)}" for w, n in numbers.items())
        if numbers:
            self.text(f"Sources: {'; '.join(works)}.")

    def finding(self, found: Finding, margin: str = "") -> None:
        """Print what was found out: its head, and its items below."""
        self.text(f"{found.head}{':' if found.items else '.'}", margin)
        self.lines += [
            wrapped(text, self.width, f"{margin}  - ") for text in self.cut(found.items)
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
            _explained(page, row, answer.why and page.has_room(answer.rows))
        return
    unsettled = [row for row in answer.others if row.goal[0] == LEVEL]
    rest = [row for row in answer.others if row not in unsettled]
    for heading, rows in (
        ("", answer.rows),
        ("Open, as far as the label tells:", unsettled),
        ("Looked at besides:", rest),
    ):
        if rows and heading and (answer.rows or rows is unsettled):
            page.text(heading, "")
        page.rows(rows)


def _grouped(page: _Page, rows: Sequence[Row]) -> None:
    """Print why the largest foldings of many rows are so."""
    found = foldings(rows)
    shown = _largest(found, EXPLAINED)
    for says, each in zip(phrases(shown, found), shown, strict=True):
        page.lines.append(wrapped(as_sentence(says), page.width, ""))
        steps = grounds(each)
        numbers = numbered_sources(steps)
        base, own = each.first.case.world.base, each.first.standing
        page.numbered([step_words(base, step, numbers, own) for step in steps])
        page.sources(base, numbers)
    if len(found) > len(shown):
        page.text(f"Told of {len(shown)} of {len(found)} groups; ask why of one.", "")


def _largest(found: Sequence[Folding], most: int) -> list[Folding]:
    """The foldings that fit a screen: those of most rows, in their own order."""
    sizes = sorted((len(each.members) for each in found), reverse=True)
    least = sizes[: min(most, FOLDED)][-1]
    return [each for each in found if len(each.members) >= least][: min(most, FOLDED)]


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
    turn = turning_of(row)
    if turn.words and standing(row) and row.role is not Role.OPEN:
        page.text(f"Stands as {standing(row)}; {_turns_on(turn, steps)}.")
    page.sources(base, numbers)


def _turns_on(turn: Turning, steps: Sequence[Step]) -> str:
    """On which step a verdict turns, and what would change it."""
    number = number_of(turn.words, steps)
    which = str(number) if number else f"“{turn.words.rstrip('.')}”"
    more = f" ({turn.equals} more stand as low)" if turn.equals else ""
    if not turn.alone:
        return f"its weakest step is {which}{more}, and without it another chain stands"
    if turn.bounds:
        would = "what stands higher and says otherwise would change it"
        return f"it turns on {which}{more}: {would}"
    return f"it turns on {which}{more}: without it this does not follow"
