"""The signs of verdicts beside their lines on a terminal, coloured where it may be.

The sign is the mark of `ground/strand` in two letters; its words stand beside it, so
that nothing is told by sign or colour alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import chain
from typing import TYPE_CHECKING

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.rows import all_rows
from abluent.engine.questions.answers.verdicts import TAKES, Verdict
from abluent.shell.ground.strand import strand_of
from abluent.shell.pages.answer import answer_page

if TYPE_CHECKING:
    from abluent.engine.questions.answers.lists import Block

MARGIN = 3
"""Columns that a sign and the gap after it take."""
_COLOURS = {"=": "33", "?": "35", "-": "36", "~": "36"}
_GONE = {Role.CLEARED: "all", Role.NO_WASH_NEEDED: "No wash needed"}
_NORMAL = "\x1b[0m"


def signed_page(
    answer: Answer, width: int, *, coloured: bool, whole: bool = False
) -> str:
    """Return an answer as it is printed, with the sign of each verdict before it.

    Args:
        answer: the answer.
        width: the columns to wrap to, with those of the signs.
        coloured: whether signs may be coloured, and the sentence set in bold.
        whole: whether every row is listed, however many there are.
    """
    lists: dict[tuple[int, ...], list[Block]] = {}
    text = answer_page(answer, width - MARGIN, coloured, whole=whole, lists=lists)
    rows = [r for r in (*all_rows(answer), *answer.others) if isinstance(r, Verdict)]
    signs = {TAKES[row.role]: strand_of(row.role).text for row in rows if not row.gone}
    signs |= {_GONE[r.role]: strand_of(r.role).text for r in rows if r.gone}
    if not signs:
        return text
    heads = _heads(chain.from_iterable(lists.values()))
    alone = len(rows) == 1
    lines = []
    for number, block in enumerate(_blocks(text)):
        sign = next(iter(signs.values())) if alone and not number else ""
        said = " ".join(block.split())
        if re.match(r"  \S", block):
            sign = sign or _of_list(said, heads) or _sign_of(said, signs)
        lead = f"{_drawn(sign, coloured)} " if sign else " " * MARGIN
        lines += [
            f"{lead if not n else ' ' * MARGIN}{line}".rstrip()
            for n, line in enumerate(block.split("\n"))
        ]
    return "\n".join(lines)


def _heads(blocks: Iterable[Block]) -> dict[str, str]:
    """The sign of each heading under which all verdicts are alike."""
    roles: dict[str, set[Role]] = {}
    for block in blocks:
        roles.setdefault(f"{block.head}:", set()).update(r.role for r in block.rows)
    return {
        head: strand_of(min(mine)).text
        for head, mine in roles.items()
        if len(mine) == 1
    }


def _blocks(text: str) -> Iterator[str]:
    """The lines of a page, each with those that go on with it."""
    block: list[str] = []
    for line in text.split("\n"):
        if block and (not line.startswith("      ") or line.lstrip().startswith("Why")):
            yield "\n".join(block)
            block = []
        block.append(line)
    yield "\n".join(block)


def _of_list(said: str, heads: Mapping[str, str]) -> str:
    """The sign of a list that begins here, if its verdicts have one."""
    return next((sign for head, sign in heads.items() if said.startswith(head)), "")


def _sign_of(said: str, signs: Mapping[str, str]) -> str:
    """The sign of a line that tells a verdict, if it tells one."""
    longest_first = sorted(signs, key=len, reverse=True)
    words = "|".join(map(re.escape, longest_first))
    told = rf"(?:.* )?[Tt]akes? ({words})\b(?! of the rest)|(No wash needed)"
    found = re.match(told, said)
    return signs.get(found[1] or found[2], "") if found else ""


def _drawn(sign: str, coloured: bool) -> str:
    if not coloured:
        return sign
    return "".join(f"\x1b[{_COLOURS[each]}m{each}" for each in sign) + _NORMAL
