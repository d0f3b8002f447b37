"""Lines of an answer on a screen: as much of each list as there is room for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from abluent.engine.base.store import Base
from abluent.engine.questions.answers.account import acting_on, remark_on
from abluent.engine.questions.answers.advised import not_on_labels
from abluent.engine.questions.answers.answer import Answer, Finding, Row, symbol_of
from abluent.engine.questions.answers.rows import (
    how_sure,
    listing,
    named,
    short_citation,
    standing,
)
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.grammar.common.text import wrapped

if TYPE_CHECKING:
    from abluent.engine.questions.answers.lists import Block, Why

LISTED = 8  # of rows, or twice as many; `rows` lists all
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
WHYS = 2
"""So many reasons of a list of washes are told; `why` tells all."""
REASONS = 3
"""So many reasons of a list are told, or one more; `why` tells all."""
_SHORT = 100
"""Names as long are told with their reason and not without it."""
UNBOUND = "nothing here says more of it."


class Page:
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
            self._lists[key] = laid_out(
                rows, by_film=answer.by_film, order=answer.order
            )
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
        """Print one text."""
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
        in_order = in_order and answer.order is None and not many(rows)
        if self.whole or len(verdicts) < len(rows) or in_order:
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
        if not many(rows):
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
            told = [each.words for each in reasons]
            if block.apart:
                few = [each for each in reasons if each.words][:WHYS]
                told = [f"{each.names}: {each.words}".lstrip(": ") for each in few]
            for text in told:
                self.lines.append(wrapped(f"Why: {text}", self.width, "      "))
        if limit != LIMITS[-1]:
            self.lines += [wrapped(text, self.width, "      ") for text in block.beside]

    def items(self, block: Block, limit: int | None) -> None:
        """Print the lines of a list; what is short shares a line with its heading."""
        one = f"{block.head}: {block.items[0]}"
        if len(block.items) > 2 and limit == 1:
            one += "; `rows` lists the others"
        if block.numbered:
            self.text(f"{block.head}:")
            self.lines += [
                wrapped(text, self.width, "    ", "       ") for text in block.items
            ]
            return
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
    told = [f"{each.names}: {each.words or UNBOUND}" for each in whys[:most]]
    if rest := whys[most:]:
        names = "; ".join(dict.fromkeys(each.names for each in rest))
        names = "The rest" if len(names) > _SHORT else names
        told.append(f"{names}: ask `why` of one")
    return told


def many(rows: Sequence[Row]) -> bool:
    """Whether rows are more than a screen lists one by one."""
    return len(rows) > 2 * LISTED


def _left_by_one(rows: Sequence[Row], answer: Answer) -> bool:
    """Whether rows are what one product leaves, all of it named in the first line."""
    return (
        all(isinstance(row, Left) and row.sure for row in rows)
        and len({row.source for row in rows if isinstance(row, Left)}) == 1
        and all(named(row, symbol_of(row)) in answer.sentence for row in rows)
    )
