"""An answer for the terminal: the verdict in one sentence, then what it rests on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from abluent.engine.base.contract import (
    ISA,
    LEAVING_UNKNOWN,
    LEVEL,
    MILDER,
    STRONGER_ON,
)
from abluent.engine.base.contract import LISTED as ON_LABEL
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.account import (
    Step,
    account,
    acting_on,
    film_step,
    number_of,
    numbered_sources,
    remark_on,
)
from abluent.engine.questions.answers.advised import advised, not_on_labels
from abluent.engine.questions.answers.answer import (
    Answer,
    Finding,
    Member,
    NotMember,
    Row,
    symbol_of,
)
from abluent.engine.questions.answers.cautions import cautions_beside
from abluent.engine.questions.answers.degrees import steps_of_degree
from abluent.engine.questions.answers.rows import (
    how_sure,
    listing,
    named,
    short_citation,
    standing,
    step_words,
    title,
)
from abluent.engine.questions.answers.turns import Turning, turning_of
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.engine.questions.answers.wording import kinds_of_grades
from abluent.grammar.common.text import wrapped

if TYPE_CHECKING:
    from abluent.engine.questions.answers.lists import Block, Why

_BOLD, _NORMAL = "\x1b[1m", "\x1b[0m"
LISTED = 8  # of rows, or twice as many; `rows` lists all
SCREEN = 40
VERY_MANY = 100
"""So many verdicts, as of all surfactants, are to be seen at a glance."""
HUNDREDS = 800
"""So many at fewer lines still."""
GLANCE, LOOK = 14, 22
"""So many lines are that, of hundreds of verdicts and of fewer."""
LIMITS = (None, 8, 5, 3, 2, 1)
"""How many of each list are shown, the first with which all fits a screen."""
_LONGEST = 3
"""Lines that one of very many lists takes at most where it names them all."""
_OF_DEGREE = frozenset({MILDER, STRONGER_ON})
"""What sets one wash above another."""
REASONS = 3
"""So many reasons of a list are told, or one more; `why` tells all."""
_SHORT = 100
"""Names as long are told with their reason and not without it."""
_UNBOUND = "nothing here says more of it."
ONE_BY_ONE = 3
"""Why so many verdicts are so is told of each; of more, list by list."""


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
    lists: dict[tuple[int, ...], list[Block]] = {}
    for limit in (None,) if whole else LIMITS:
        page = _Page(width, whole, limit, lists)
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
    page.bullets("Note", answer.notes)
    few = len(answer.rows) + len(answer.others) <= HUNDREDS
    if few and (line := advised(answer)):
        page.text(f"{line.head}: {line.advice.text}")


class _Page:
    """Lines wrapped to one width."""

    def __init__(
        self,
        width: int,
        whole: bool,
        limit: int | None,
        lists: dict[tuple[int, ...], list[Block]],
    ) -> None:
        self._lists = lists
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

    def laid_out(self, rows: Sequence[Verdict], answer: Answer) -> list[Block]:
        """Rows as lists, which are made once however often they are printed."""
        from abluent.engine.questions.answers.laid_out import laid_out

        key = tuple(map(id, rows))
        if key not in self._lists:
            self._lists[key] = laid_out(rows, by_film=answer.by_film)
        return self._lists[key]

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
        """Number texts from the first on; what has no room is counted."""
        gap = len(str(len(texts)))
        most = 2 * self.limit if self.limit else len(texts)
        most = len(texts) if len(texts) <= most + 1 else most
        for number, text in enumerate(texts[:most], 1):
            self.lines.append(wrapped(text, self.width, f"  {number:>{gap}}. "))
        if len(texts) > most:
            self.short = True
            self.text(f"… and {len(texts) - most} more steps")

    def bullets(self, heading: str, texts: Sequence[str]) -> None:
        """Print one text after its heading, or several below it."""
        if len(texts) == 1:
            self.text(f"{heading}: {texts[0]}")
        elif texts:
            self.text(f"{heading}:")
            self.lines += [
                wrapped(text, self.width, "  - ") for text in self.cut(texts)
            ]

    def rows(self, rows: Sequence[Row], answer: Answer) -> None:
        """List rows, or lay them out by their verdicts where they are several."""
        if not self.whole and _left_by_one(rows, answer):
            told = [how_sure(rows), not_on_labels(rows)]
            self.text(" ".join(filter(None, told)))
            return
        verdicts = [row for row in rows if isinstance(row, Verdict)]
        washes = {row.wash for row in verdicts}
        in_order = answer.in_order and len(washes) == len(verdicts)
        if self.whole or len(verdicts) < len(rows) or (in_order and not _many(rows)):
            if self.whole and len(rows) == len(verdicts) > VERY_MANY:
                self.blocks(self.laid_out(verdicts, answer), None)
            alike = len(rows) > 1 and len({standing(row) for row in rows}) == 1
            lines = listing(rows, whole=self.whole, telling=not alike)
            most = len(lines) if self.whole else 2 * (self.limit or LISTED)
            self.lines += [
                wrapped(text, self.width, "  ", "      ") for text in lines[:most]
            ]
            if len(lines) > most:
                self.short = True
                self.text(f"… and {len(lines) - most} more")
            if alike and (sure := how_sure(rows)):
                self.text(sure)
            return
        blocks = self.laid_out(verdicts, answer)
        if answer.truth and len(washes) == 1 and (acting := acting_on(verdicts)):
            self.text(acting.text)
        if len(rows) <= VERY_MANY or len(washes) <= 2 * LISTED:
            self.blocks(blocks, self.limit)
        else:
            self._as_fits(blocks)
        if len(washes) == 1 and (beside := remark_on(verdicts)):
            self.text(f"Besides: {beside.text}")
        if not _many(rows):
            self.text(how_sure(verdicts))

    def _as_fits(self, blocks: Sequence[Block]) -> None:
        """Print as much of each list as leaves the whole at a glance."""
        count = sum(len(block.rows) for block in blocks)
        most = GLANCE if count > HUNDREDS else LOOK
        blocks = [
            block._replace(
                items=tuple(_begun(text, self.width) for text in block.items)
            )
            for block in blocks
        ]
        before = list(self.lines)
        for limit in LIMITS:
            self.lines = list(before)
            self.blocks(blocks, limit)
            if self.height <= most:
                return
        for told in range(len(blocks) - 1, 0, -1):
            self.lines = list(before)
            self.blocks(blocks, LIMITS[-1], told)
            if self.height <= most:
                return

    def blocks(
        self, blocks: Sequence[Block], limit: int | None, told: int | None = None
    ) -> None:
        """Print lists under their headings; what is short shares a line with its.

        Args:
            blocks: the lists.
            limit: how many items of each are printed.
            told: of how many of them it is told why; of all if not given.
        """
        if all(len(block.items) == 1 for block in blocks):
            most = 3 * limit if limit else len(blocks)
        else:
            most = len(blocks)
        for number, block in enumerate(blocks[:most]):
            self.block(block, limit, why=told is None or number < told)
        if len(blocks) > most:
            self.text(f"… and {len(blocks) - most} more: `rows` lists all")

    def block(self, block: Block, limit: int | None, *, why: bool) -> None:
        """Print one list, and why it is so.

        With several reasons the list is told by them, each with what it bounds.
        """
        reasons = block.whys if why else ()
        if len(reasons) > 1 and not block.apart:
            self.text(f"{block.head}:")
            self.lines += [
                wrapped(text, self.width, "    - ", "      ")
                for text in told_apart(reasons, limit)
            ]
        else:
            self.items(block, limit)
            told = told_apart(reasons, limit) if block.apart else []
            told = told if len(reasons) > 1 else [each.words for each in reasons]
            for text in told:
                self.lines.append(wrapped(f"Why: {text}", self.width, "      "))
        if limit != LIMITS[-1]:
            self.lines += [wrapped(text, self.width, "      ") for text in block.beside]

    def items(self, block: Block, limit: int | None) -> None:
        """Print the lines of a list; what is short shares a line with its heading."""
        one = f"{block.head}: {block.items[0]}"
        if len(block.items) > 2 and limit == 1:
            one += "; `rows` lists the others"
        if len(block.items) == 1 or one.endswith("the others"):
            self.lines.append(wrapped(one, self.width, "  ", "      "))
            return
        self.text(f"{block.head}:")
        self.lines += [
            wrapped(text, self.width, "    - ") for text in _some_of(block.items, limit)
        ]

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


def _begun(text: str, width: int) -> str:
    """A line of names as far as it goes on a few lines of a page."""
    most = _LONGEST * width
    end = text.rfind(", ", 0, most) if len(text) > most else -1
    return text if end < 0 else f"{text[:end]} and others; `rows` lists all"


def _some_of(texts: Sequence[str], limit: int | None) -> list[str]:
    """As many of some lines as there is room for, and where the others are."""
    if limit is None or len(texts) <= limit + 1:
        return list(texts)
    return [*texts[:limit], f"… and {len(texts) - limit} more: `rows` lists all"]


def told_apart(whys: Sequence[Why], limit: int | None) -> list[str]:
    """What each reason bounds, then the reason; past a few, how to ask for the rest."""
    most = min(limit or REASONS, REASONS)
    most = most + 1 if len(whys) == most + 1 else most
    told = [f"{each.names}: {each.words or _UNBOUND}" for each in whys[:most]]
    if rest := whys[most:]:
        names = "; ".join(dict.fromkeys(each.names for each in rest))
        names = "The rest" if len(names) > _SHORT else names
        told.append(f"{names}: ask `why` of one")
    return told


def _many(rows: Sequence[Row]) -> bool:
    return len(rows) > 2 * LISTED


def _rows(page: _Page, answer: Answer) -> None:
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


def _every_row(page: _Page, answer: Answer) -> None:
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
            _explained(page, row, answer.why and page.has_room(answer.rows))
        return
    if _of_one_pair(answer.rows):
        _explained(page, answer.rows[0], whole=False)
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
    return len(pairs) == 1 and all(row.goal[0] in _OF_DEGREE for row in rows)


def _left_by_one(rows: Sequence[Row], answer: Answer) -> bool:
    """Whether rows are what one product leaves, all of it named in the first line."""
    return (
        all(isinstance(row, Left) and row.sure for row in rows)
        and len({row.source for row in rows if isinstance(row, Left)}) == 1
        and all(named(row, symbol_of(row)) in answer.sentence for row in rows)
    )


def _said_already(rows: Sequence[Row], answer: Answer) -> bool:
    """Whether the first line has said all that a list would say."""
    return all(
        (isinstance(row, Left) and row.how == LEAVING_UNKNOWN)
        or row.goal[0] == ON_LABEL
        for row in rows
    ) and all(named(row, symbol_of(row)) in answer.sentence for row in rows)


def _grouped(page: _Page, rows: Sequence[Verdict], answer: Answer) -> None:
    """Print why lists of verdicts are so, from the film to the rules of each list."""
    if len({row.film for row in rows}) == 1 and (first := film_step(rows[0])).text:
        page.text(first.text, "")
    blocks = page.laid_out(rows, answer)
    for block in blocks:
        page.text(f"{block.head}:", "")
        whys = [f"{each.names}: {each.words or _UNBOUND}" for each in block.whys]
        if len(block.whys) == 1:
            whys = [*block.items, *(each.words for each in block.whys)]
        page.lines += [
            wrapped(each, page.width, "  - ")
            for each in page.cut(whys or list(block.items))
        ]
    if not _many(rows):
        page.text(how_sure(rows))


def _explained(page: _Page, row: Row, whole: bool) -> None:
    """Print what a reader needs to trust a row, or to doubt it.

    A verdict is told in the order of thought; the whole chain is told on asking why.
    """
    if isinstance(row, Verdict) and not (whole and page.whole):
        _accounted(page, row, whole)
        return
    if row.goal[0] in _OF_DEGREE and not (whole and page.whole):
        page.numbered(steps_of_degree(row))
        page.text(f"How sure: {standing(row)}.")
        return
    if not _grade_is_open(row) and not isinstance(row, NotMember):
        page.numbered(row.reasons)  # What a thing is not, the first line has said.
    if row.goal[0] == ISA and (meaning := _meaning(row)):
        page.text(meaning)
    _disputed(page, row)
    page.bullets("Caveat", row.caveats)
    conventions = row.case.world.known.conventions
    works = [name for name in row.sources if name not in conventions]
    page.bullets("Source", [named(row, name) for name in works])
    if standing(row):
        page.text(f"How sure: {standing(row)}.{_weakest(row)}")


def _grade_is_open(row: Row) -> bool:
    """Whether a thing may be of several kinds, of which its reasons tell one."""
    base = row.case.world.base
    return row.goal[0] == ISA and bool(kinds_of_grades(base, str(row.goal[1][0])))


def _weakest(row: Row) -> str:
    """The weakest of several reasons, as a sentence after how sure a row is."""
    if not row.weakest or len(row.reasons) < 2 or _grade_is_open(row):
        return ""
    step = row.weakest[0]
    if step in row.reasons:
        return f" Step {row.reasons.index(step) + 1} is the weakest."
    return f" The weakest step: {step}"


def _meaning(row: Row) -> str:
    """What the class means that a thing is said to be."""
    base, kind = row.case.world.base, str(row.goal[1][-1])
    said = base.record(kind).text("comment") if kind in base else ""
    label = base.label(kind)
    return f"{label[:1].upper()}{label[1:]}: {said}" if said else ""


def _disputed(page: _Page, row: Row) -> None:
    if isinstance(row, Verdict) and row.disputed:
        from abluent.engine.questions.about.dispute import parted

        page.text("Disputed, as sources of equal rank disagree:")
        shown: set[str] = set()
        for each in parted(row):
            if not each.items or not shown.issuperset(each.items):
                page.finding(each, "  ")
            shown.update(each.items)


def _accounted(page: _Page, row: Verdict, whole: bool) -> None:
    base = row.case.world.base
    turn = turning_of(row)
    steps = account(row, whole=whole, turn=turn.words)
    numbers = numbered_sources(steps)
    own = row.standing
    page.numbered([step_words(base, step, numbers, own) for step in steps])
    if row.disputed and whole:
        _disputed(page, row)
    elif row.disputed:
        from abluent.engine.questions.about.dispute import parted

        for each in parted(row):
            if each.kind == "crux":
                page.finding(each, "  ")
    turns = _turns_on(turn, steps, whole=whole)
    if whole and standing(row) and row.role is not Role.OPEN:
        page.text(f"How sure: {standing(row)}.{turns}")
    elif told := " ".join(filter(None, [turns.strip(), not_on_labels([row])])):
        page.text(told)  # How sure it is, the first line has said.
    page.sources(base, numbers)


def _turns_on(turn: Turning, steps: Sequence[Step], *, whole: bool) -> str:
    """On which step a verdict turns, as a sentence after how sure it is.

    That others show the same as the weakest is told on asking why alone.
    """
    number = number_of(turn.words, steps)
    if not whole and not (number and turn.alone):
        return ""
    if not turn.words or not (number or turn.claim):
        return ""
    if turn.alone and not turn.bounds:
        return ""  # That a blend is counted so, or the like, tells nobody what to test.
    which = f"step {number}" if number else f"“{turn.words.rstrip('.')}”"
    if not turn.alone:
        return f" {_first(which)} is the weakest; without it others show the same."
    return f" It turns on {which}: better evidence against it would change this."


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]
