"""Telling a list from the sentences that stand around it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import TypeAlias

from abluent.grammar.label.cut import Fragment
from abluent.grammar.label.names import Namer, Nobody, identify
from abluent.grammar.label.split import run_on
from abluent.grammar.label.words import LabelWords

# Places of one sentence, as offsets.
Places: TypeAlias = list[tuple[int, int]]
# What a place is, empty for an ingredient, and where it stands.
Verdict: TypeAlias = tuple[str, int, int]

_MARK = re.compile(r"\s*(?:[*†‡✝§°^¹²³⁴⁵⁶⁷⁸⁹⁰ºª]+\d*|\(\*+\))\s*")
# Whole words: the letters in `42O9O` are none.
_LETTERS = re.compile(r"(?<!\w)[^\W\d_]+(?:'[^\W\d_]+)?(?!\w)")
_NUMBER = re.compile(r"\d{1,2}(?:\s*,\s*\d{1,2})*")
_LOCANT = re.compile(r"\d{1,2}-\s?[^\W\d_]")
_ENDS_IN_NUMBER = re.compile(r"-\s?\d{1,2}$")
_COLOUR_INDEX = re.compile(r"\d{5}")
# A figure or marks that stand beside a name.
_BESIDE = re.compile(
    r"[(\[]?\s*[<>≤≥~]?\s*\d+(?:[.,]\d+)?\s*%(?:\s*[wvmp]/[wvmp])?\s*[)\]]?"
    r"|[*†‡✝§°^¹²³⁴⁵⁶⁷⁸⁹⁰ºª®™]+"
)
_AROUND = " \t\n.,:;'\"-•·"
_LONGEST_AND = 12
_LONGEST_RUN = 1000
_LONGEST_NAME = 160
_LONGEST_ASIDE = 300


class Judge:
    """Judges the fragments of one plain text.

    Args:
        plain: the text, cleaned.
        low: its shadow.
        words: the words of labels.
        namer: tells names.
    """

    def __init__(self, plain: str, low: str, words: LabelWords, namer: Namer) -> None:
        self._plain = plain
        self._low = low
        self._words = words
        self._namer = namer
        self._and_ends = re.compile(rf"{words.bracketed}$")
        self._and_begins = re.compile(words.bracketed)
        self._bracketed = re.compile(words.bracketed, re.IGNORECASE)
        self._asking = not isinstance(namer, Nobody)
        self._kept = namer.memory.named_by(words)

    # -- fragments to sentences -----------------------------------------------

    def sentences(self, fragments: Sequence[Fragment]) -> Iterator[Places]:
        """The fragments, joined where a name runs over a line or a comma."""
        sentence: Places = []
        for fragment in fragments:
            here = (fragment.start, fragment.end)
            if not sentence:
                sentence.append(here)
            elif fragment.edge in {"stop", "blank"} or self._footnote(here):
                yield sentence
                sentence = [here]
            elif self._joins(sentence[-1], here, fragment.edge):
                sentence[-1] = (sentence[-1][0], fragment.end)
            else:
                sentence.append(here)
        if sentence:
            yield sentence

    def _joins(self, before: tuple[int, int], here: tuple[int, int], edge: str) -> bool:
        if edge in {"line", "hard"} and self._blended(before, here):
            return True
        if edge == "line":
            return self._runs_over(before, here)
        if edge == "slash":
            return self._same(before, here)
        return edge == "hard" and self._broken_number(before, here)

    def _same(self, before: tuple[int, int], here: tuple[int, int]) -> bool:
        """Whether both sides of a slash name one thing in two languages."""
        found = self._identified(*here)
        return found is not None and found == self._identified(*before)

    def _runs_over(self, before: tuple[int, int], here: tuple[int, int]) -> bool:
        """Whether a name goes on after the end of a line."""
        if here[1] - before[0] > _LONGEST_NAME:
            return False
        if self.known(before[0], here[1]):
            return True
        if self._words.code.fullmatch(self._low, *here):
            # A colour index number may stand alone on a line; other codes don't join.
            alone = _COLOUR_INDEX.fullmatch(self._plain, *here) is not None
            return alone and not self.known(*before)
        if not self.known(*before):
            return True
        return not (self.known(*here) or self._aside(here) or self._prose(here))

    def _blended(self, before: tuple[int, int], here: tuple[int, int]) -> bool:
        """Whether an "(and)" stands at the end of a line between two places."""
        between = self._plain[before[1] : here[0]]
        if not between.isspace() or "\n" not in between:
            return False
        tail = max(before[0], before[1] - _LONGEST_AND)
        if self._and_ends.search(self._low[tail : before[1]]):
            return True
        return self._and_begins.match(self._low, *here) is not None

    def _broken_number(self, before: tuple[int, int], here: tuple[int, int]) -> bool:
        """Whether `1, 2-Hexanediol` was cut at its own comma."""
        if here[1] - before[0] > _LONGEST_NAME:
            return False
        if not _LOCANT.match(self._plain, *here):
            return False
        if _NUMBER.fullmatch(self._plain, *before):
            return True
        return (
            _ENDS_IN_NUMBER.search(self._plain, *before) is not None
            and not self.known(*before)
            and not self.known(*here)
            and self.known(before[0], here[1])
        )

    # -- sentences to verdicts ------------------------------------------------

    def verdicts(
        self, sentence: Places, first: bool, opening: bool
    ) -> Iterator[Verdict]:
        """What each place of a sentence is.

        Args:
            sentence: its places.
            first: whether it is the first of its list.
            opening: whether it opens a text without a heading.
        """
        kind = self._whole(sentence, first, opening)
        if kind:
            yield kind, sentence[0][0], sentence[-1][1]
            return
        for before, place, after in zip(
            [None, *sentence], sentence, sentence[1:], strict=False
        ):
            kind = self._single(place)
            amid = before and self.known(*before) and self.known(*after)
            # What stands amid names is one, though its words are those of talk:
            # better an unread name than a lost one.
            yield "" if kind == "prose" and amid else kind, *place
        yield self._single(sentence[-1]), *sentence[-1]

    def _whole(self, sentence: Places, first: bool, opening: bool) -> str:
        """What a sentence is if it is no list."""
        if self._footnote(sentence[0]):
            return "footnote"
        named = self._plainly if first else self._named
        known = sum(map(named, sentence))
        if 2 * known >= len(sentence):
            return ""
        if opening and not known and self._aside(sentence[0]):
            return "aside"
        if len(sentence) <= 2 and all(map(self._prose, sentence)):
            return "prose"
        if first or not self._asking or known:
            return ""
        return self._unlike_names(sentence)

    def _unlike_names(self, sentence: Places) -> str:
        """What a later sentence is in which nothing is known."""
        if len(sentence) == 1 and self._single(sentence[0]):
            return self._single(sentence[0])
        readable = any(self._namer.readable(self._text(*p)) for p in sentence)
        return "" if readable else "prose"

    def _single(self, place: tuple[int, int]) -> str:
        """What one place is if it is no ingredient."""
        if self.known(*place):
            return ""
        short = place[1] - place[0] <= _LONGEST_ASIDE
        if short and self._words.code.fullmatch(self._low, *place):
            return "code"
        if self._aside(place):
            return "aside"
        return "prose" if self._prose(place) else ""

    def _aside(self, place: tuple[int, int]) -> bool:
        short = place[1] - place[0] <= _LONGEST_ASIDE
        if short and self._words.aside.fullmatch(self._low, *place):
            return True
        found = self._words.heading.match(self._low, *place)
        return found is not None and self._words.kind(found.group()) in {
            "aside",
            "absent",
        }

    def _footnote(self, place: tuple[int, int]) -> bool:
        """Whether a place is a mark and what it stands for."""
        mark = _MARK.match(self._plain, *place)
        if mark is None or mark.end() == place[1]:
            return False
        rest = (mark.end(), place[1])
        if self.known(*rest):
            return False
        return (
            self._words.footnote.match(self._low, *rest) is not None
            or self._aside(rest)
            or self._prose(rest)
        )

    def _prose(self, place: tuple[int, int]) -> bool:
        if self.known(*place):
            return False
        found = _LETTERS.findall(self._low, place[0], min(place[1], place[0] + 2000))
        talk = sum(word in self._words.prose for word in found)
        return talk * 4 >= len(found) and talk >= 2

    def known(self, start: int, end: int) -> bool:
        """Whether a stretch is a name as it stands."""
        return self._identified(start, end) is not None

    def _identified(self, start: int, end: int) -> str | None:
        if end - start > _LONGEST_NAME:
            return None
        text = self._text(start, end)
        if "%" in text:
            text = _BESIDE.sub(" ", text).strip(_AROUND)
        return identify(text, self._namer)

    def _plainly(self, place: tuple[int, int]) -> bool:
        return self.known(*place)

    def named(self, start: int, end: int) -> bool:
        """Whether a stretch is a name, or a run of names, with a figure or marks."""
        if end - start > _LONGEST_RUN:
            return False
        text = self._text(start, end)
        if text not in self._kept:
            self._kept[text] = self._is_named(text)
        return self._kept[text]

    def _is_named(self, text: str) -> bool:
        text = _BESIDE.sub(" ", text).strip(_AROUND)
        text = self._bracketed.sub(" & ", text)
        if identify(text, self._namer) is not None:
            return True
        return len(run_on(text, self._words, self._namer).names) > 1

    def told(self, start: int, end: int) -> bool:
        """Whether a stretch is a name with slips in it, or is built like one."""
        return end - start <= _LONGEST_NAME and self._namer.told(self._text(start, end))

    def leads_up(self, start: int, end: int) -> bool:
        """Whether a stretch is words that open a part, such as `made with`."""
        return self._words.heading.fullmatch(self._low, start, end) is not None

    def in_line(self, start: int, end: int) -> bool:
        """Whether no line ends between two places."""
        return "\n" not in self._plain[start:end]

    def _named(self, place: tuple[int, int]) -> bool:
        return self.named(*place)

    def _text(self, start: int, end: int) -> str:
        return self._plain[start:end]
