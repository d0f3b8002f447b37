"""A text of several sentences: each is asked in turn, or said before what is asked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.record import records
from abluent.grammar.phrase.book import words_of
from abluent.grammar.phrase.pieces import Lexicon
from abluent.grammar.phrase.reading import Reading
from abluent.grammar.plain.pointing import (
    conditions_said,
    films_asked,
    names_film,
    pointed,
    points,
    print_term,
    speaks_of_film,
    subjects_asked,
    things_said,
)
from abluent.grammar.plain.sentences import (
    Sentence,
    asks,
    divisions,
    sentences,
    supposes,
)
from abluent.grammar.plain.whole import (
    exact,
    facts_said,
    read_besides,
    read_whole,
    told_as_unused,
    with_remark,
)
from abluent.grammar.query import tree as q

Readings = tuple[Reading, ...]
_Heed = tuple[str, q.Term | str, str]
"""What a remark does, with what, and how that was typed."""


def read_in_turn(text: str, lexicon: Lexicon) -> Readings:
    """What each of several questions asks, where all are read and none is in doubt.

    What is only said before or after them is heeded, or told as not used.
    """
    whole, parts = sentences(text), sentences(text, broken=True)
    found = _taken(whole, lexicon)
    if not found and len(parts) > len(whole):
        found = _taken(parts, lexicon)
    if len(found) > 1 and not all(each.sure for each in found):
        return ()
    return tuple({each.question: each for each in found}.values())


def _taken(parts: Sequence[Sentence], lexicon: Lexicon) -> Readings:
    """What some sentences ask, if each of them can be taken."""
    turn = Turn(lexicon, many=sum(each.asks for each in parts) > 1)
    if all(turn.take(each.text, asked=each.asks) for each in parts):
        return turn.done()
    return ()


class Turn:
    """What was asked and said so far in one text.

    Args:
        lexicon: the names that can be meant.
        many: whether several sentences of it ask something.
    """

    def __init__(self, lexicon: Lexicon, *, many: bool) -> None:
        self._lexicon, self._many = lexicon, many
        self._said: list[str] = []
        self._lasting: list[_Heed] = []
        self.found: Readings = ()

    def take(self, text: str, *, asked: bool) -> bool:
        """Read one sentence more; whether that could be done."""
        if not asked:
            self._said.append(text)
            return True
        for part in ([text], *divisions(text)):
            turn = self._copy()
            if all(turn._ask(each, last=len(part)) for each in part):
                self._said, self.found = turn._said, turn.found
                self._lasting = turn._lasting
                return True
        return False

    def done(self) -> Readings:
        """All that is asked, under what was said after it too."""
        if not self.found:
            return ()
        return self._heeding(self.found, self._said)

    def _copy(self) -> Turn:
        turn = Turn(self._lexicon, many=self._many)
        turn._said, turn.found = [*self._said], self.found
        turn._lasting = [*self._lasting]
        return turn

    def _ask(self, text: str, *, last: int) -> bool:
        """Read one question more, or what is said within one."""
        if last > 1 and not asks(text):
            self._said.append(text)
            # A question within it is not only said.
            return not any(each.asks for each in sentences(text, broken=True))
        if not self.found and self._said:
            # `A student says that A is B. Is she right?`
            self.found = self._judged(text)
            if self.found:
                return True
        again = read_besides(text, self.found, self._lexicon)
        if again:
            self.found = again
            return True
        readings = self._filled(self._read(text))
        if not readings or (last > 1 and not all(each.sure for each in readings)):
            return False
        for deed, what, _ in self._lasting:
            readings = with_remark(readings, deed, what) or readings
        for sentence in self._said:
            self._lasting += self._heeds(sentence, readings)
        self.found, self._said = (*self.found, *readings), []
        return True

    def _filled(self, readings: Readings) -> Readings:
        """What leaves open what is to come off, said of what was asked before."""
        if len(readings) != 1 or readings[0].sure or not self.found:
            return readings
        for name in _names(self.found[-1].query):
            sense = self._lexicon.find(words_of(name.text))
            kinds = frozenset() if sense is None else sense.kinds
            if "product" in kinds and "wash" not in kinds:
                return with_remark(readings, "worn", name) or readings
        return readings

    def _judged(self, text: str) -> Readings:
        """What was said last, if it is to be judged and nothing else is asked."""
        *before, last = self._said
        claimed = read_whole(last, self._lexicon)
        if not claimed or not all(each.sure for each in claimed):
            return ()
        judged = read_besides(text, claimed, self._lexicon)
        if judged:
            self._said = []
        return self._heeding(judged, before) if judged else ()

    def _read(self, text: str) -> Readings:
        """What one question asks; what it points at was said or asked before."""
        said, lexicon = self._said, self._lexicon
        if not points(text):
            readings = read_whole(text, lexicon)
            if not readings and (self._many or self.found):
                readings = exact(text, lexicon)
            if readings:
                return self._heeding(readings, said)
        for start in range(len(said)):
            readings = read_whole(" ".join((*said[start:], text)), lexicon)
            if readings and all(each.sure for each in readings):
                return self._heeding(readings, said[:start])
        meant: dict[tuple[str, ...], Readings] = {}
        for named in pointed(text, self._topics(only_films=names_film(text))):
            readings = read_whole(named, lexicon)
            if readings and all(each.sure for each in readings):
                meant.setdefault(tuple(each.question for each in readings), readings)
                if self.found and speaks_of_film(text):
                    break
        only = [*meant.values()] if len(meant) == 1 else []
        return self._heeding(only[0], said) if only else ()

    def _topics(self, *, only_films: bool) -> list[str]:
        """What can be meant by a word that points back, the likeliest first."""
        films: list[str] = []
        things: list[str] = []
        for each in self.found[-1:]:
            films += films_asked(each.query)
            things += subjects_asked(each.query)
        for sentence in reversed(self._said):
            for name, kinds, _ in reversed([*things_said(sentence, self._lexicon)]):
                if ("product" in kinds and "wash" not in kinds) or (
                    "film" in kinds and not kinds & {"kind", "product"}
                ):
                    films.append(name)
                things.append(name)
        return [*dict.fromkeys(films if only_films else (*films, *things))]

    def _heeding(self, readings: Readings, said: Sequence[str]) -> Readings:
        """Readings under what was said; what bears on none of them is told."""
        for sentence in said:
            facts = facts_said(sentence, self._lexicon)
            if facts:
                readings = (*facts, *readings)
                continue
            again = read_besides(sentence, readings, self._lexicon, only_said=True)
            if again:
                readings = again
                continue
            left = sentence
            for deed, what, typed in self._heeds(sentence, readings):
                changed = with_remark(readings, deed, what)
                left = left.replace(typed, "\u2026") if changed else left
                readings = changed or readings
            if supposes(sentence) and left == sentence:
                return ()
            names = {print_term(e) for r in readings for e in _names(r.query)}
            for name, _, typed in things_said(left, self._lexicon):
                left = left.replace(typed, "\u2026") if name in names else left
            readings = told_as_unused(readings, left)
        return readings

    def _heeds(self, sentence: str, readings: Readings) -> Iterator[_Heed]:
        """The conditions that a sentence states, and the products put on hair."""
        names = {print_term(e) for r in readings for e in _names(r.query)}
        for phrase, typed in conditions_said(sentence, self._lexicon):
            yield "when", phrase, typed
        for name, kinds, typed in things_said(sentence, self._lexicon):
            one = name.count('"') == 2 and name not in names
            if one and "product" in kinds and "wash" not in kinds:
                yield "worn", q.Name(name.strip('"')), typed


def _names(query: q.Query) -> Iterator[q.Name]:
    return (each for each in records(query) if isinstance(each, q.Name))
