"""Where a list begins and ends amid the talk that it was copied with.

A list is told by its names. What stands before the first of them or after the last
is talk, if something other than the signs of the list parts it from them: the end of
a line or a sentence, a colon, an arrow. Unknown names inside the list, or parted from
it by its own signs, stay names.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from abluent.grammar.label.cut import Fragment
from abluent.grammar.label.sentences import Judge

_COMMA = re.compile(r"[,;•·|]")
_PARTS = re.compile(r"[:.!?→=“\"«\n\t]")
_INTRODUCES = re.compile(r"\s*(?::(?!\d)|→|=|»|\s-\s)\s*[“\"«']?|\s*[“\"«]")
_WORD = re.compile(r"\S+")
_FEWEST_BEFORE = 4
_MOST_SIGNS = 3
_LONGEST = 1000


class Edges:
    """Finds the ends of the lists of one plain text.

    Args:
        plain: the text, cleaned.
        judge: tells which stretches of it are names.
    """

    def __init__(self, plain: str, judge: Judge) -> None:
        self._plain = plain
        self._judge = judge
        self._named = judge.named

    def names(self, fragments: Sequence[Fragment]) -> int:
        """How many fragments are names."""
        return sum(self._named(f.start, f.end) for f in fragments)

    def introduced(
        self, fragments: Sequence[Fragment], opening: bool
    ) -> Iterator[Fragment]:
        """The fragments, each cut after what leads up to its name.

        Args:
            fragments: those of one list.
            opening: whether the list has no heading.
        """
        for number, fragment in enumerate(fragments):
            at = self._introduction(fragment)
            if at is None and opening and number == 0 and self._goes_on(fragments):
                at = self._title(fragment)
            if at is None:
                yield fragment
                continue
            yield replace(fragment, end=at[0], leads=True)
            yield Fragment(at[1], fragment.end, "colon")

    def _goes_on(self, fragments: Sequence[Fragment]) -> bool:
        """Whether the list goes on in the line of its first fragment."""
        return len(fragments) < 2 or not self._parts(fragments, 1)

    def _introduction(self, fragment: Fragment) -> tuple[int, int] | None:
        """Where an introduction such as `made with: ` ends before a name."""
        start, end = fragment.start, fragment.end
        if end - start > _LONGEST:
            return None
        signs = list(_INTRODUCES.finditer(self._plain, start + 1, end))
        if not signs or self._judge.known(start, end):
            return None
        for found in reversed(signs[-_MOST_SIGNS:]):
            if found.end() < end and self._named(found.end(), end):
                lead = (start, found.start())
                return None if self._named(*lead) else (lead[1], found.end())
        return None

    def _title(self, fragment: Fragment) -> tuple[int, int] | None:
        """Where a title without a sign ends before the first name."""
        start, end = fragment.start, fragment.end
        if end - start > _LONGEST or self._named(start, end):
            return None
        words = list(_WORD.finditer(self._plain, start, end))
        for number, word in enumerate(words[1:], 1):
            before, rest = words[:number], self._plain[word.start() : end]
            shouted = self._plain[start : word.start()].isupper() and not rest.isupper()
            enough = number >= (2 if shouted else _FEWEST_BEFORE)
            enough = enough or self._judge.leads_up(start, before[-1].end())
            if enough and self._named(word.start(), end):
                return before[-1].end(), word.start()
        return None

    def trimmed(
        self, fragments: Sequence[Fragment], opening: bool
    ) -> tuple[int, int, Sequence[Fragment]]:
        """The list itself: where it begins and ends, and its fragments.

        Of these, the ones that sentences part are one sentence where that is how the
        list parts its names.

        Args:
            fragments: those of one list, as `introduced` gives them.
            opening: whether the list has no heading, or one that goes on in the
                line of the first fragment.
        """
        count = len(fragments)
        names = [self._named(f.start, f.end) for f in fragments]
        if not any(names):
            return 0, count, fragments
        low, high = self._block(fragments, names)
        signs = self._signs(fragments, names)
        first = next(n for n in range(low, high) if self._at_edge(fragments, names, n))
        last = next(
            n for n in reversed(range(low, high)) if self._at_edge(fragments, names, n)
        )
        if opening:
            parted = (n for n in range(first, low, -1) if self._parts(fragments, n))
            low = next(parted, low)
        parted = (
            n
            for n in range(last + 1, high)
            if (sign := self._parts(fragments, n)) and sign not in signs
        )
        high = next(parted, high)
        inner = fragments[low:high]
        if "." in signs:
            inner = [replace(f, edge="hard") if f.edge == "stop" else f for f in inner]
        return low, high, inner

    def _at_edge(
        self, fragments: Sequence[Fragment], names: Sequence[bool], at: int
    ) -> bool:
        """Whether a fragment is a name, by itself or over the end of a line."""
        here = fragments[at]
        if names[at] or self._judge.told(here.start, here.end):
            return True
        near = fragments[max(0, at - 1) : at + 2]
        return any(
            self._judge.known(one.start, two.end)
            for one, two in pairwise(near)
            if self._plain[one.end : two.start].isspace()
        )

    def _block(
        self, fragments: Sequence[Fragment], names: Sequence[bool]
    ) -> tuple[int, int]:
        """The fragments without the paragraphs at either end that hold few names."""
        low, high = 0, len(fragments)
        blanks = [n for n in range(1, high) if fragments[n].edge == "blank"]
        for at in blanks:
            if 2 * sum(names[low:at]) >= at - low or not any(names[at:high]):
                break
            low = at
        for at in reversed(blanks):
            if 2 * sum(names[at:high]) >= high - at or not any(names[low:at]):
                break
            high = at
        return low, high

    def _signs(self, fragments: Sequence[Fragment], names: Sequence[bool]) -> set[str]:
        """What parts the names of the list from one another, a comma apart."""
        found = [
            self._parts(fragments, n)
            for n in range(1, len(fragments))
            if names[n - 1] and names[n]
        ]
        often = max(2, len(found) // 3)
        return {sign for sign in set(found) if sign and found.count(sign) >= often}

    def _parts(self, fragments: Sequence[Fragment], at: int) -> str:
        """What other than a comma parts a fragment from the one before it."""
        if fragments[at].edge == "colon":
            return ":"
        first = self._plain[fragments[at].start]
        if first in "“«":
            return first
        gap = self._plain[fragments[at - 1].end : fragments[at].start]
        if _COMMA.search(gap):
            return ""
        found = _PARTS.search(gap)
        return found.group() if found else ""
