"""The signs of verdicts beside their lines on a terminal, coloured where it may be.

The sign is the mark of `ground/strand` in two letters; its words stand beside it, so
that nothing is told by sign or colour alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.rows import all_rows
from abluent.engine.questions.answers.verdicts import TAKES, Verdict
from abluent.shell.ground.strand import strand_of

MARGIN = 3
"""Columns that a sign and the gap after it take."""
_COLOURS = {"=": "33", "?": "35", "-": "36", "~": "36"}
_GONE = {Role.CLEARED: "all", Role.NO_WASH_NEEDED: "No wash needed"}
_NORMAL = "\x1b[0m"


def signed(text: str, answer: Answer, *, coloured: bool) -> str:
    """Return an answer as it is printed, with the sign of each verdict before it."""
    rows = [r for r in (*all_rows(answer), *answer.others) if isinstance(r, Verdict)]
    signs = {TAKES[row.role]: strand_of(row.role).text for row in rows if not row.gone}
    signs |= {_GONE[r.role]: strand_of(r.role).text for r in rows if r.gone}
    if not signs:
        return text
    alone = len(rows) == 1
    lines = []
    for number, block in enumerate(_blocks(text)):
        sign = next(iter(signs.values())) if alone and not number else ""
        said = " ".join(block.split())
        sign = sign or _sign_of(said, block, signs) or _of_group(said, block, rows)
        lead = f"{_drawn(sign, coloured)} " if sign else " " * MARGIN
        lines += [
            f"{lead if not n else ' ' * MARGIN}{line}".rstrip()
            for n, line in enumerate(block.split("\n"))
        ]
    return "\n".join(lines)


def _blocks(text: str) -> Iterator[str]:
    """The lines of a page, each with those that go on with it."""
    block: list[str] = []
    for line in text.split("\n"):
        if block and (not line.startswith("      ") or line.lstrip().startswith("Why")):
            yield "\n".join(block)
            block = []
        block.append(line)
    yield "\n".join(block)


def _sign_of(said: str, block: str, signs: Mapping[str, str]) -> str:
    """The sign of a line that tells a verdict, if it tells one."""
    if not re.match(r"  \S", block):
        return ""
    longest_first = sorted(signs, key=len, reverse=True)
    words = "|".join(map(re.escape, longest_first))
    told = rf"(?:.* )?[Tt]akes? ({words})\b(?! of the rest)|(No wash needed)"
    found = re.match(told, said)
    return signs.get(found[1] or found[2], "") if found else ""


_GROUP = re.compile(r"(?:Best chance|Weaker|Takes?|Puts?|Cannot tell)\b[^:]*: ")
"""How a group of washes begins that go as far."""


def _of_group(said: str, block: str, rows: Sequence[Verdict]) -> str:
    """The sign of washes that go as far, by the first of them; none if they differ."""
    found = _GROUP.match(said) if re.match(r"  \S", block) else None
    if found is None:
        return ""
    named = said[found.end() :]
    washes = {row.wash for row in rows if named.startswith(row.wash)}
    wash = max(washes, key=len, default="")
    roles = {row.role for row in rows if row.wash == wash}
    return strand_of(roles.pop()).text if len(roles) == 1 else ""


def _drawn(sign: str, coloured: bool) -> str:
    if not coloured:
        return sign
    return "".join(f"\x1b[{_COLOURS[each]}m{each}" for each in sign) + _NORMAL
