"""Cutting an ingredient name into parts.

Parts are matched where words and their joints are, never inside other letters: the
`cet-` of cetyl is not found in acetate, nor the `-cone` of silicones in coneflower.
Of all ways to cut a name the one with the fewest parts counts; a word that no parts
spell out entirely is `OTHER`.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from abluent.grammar.label.words import shadow
from abluent.grammar.name.tree import Part, PartBook, Piece

_ATOM = re.compile(
    r"(?<![^\W_])c\d{1,2}-\d{1,2}(?!\w)|(?<![^\W_])c\d{1,2}(?!\w)|[^\W\d_]+|\d+|/"
)
# A part of one of these kinds may stand before another in the same word.
_PREFIXES = frozenset({"MULT", "SULFO"})
OTHER = "OTHER"
"""The kind of a word that no parts spell out."""

_OTHER_COST = 50
_PART_COST = 4
_WILD_COST = 30


@dataclass(frozen=True, slots=True)
class _Spelling:
    """One spelling of a part: its letters, and whether the word goes on around it."""

    letters: str
    follows: bool
    goes_on: bool
    part: Part


@dataclass(slots=True)
class _Step:
    """The cheapest way to a place in a name."""

    cost: int
    before: tuple[int, bool]
    terminal: str
    part: Part | None


class NameLexer:
    """Cuts names into the parts of one book."""

    def __init__(self, book: PartBook) -> None:
        self._by_start: dict[str, list[_Spelling]] = defaultdict(list)
        self._wild: list[tuple[str, Part]] = []
        for part in book.parts:
            for spelling in part.spellings:
                self._add(spelling, part)

    def _add(self, spelling: str, part: Part) -> None:
        if spelling.startswith("*"):
            self._wild.append((spelling[1:], part))
            return
        letters = spelling.strip("-")
        found = _Spelling(
            letters, spelling.startswith("-"), spelling.endswith("-"), part
        )
        self._by_start[letters[0]].append(found)

    def cut(self, name: str) -> list[Piece]:
        """The parts of a name in order, as stretches of it."""
        atoms = [found.span() for found in _ATOM.finditer(shadow(name))]
        low = shadow(name)
        text = " ".join(low[start:end] for start, end in atoms)
        places = [at for start, end in atoms for at in (*range(start, end), end)]
        pieces = []
        for start, end, step in self._cheapest(text):
            span = (places[start], places[end - 1] + 1)
            pieces.append(Piece(step.terminal, span, text[start:end], step.part))
        return pieces

    def _cheapest(self, text: str) -> list[tuple[int, int, _Step]]:
        best: dict[tuple[int, bool], _Step] = {
            (0, False): _Step(0, (0, False), "", None)
        }
        for at in range(len(text)):
            for prefixed in (False, True):
                here = best.get((at, prefixed))
                if here is None:
                    continue
                for end, cost, terminal, part in self._moves(text, at, prefixed):
                    state = (end, terminal in _PREFIXES and end < len(text))
                    reached = best.get(state)
                    if reached is None or here.cost + cost < reached.cost:
                        best[state] = _Step(
                            here.cost + cost, (at, prefixed), terminal, part
                        )
        return _trace(best, len(text))

    def _moves(
        self, text: str, at: int, prefixed: bool
    ) -> Iterator[tuple[int, int, str, Part | None]]:
        if text[at] == " ":
            yield at + 1, 0, "", None
            return
        starts = at == 0 or text[at - 1] == " "
        stop = text.find(" ", at)
        stop = len(text) if stop < 0 else stop
        if starts:
            yield from self._whole_word(text, at, stop)
        for spelling in self._by_start.get(text[at], ()):
            end = at + len(spelling.letters)
            if not text.startswith(spelling.letters, at):
                continue
            bound = not starts and not prefixed
            goes_on = end < len(text) and text[end] != " "
            if spelling.follows == bound and spelling.goes_on == goes_on:
                yield end, _PART_COST, spelling.part.terminal, spelling.part

    def _whole_word(
        self, text: str, at: int, stop: int
    ) -> Iterator[tuple[int, int, str, Part | None]]:
        word = text[at:stop]
        if word == "/":
            yield stop, 1, "SLASH", None
        elif word.isdigit():
            yield stop, _PART_COST, "NUMBER", None
        elif word[0] == "c" and word[1:2].isdigit():
            yield stop, _PART_COST, "CHAIN", None
        else:
            yield stop, _OTHER_COST, OTHER, None
            for ending, part in self._wild:
                if word.endswith(ending) and word != ending:
                    yield stop, _WILD_COST, part.terminal, part


def _trace(
    best: dict[tuple[int, bool], _Step], length: int
) -> list[tuple[int, int, _Step]]:
    steps = []
    state = (length, False)
    while state[0] > 0 and state in best:
        step = best[state]
        if step.terminal:
            steps.append((step.before[0], state[0], step))
        state = step.before
    return steps[::-1]
