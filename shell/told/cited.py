"""The works that a picture rests on, short enough for its foot."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from abluent.engine.base.record import Record
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.explained import Explained
from abluent.shell.pages.cited_works import cited_works

_LONG_CITATION, _LONG_WORK = 200, 24


class Work(NamedTuple):
    """A work in one line, and in a few words."""

    citation: str
    short: str


def works_of(rows: Sequence[Explained]) -> list[Work]:
    """The works that could be opened: what was only recalled is none of them."""
    found = cited_works(rows) if rows else []
    if not found:
        return []
    practice = rows[0].case.world.base.terms(Role.PRACTICE)
    return [
        _work(work.citation, work.record)
        for work in found
        if not work.unseen and work.record.link("sourceKind") not in practice
    ]


def _work(citation: str, record: Record) -> Work:
    title = record.text("title") or citation
    authors = re.split(r",| and | [A-Z]\.", record.text("author") or title)[0]
    year = record.number("year")
    whole = title if len(citation) > _LONG_CITATION else citation
    return Work(whole, f"{authors} {year}" if year else authors)


def cited_of(works: Sequence[Work]) -> str:
    """Some works in a few words: their names where these are few and short."""
    count = f"{len(works)} source{'' if len(works) == 1 else 's'}"
    names = "; ".join(work.short for work in works)
    if works and len(works) <= 2 and len(names) <= _LONG_WORK:
        return f"Source{'s' * (len(works) > 1)}: {names}"
    return count if works else ""
