"""Lines of a routine, with what the page about them says and what it never says."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple


class Week(NamedTuple):
    """A routine or a plan, and what is told of it.

    Args:
        name: what is shown by it, in words.
        command: `routine` or `plan`.
        lines: the lines of the routine.
        says: what its page says.
        never: what its page must not say.
        starts: how its page starts.
        more: products beside those of the shelf.
    """

    name: str
    command: str
    lines: str
    says: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    starts: str = ""
    more: str = ""

    def holds(self, page_of: Callable[..., str], shelf: str) -> None:
        """Print the page on a shelf and look for everything in it."""
        assert self.says or self.starts, "a week of which nothing is told shows nothing"
        lines = self.lines.strip().splitlines()
        told = page_of(shelf + self.more, self.command, *lines)
        assert told.startswith(self.starts)
        assert [each for each in self.says if each not in told] == []
        assert [each for each in self.never if each in told] == []


def by_name(week: Week) -> str:
    """What a week is called among the tests."""
    return week.name
