"""Free speech cut into pieces: names, and words by what they do.

Names are known elsewhere: a `Lexicon` is handed in, which finds the longest name and
mends a word that is a slip of one it knows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Protocol

from abluent.grammar.common.record import Record, replace
from abluent.grammar.phrase.book import (
    Entry,
    longest,
    phrases,
    phrases_in,
    plain,
    single_words,
    words_in,
)

LONGEST_NAME = 9
_TOKEN = re.compile(
    r"""(?P<number>\d+(?:[.,]\d+)?(?!\w))
      | (?P<word>[^\W_]+(?:['\u2019][^\W_]+)*)
      | (?P<mark>->|=>|<=|[^\w\s])""",
    re.VERBOSE,
)
_WITHIN_NAMES = frozenset("-/&,().'")
NUMBER_WORDS = {
    word: value
    for value, words in enumerate(
        "one first|two second|three third|four fourth|five fifth|six sixth|seven "
        "seventh|eight eighth|nine ninth|ten tenth".split("|"),
        1,
    )
    for word in words.split()
}
_ORDINAL = re.compile(r"(\d+)(?:st|nd|rd|th)")
IDLE = Entry("idle", "words")
UNKNOWN = Entry("unknown", "")
NUMBER = Entry("number", "")
MARK = Entry("mark", "")
NAME = Entry("name", "")
PATTERN = Entry("pattern", "")


class Sense(Record):
    """What a name stands for.

    `text` is how the question language names it; `kinds` what it can be taken for:
    `product`, `kind`, `wash`, `film`, `agent`, `cleanser`, `ingredient`, `class`,
    `value`, `condition`, `water`, `sort` (of a wash; the text is what its label shows,
    as conditions of the language), `promise` (what a pack can say). `one` is the name
    for one member of a class or kind, or the opposite of a condition; `loose` tells
    that the name typed is narrower than what it stands for here.
    """

    text: str
    kinds: frozenset[str]
    one: str = ""
    loose: bool = False


OF_WASHES = frozenset({"wash", "kind", "agent"})
"""What washes in general can be taken for."""
ANY_WASH = Sense("washes", OF_WASHES, "wash")


class HeardSaying(Record):
    """Something that people say, how it is heard, and what can be asked after it.

    `heard` are patterns, as `abluent.grammar.speech.sayings` reads them; `asks` are
    questions of the language; `tells` is what is known of it.
    """

    said: str
    heard: tuple[str, ...]
    asks: tuple[str, ...] = ()
    tells: str = ""


class Lexicon(Protocol):
    """The names that can be meant."""

    def find(self, words: tuple[str, ...]) -> Sense | None:
        """What a name stands for, by its words in lower case."""

    def repair(self, word: str) -> str:
        """The word of a name that a word is a slip of; empty if there is none."""

    def sayings(self) -> Sequence[HeardSaying]:
        """What people say, how each is heard, and what can be asked after it."""


class Token(Record):
    """One word, number or mark, and where it stood; `close` if nothing is before."""

    text: str
    start: int
    end: int
    sort: str
    close: bool


class Piece(Record):
    """Some words that do one thing together.

    `other` is what else they may do; `slip` tells that they were mended.
    """

    entry: Entry
    words: tuple[str, ...]
    start: int
    end: int
    sense: Sense | None = None
    other: tuple[Entry, ...] = ()
    value: str = ""
    slip: bool = False

    @property
    def role(self) -> str:
        """Section and key as one word."""
        return f"{self.entry.section}:{self.entry.key}"

    def does(self, *roles: str) -> bool:
        """Whether it does one of some things, or may do it."""
        if self.role in roles:
            return True
        return any(f"{e.section}:{e.key}" in roles for e in self.other)


def tokens(text: str) -> list[Token]:
    """The words of a text."""
    found: list[Token] = []
    end = 0
    for match in _TOKEN.finditer(text):
        close = match.start() == end and bool(found)
        word = plain(match.group())
        found.append(
            Token(word, match.start(), match.end(), str(match.lastgroup), close)
        )
        end = match.end()
    return found


def cut(text: str, lexicon: Lexicon) -> list[Piece]:
    """The pieces of a text, in order."""
    read = tokens(text)
    words = [each.text for each in mended(read, lexicon)]
    found: list[Piece] = []
    at = 0
    while at < len(read):
        other = _the_other(read, found, at, lexicon)
        piece, at = other or _next(read, words, at, lexicon)
        found.append(piece)
    return found


def _the_other(
    read: Sequence[Token], found: Sequence[Piece], at: int, lexicon: Lexicon
) -> tuple[Piece, int] | None:
    """`…, or the sodium one`: the last name, with another first word."""
    if at + 2 >= len(read) or read[at].text != "the":
        return None
    if read[at + 2].text not in words_in("that one of two"):
        return None
    before = [e for e in found if e.sense and "ingredient" in e.sense.kinds]
    if not before:
        return None
    last = before[-1].sense
    rest = (
        tuple(e.text for e in tokens(last.text)[1:] if e.sort != "mark") if last else ()
    )
    sense = lexicon.find((read[at + 1].text, *rest)) if rest else None
    if sense is None or sense == last:
        return None
    words = tuple(token.text for token in read[at : at + 3])
    start, end = read[at].start, read[at + 2].end
    return Piece(NAME, words, start, end, sense, slip=True), at + 3


def mended(read: Sequence[Token], lexicon: Lexicon) -> list[Token]:
    """The words of a text, each slip as the word that it was meant for."""
    return [replace(each, text=_mended(each, lexicon)) for each in read]


def _mended(token: Token, lexicon: Lexicon) -> str:
    word = token.text
    known = word in single_words() or word in NUMBER_WORDS
    if token.sort != "word" or len(word) < 5 or known:
        return word
    return lexicon.repair(word) or word


def _next(
    read: Sequence[Token], mended: Sequence[str], at: int, lexicon: Lexicon
) -> tuple[Piece, int]:
    pattern = _pattern(read, at) or _quoted(read, at, lexicon)
    if pattern is not None:
        return pattern
    name = _name(read, mended, at, lexicon)
    spelt = _phrase(read, mended, at)
    if name is not None and (spelt is None or name[1] >= spelt[1] or _wins(spelt[0])):
        if spelt is not None and spelt[1] == name[1]:
            return replace(name[0], other=spelt[0].other_too()), name[1]
        return name
    if spelt is not None:
        return spelt[0].piece, spelt[1]
    token = read[at]
    entry = {"number": NUMBER, "mark": MARK}.get(token.sort, UNKNOWN)
    value = token.text.replace(",", ".")
    if token.text in NUMBER_WORDS:
        entry, value = NUMBER, str(NUMBER_WORDS[token.text])
    elif ordinal := _ORDINAL.fullmatch(token.text):
        entry, value = NUMBER, ordinal[1]
    return Piece(entry, (token.text,), token.start, token.end, value=value), at + 1


def _pattern(read: Sequence[Token], at: int) -> tuple[Piece, int] | None:
    """Letters that a name ends in, with a dash before them: `-ate`."""
    token = read[at]
    if token.text not in "-\u2013*" or at + 1 == len(read) or not read[at + 1].close:
        return None
    if (at and token.close and read[at - 1].sort != "mark") or read[
        at + 1
    ].sort != "word":
        return None
    after, end = read[at + 1], at + 2
    value, stop = "*" + after.text, after.end
    if end < len(read) and read[end].text in "-\u2013*" and read[end].close:
        if end + 1 == len(read) or not read[end + 1].close:
            # `-silox-`: anywhere in the name.
            value, stop, end = f"{value}*", read[end].end, end + 1
    return Piece(PATTERN, (after.text,), token.start, stop, value=value), end


_OF_NAMES = words_in("of names")
_QUOTES = frozenset("\"'\u2018\u2019\u201c\u201d\xab\xbb")


def _quoted(
    read: Sequence[Token], at: int, lexicon: Lexicon
) -> tuple[Piece, int] | None:
    """A word in quotes that is no name, where names are spoken of: a part of one."""
    if at + 2 >= len(read) or read[at].text not in _QUOTES:
        return None
    word, shut = read[at + 1], read[at + 2]
    if word.sort != "word" or shut.text not in _QUOTES:
        return None
    spoken = any(token.text in _OF_NAMES for token in read)
    if not spoken or word.text in single_words() or lexicon.find((word.text,)):
        return None
    value = f"*{word.text}*"
    return Piece(PATTERN, (word.text,), word.start, word.end, value=value), at + 3


class _Spelt(Record):
    piece: Piece

    def other_too(self) -> tuple[Entry, ...]:
        return (self.piece.entry, *self.piece.other)


def _wins(spelt: _Spelt) -> bool:
    """Whether a longer phrase gives way to a name: idle words do."""
    return spelt.piece.entry.section == "idle"


def _name(
    read: Sequence[Token], mended: Sequence[str], at: int, lexicon: Lexicon
) -> tuple[Piece, int] | None:
    """The longest name at a place, as printed or with slips mended."""
    if read[at].sort == "mark":
        return None
    for end in _ends(read, at):
        words = tuple(t.text for t in read[at:end] if t.sort != "mark")
        slipped = tuple(
            word
            for word, t in zip(mended[at:end], read[at:end], strict=True)
            if t.sort != "mark"
        )
        sense = _led(read, at, words, lexicon) or lexicon.find(words)
        slip = sense is None and slipped != words
        if slip:
            sense = lexicon.find(slipped)
            lone = sense is not None and "product" in sense.kinds and len(words) == 1
            if lone and not _is_shortened(words[0], slipped[0]):
                # `morning` is no slip for the first word of a product.
                sense = None
        if sense is not None:
            start, stop = read[at].start, read[end - 1].end
            slip = slip or sense.loose
            return Piece(NAME, words, start, stop, sense, slip=slip), end
    return None


def _led(
    read: Sequence[Token], at: int, words: tuple[str, ...], lexicon: Lexicon
) -> Sense | None:
    """`all of the honey`: a product, where `the` belongs to the phrase before."""
    if not at or read[at - 1].text != "the":
        return None
    sense = lexicon.find(("the", *words))
    return sense if sense is not None and "product" in sense.kinds else None


def _is_shortened(word: str, meant: str) -> bool:
    """Whether one word is the other with letters left out, in their order."""
    short, long = sorted((word, meant), key=len)
    rest = iter(long)
    return len(short) < len(long) and all(letter in rest for letter in short)


def _ends(read: Sequence[Token], at: int) -> Iterator[int]:
    """Where a name that begins at a place can end, the farthest first."""
    end, count, stops = at, 0, []
    while end < len(read) and count < LONGEST_NAME:
        token = read[end]
        if token.sort == "mark":
            joined = token.text in _WITHIN_NAMES and _is_joint(read, end)
            if not joined:
                break
        else:
            count += 1
            stops.append(end + 1)
        end += 1
    return reversed(stops)


def _is_joint(read: Sequence[Token], at: int) -> bool:
    """Whether a mark stands within a word: `PEG-12`, `VP/VA`, `1,2-`."""
    after = read[at + 1] if at + 1 < len(read) else None
    token = read[at]
    return token.close and after is not None and after.close


def _phrase(
    read: Sequence[Token], mended: Sequence[str], at: int
) -> tuple[_Spelt, int] | None:
    """The longest phrase of the book at a place."""
    known = phrases()
    for length in range(min(longest(), len(read) - at), 0, -1):
        for words in {
            tuple(t.text for t in read[at : at + length]),
            tuple(mended[at : at + length]),
        }:
            entries = known.get(words)
            if entries:
                first, last = read[at], read[at + length - 1]
                return (
                    _Spelt(
                        Piece(
                            entries[0],
                            words,
                            first.start,
                            last.end,
                            other=entries[1:],
                            slip=words != tuple(t.text for t in read[at : at + length]),
                        )
                    ),
                    at + length,
                )
    return None


def is_of_its_name(piece: Piece, lexicon: Lexicon) -> bool:
    """Whether a word is one of the name of one product, and no name besides."""
    sense = piece.sense
    if sense is None or "product" not in sense.kinds:
        return False
    words = [each for each in piece.words if each not in _LEADING]
    other = lexicon.find(tuple(words))
    alone = other is None or other.text == sense.text
    own = {*sense.text.casefold().split()}
    return alone and all(own & {each, each.removesuffix("s")} for each in words)


_LEADING = frozenset(("the", "my", "our", "your"))


def says_any(pieces: Sequence[Piece], name: str) -> bool:
    """Whether a phrase of a set of `sets.toml` stands in a text, however it is cut."""
    words = tuple(word for piece in pieces for word in piece.words)
    return any(
        words[at : at + len(phrase)] == phrase
        for phrase in phrases_in(name)
        for at in range(len(words))
    )
