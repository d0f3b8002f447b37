"""A line as its words, with the nouns, conditions and phrases that begin at each."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from abluent.grammar.common.record import Record, replace
from abluent.grammar.phrase.book import longest, phrases
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.nouns import nouns_from
from abluent.grammar.phrase.pieces import Lexicon, cut, tokens
from abluent.grammar.plain.ways import Sort, forms
from abluent.grammar.query import tree as q

_SILENT = frozenset("(),.?!;:\"'\u2018\u2019\u201c\u201d\xab\xbb")
"""Marks that say nothing by themselves."""
_STOPS = frozenset(",.?!;:")
"""What a stretch of words goes up to."""
_DENIES = "small:no"
_MANY = frozenset(("product", "class", "kind", "thing"))
"""What is more than one ingredient."""


class Taken(Record):
    """A noun that a slot took, and the name it goes by until all is read."""

    noun: Noun
    mark: str


class Line:
    """The words of a line.

    Args:
        text: as typed.
        lexicon: the names that can be meant.
    """

    def __init__(self, text: str, lexicon: Lexicon) -> None:
        read = tokens(text)
        self.text, self.lexicon = text, lexicon
        self.words = [each.text for each in read]
        self.pieces = cut(text, lexicon)
        self._starts = [each.start for each in read]
        self._ends = [each.end for each in read]
        starts = {each.start: at for at, each in enumerate(read)}
        ends = {each.end: at + 1 for at, each in enumerate(read)}
        self._piece = {starts[each.start]: at for at, each in enumerate(self.pieces)}
        self._end = [ends[each.end] for each in self.pieces]
        self.taken: dict[str, Taken] = {}
        self.phrases = cache(self._phrases)
        self.nouns = cache(self._nouns)
        self.past = cache(self._past)

    def _past(self, at: int) -> tuple[int, ...]:
        """A place, and those after words there that say nothing."""
        found, waiting = [], [at]
        fillers = forms().fillers
        while waiting:
            here = waiting.pop()
            if here in found:
                continue
            found.append(here)
            if here >= len(self.words):
                continue
            word = self.words[here]
            waiting += [here + 1] if word in _SILENT else []
            for each in fillers.get(word, ()):
                if tuple(self.words[here : here + len(each)]) == each:
                    waiting.append(here + len(each))
        return tuple(found)

    def _phrases(self, at: int) -> dict[str, list[int]]:
        """What the phrases at a place do, and where each ends, the longest first.

        One that denies what it does, such as `too weak for`, is only a denial.
        """
        found: dict[str, list[int]] = {}
        for end in range(min(len(self.words), at + longest()), at, -1):
            held = phrases().get(tuple(self.words[at:end]), ())
            keys = [f"{entry.section}:{entry.key}" for entry in held]
            for key in [_DENIES] if _DENIES in keys else keys:
                found.setdefault(key, []).append(end)
        return found

    def _nouns(self, at: int) -> tuple[tuple[int, Noun], ...]:
        """The nouns that begin at a place, each with its end, the longest first."""
        piece = self._piece.get(at)
        if piece is None:
            return ()
        read = nouns_from(self.pieces, piece)
        return tuple((self._end[noun.last], noun) for noun in read)

    def fitting(self, at: int, sort: Sort) -> Iterator[tuple[int, str]]:
        """The nouns of a sort at a place: the end of each, and its mark."""
        for end, noun in self.nouns(at):
            if noun.quantity is None and not noun.loose and _fits(noun, sort):
                taken = _together(noun) if sort.many else noun
                mark = f"\u00a7{noun.first}.{noun.last}.{end}{'&' * sort.many}"
                self.taken[mark] = Taken(taken, mark)
                yield end, mark

    def condition(self, at: int) -> tuple[int, str] | None:
        """The end and the phrase of a condition that is stated at a place."""
        piece = self._piece.get(at)
        sense = None if piece is None else self.pieces[piece].sense
        if piece is None or sense is None or sense.kinds != {"condition"}:
            return None
        return self._end[piece], sense.text

    def typed(self, first: int, after: int) -> str:
        """Some words as they were typed, from one place up to another."""
        return self.text[self._starts[first] : self._ends[after - 1]]

    def promise(self, at: int) -> tuple[int, str] | None:
        """The end and the words of what a pack may promise: `sulfate-free`."""
        for end, noun in self.nouns(at):
            if tuple(self.words[end : end + 2]) == ("-", "free") and not noun.slip:
                words = self.text[self._starts[at] : self._ends[end + 1]]
                return end + 2, f'"{words}"'
        return None

    def called(self, at: int) -> Iterator[tuple[int, str]]:
        """The end and the typed words of the name of one ingredient at a place."""
        for end, noun in self.nouns(at):
            typed = self.text[self._starts[at] : self._ends[end - 1]]
            one = "ingredient" in noun.kinds and not noun.kinds & _MANY
            if one and not noun.slip and not noun.loose and noun.quantity is None:
                if '"' not in typed:
                    yield end, f'"{typed}"'

    def words_only(self, at: int) -> int:
        """Where a stretch ends in which nothing stands that is known by a name.

        It goes up to a comma or the end of its sentence.
        """
        end = at
        while end < len(self.words) and self.words[end] not in _STOPS:
            if self.nouns(end) or self.condition(end) is not None:
                return at
            end += 1
        return end

    def number(self, at: int) -> tuple[int, str] | None:
        """The end and the figures of a whole number at a place."""
        piece = self._piece.get(at)
        value = "" if piece is None else self.pieces[piece].value
        if piece is None or not value.isdigit():
            return None
        return self._end[piece], value


def _together(noun: Noun) -> Noun:
    """A list of which each is set beside the others, whatever joins it."""
    if not isinstance(noun.term, q.Or):
        return noun
    return replace(noun, term=q.And(noun.term.terms))


def _fits(noun: Noun, sort: Sort) -> bool:
    if sort.many and not isinstance(noun.term, q.And | q.Or):
        return False
    some = not sort.any or bool(sort.any & noun.kinds)
    return some and sort.all <= noun.kinds and not sort.none & noun.kinds
