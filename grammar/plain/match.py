"""Which ways of asking a line is, and what each of them asks."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from abluent.grammar.plain.beside import (
    BESIDE,
    SAID,
    Remark,
    remark,
    remarks,
    without_remarks,
)
from abluent.grammar.plain.line import Line
from abluent.grammar.plain.ways import (
    ASKS,
    Choice,
    Forms,
    Node,
    Role,
    Slot,
    Sub,
    Way,
    Word,
    first_words,
    forms,
)

Bound = Mapping[str, str]
"""What slots and parts stand for, by their names as they stand in a meaning."""
_HOLE = re.compile(r"[{<]\w+[}>]")


class Asked(NamedTuple):
    """What a line can mean, whether it is open which, and what is said besides."""

    meanings: tuple[str, ...]
    open: bool
    besides: tuple[Remark, ...] = ()


_SAID = "+"
"""Under which the remarks stand that were passed over."""


class Matcher:
    """The parts of one line, each read once at each place.

    Args:
        line: the words.
        freely: whether something may be said between the words of a way.
    """

    def __init__(self, line: Line, *, freely: bool = False) -> None:
        self._line = line
        self._forms: Forms = forms()
        self._freely = freely
        self._known: dict[tuple[str, int, bool], list[tuple[int, str]]] = {}
        self._parts: tuple[str, ...] = (BESIDE,)
        self._beyond: dict[int, tuple[tuple[int, str], ...]] = {}

    def asked(self) -> Asked | None:
        """What the first way asks that the whole line is; nothing if there is none."""
        length = len(self._line.words)
        for each in self._begun(ASKS, 0):
            for end, bound in self._sequence(each.pattern, 0, {}):
                for last, said in self._past(end):
                    if last == length:
                        besides = remarks("".join((*bound.values(), said)))
                        texts = tuple(_filled(text, bound) for text in each.meanings)
                        alone = tuple(map(without_remarks, texts))
                        return Asked(alone, each.open, besides)
        return None

    def _begun(self, part: str, at: int) -> Iterator[Way]:
        """The ways of a part that can begin with a word at a place."""
        words = self._line.words
        begun = {words[here] for here, _ in self._past(at) if here < len(words)}
        ways, firsts = self._forms.parts[part], first_words(part)
        for each, first in zip(ways, firsts, strict=True):
            if first is None or not begun.isdisjoint(first):
                yield each

    def besides(self) -> tuple[Remark, ...] | None:
        """What is said besides, where the line says nothing else."""
        length = len(self._line.words)
        self._parts = (BESIDE, SAID)
        said = [text for last, text in self._past(0) if last == length]
        return remarks(said[0]) if said and said[0] else None

    def _past(self, at: int) -> tuple[tuple[int, str], ...]:
        """A place, and those after what asks nothing there, each with its remarks."""
        if not self._freely:
            return tuple((here, "") for here in self._line.past(at))
        if at not in self._beyond:
            found: dict[int, str] = {}
            waiting = [(at, "")]
            while waiting:
                here, said = waiting.pop(0)
                if here in found:
                    continue
                found[here] = said
                waiting += ((each, said) for each in self._line.past(here))
                waiting += (
                    (end, said + remark(text, here, end).mark)
                    for end, text in self._beside(here)
                )
            self._beyond[at] = tuple(found.items())
        return self._beyond[at]

    def _beside(self, at: int) -> list[tuple[int, str]]:
        """What is said beside a question at a place, within which nothing is."""
        if at >= len(self._line.words):
            return []
        self._freely = False
        found = [each for part in self._parts for each in self._part(part, at)]
        self._freely = True
        return found

    def _sequence(
        self, nodes: Sequence[Node], at: int, bound: Bound
    ) -> Iterator[tuple[int, Bound]]:
        if not nodes:
            yield at, bound
            return
        first, rest = nodes[0], nodes[1:]
        if isinstance(first, Choice):
            for branch in first.branches:
                yield from self._sequence((*branch, *rest), at, bound)
            return
        for here, said in self._past(at):
            for end, more in self._node(first, here):
                told = {**bound, **more}
                if said:
                    told[_SAID] = bound.get(_SAID, "") + said
                yield from self._sequence(rest, end, told)

    def _node(self, node: Node, at: int) -> Iterator[tuple[int, Bound]]:
        line = self._line
        match node:
            case Word(text=text):
                if at < len(line.words) and line.words[at] == text:
                    yield at + 1, {}
            case Role(key=key):
                yield from ((end, {}) for end in line.phrases(at).get(key, ()))
            case Slot(name=name, sort=sort):
                for end, mark in self._slot(sort, at):
                    yield end, {f"{{{name}}}": mark}
            case Sub(name=name, part=part):
                for end, text in self._part(part, at):
                    yield end, {f"<{name}>": text}

    def _slot(self, sort: str, at: int) -> Iterator[tuple[int, str]]:
        line = self._line
        own = {"when": line.condition, "number": line.number, "promise": line.promise}
        if sort in own:
            found = own[sort](at)
            yield from () if found is None else (found,)
            return
        if sort == "words":
            end = line.words_only(at)
            yield from ((end, ""),) if end > at else ()
            return
        if sort == "called":
            yield from line.called(at)
            return
        for end, mark in self._line.fitting(at, self._forms.sorts[sort]):
            yield end, f'"{mark}"'

    def _part(self, name: str, at: int) -> list[tuple[int, str]]:
        """Every way that a part is read at a place: where it ends, and what it asks."""
        key = name, at, self._freely
        if key not in self._known:
            self._known[key] = []  # a part that begins with itself is not read
            found: dict[tuple[int, str], None] = {}
            for each in self._begun(name, at):
                for end, bound in self._sequence(each.pattern, at, {}):
                    filled = _filled(each.meanings[0], bound)
                    lost = {m.mark for m in remarks("".join(bound.values()))}
                    said = "".join(sorted(lost - {m.mark for m in remarks(filled)}))
                    found[end, filled + said] = None
            self._known[key] = [*found]
        return self._known[key]


def _filled(text: str, bound: Bound) -> str:
    """A meaning with what its holes stand for; a hole that was left out is empty."""
    made = _HOLE.sub(lambda hole: bound.get(hole.group(), ""), text)
    return " ".join(made.split())
