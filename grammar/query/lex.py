"""Query text to words: names, numbers, quoted texts and the language's own.

The reading needs no grammar: a word of the language is one wherever it stands,
except that a few count only beside a number (`at 5 %`, `first 3`, `2 of`).
What an `and` or a comma joins is settled here too, by the word after it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from abluent.grammar.common.record import Record
from abluent.grammar.query.words import CONDITION, Phrase, phrases, plain

# Quotes may be straight, curly or angled; a mark of another kind closes too where
# a phone has put it. Written by number, because many of them look alike.
_OPEN, _SHUT = "\u201c\u201e", "\u201d\u201c"
_DASH = "\u2013"
_PIECE = re.compile(
    rf"""
      (?P<QUOTED> "(?:[^"\n]|"")*"
                | [{_OPEN}][^{_OPEN}{_SHUT}"\n]*[{_SHUT}"]
                | \xab[^\xbb\n]*\xbb
                | \u2018[^\n]*?\u2019(?!\w) | '[^\n]*?'(?!\w) )
    | (?P<NUMBER> \d+(?:\.\d+)?
                  (?= $ | [\s%:)] | ,(?!\d) | [-{_DASH}]\d+(?:\.\d+)?\s*% ) )
    | (?P<MARK> [,:()%] | (?<=\d)[-{_DASH}](?=\d+(?:\.\d+)?\s*%) )
    | (?P<WORD> (?: [^\s,:;()%"?`<>={{}}{_OPEN}{_SHUT}\xab\xbb] | (?<=\d),(?=\d) )+ )
    | (?P<STRAY> \S )
    """,
    re.VERBOSE,
)
_ENDING = re.compile(r"[\s?.!]*$")
_MY = "my"
AFTER_NUMBER = frozenset({"OF", "TO", "PERCENT", "ROUNDS"})
BEFORE_NUMBER = frozenset({"AT", "FIRST", "TO", "AFTER"})
VERBS = frozenset(
    "DOES DOESNT IS ISNT CLEAR LEAVE STAY EVAPORATE ENDS STARTS CONTAIN HIDE NEED "
    "THAT PARTLY AT_LEAST_PARTLY PERHAPS SURELY RIGHTLY_SAY RESEMBLE".split()
)
EXTENTS = frozenset({"PARTLY", "AT_LEAST_PARTLY", "PERHAPS", "SURELY"})
LAST = "_SO"
"""Ends the kind of a word that is said after the verb it belongs to."""
NOUNS = frozenset(
    "QUOTED WORD THING THOSE MY_SHELF EVERYTHING ANYTHING NOTHING LPAR EVERY SOME "
    "NO NOT ONLY ARTICLE AT_LEAST AT_MOST EXACTLY ABOVE BELOW".split()
)

_NAMED = frozenset(
    "QUOTED WORD NUMBER THING THOSE MY_SHELF EVERYTHING ANYTHING NOTHING RPAR ROUNDS "
    "ON_MY_SHELF CIRCUMSTANCE".split()
)
"""What may end that which is cleared."""


class Lexeme(Record):
    """One word of a query: its kind, its text, and where it stood."""

    kind: str
    text: str
    start: int
    end: int


def lex(text: str, *, whole: bool = True) -> list[Lexeme]:
    """The words of a query.

    Args:
        text: the query.
        whole: it is all there; a question mark or full stop at its end is dropped.
    """
    last = _ending(text) if whole else len(text)
    pieces = [
        Lexeme(str(found.lastgroup), found.group(), found.start(), found.end())
        for found in _PIECE.finditer(text, 0, last)
    ]
    return _join(list(_after_its_verb(list(_mine(list(_keywords(text, pieces)))))))


def _after_its_verb(lexemes: list[Lexeme]) -> Iterator[Lexeme]:
    """How far a film goes may be said last: `clear gums at least partly`."""
    cleared = False
    for at, word in enumerate(lexemes):
        before, after = lexemes[at - 1 : at], lexemes[at + 1 : at + 2]
        last = cleared and word.kind in EXTENTS and before[0].kind in _NAMED
        if last and not (after and after[0].kind == "CLEAR"):
            yield Lexeme(f"{word.kind}{LAST}", word.text, word.start, word.end)
        else:
            yield word
        cleared = cleared or word.kind == "CLEAR"


def _mine(lexemes: list[Lexeme]) -> Iterator[Lexeme]:
    """`my washes` is said of `washes on my shelf`; a name may hold the word too."""
    at, before = 0, ""
    while at < len(lexemes):
        word = lexemes[at]
        last = at + 1
        while last < len(lexemes) and lexemes[last].kind == "WORD":
            last += 1
        mine = word.kind == "WORD" and plain(word.text) == _MY and before != "WORD"
        if mine and last > at + 1:
            yield from lexemes[at + 1 : last]
            end = lexemes[last - 1].end
            yield Lexeme("ON_MY_SHELF", word.text, end, end)
        else:
            last = at + 1
            yield word
        at, before = last, lexemes[last - 1].kind


def _ending(text: str) -> int:
    found = _ENDING.search(text)
    return found.start() if found else len(text)


def _keywords(text: str, pieces: list[Lexeme]) -> Iterator[Lexeme]:
    """Put the words of the language in the place of the pieces that spell them."""
    at = 0
    before = ""
    while at < len(pieces):
        phrase = _phrase_at(pieces, at, before)
        if phrase is None:
            lexeme = pieces[at]
            at += 1
        else:
            first, last = pieces[at], pieces[at + len(phrase.words) - 1]
            spelt = text[first.start : last.end]
            lexeme = Lexeme(phrase.kind, spelt, first.start, last.end)
            at += len(phrase.words)
        before = lexeme.kind
        yield lexeme


def _phrase_at(pieces: list[Lexeme], at: int, before: str) -> Phrase | None:
    if pieces[at].kind not in ("WORD", "MARK"):
        return None
    for phrase in phrases().get(plain(pieces[at].text), ()):
        end = at + len(phrase.words)
        words = tuple(plain(piece.text) for piece in pieces[at:end])
        if words == phrase.words and _counts(phrase.kind, before, pieces[end:]):
            return phrase
    return None


def _counts(kind: str, before: str, rest: list[Lexeme]) -> bool:
    """Whether a word that needs a number beside it has one (or may yet get it)."""
    if kind in AFTER_NUMBER and before != "NUMBER":
        return False
    return kind not in BEFORE_NUMBER or not rest or rest[0].kind == "NUMBER"


def _join(lexemes: list[Lexeme]) -> list[Lexeme]:
    """Settle what each comma, `and` and `or` joins: nouns or whole clauses."""
    joined = []
    for at, lexeme in enumerate(lexemes):
        kind = lexeme.kind
        if kind in ("COMMA", "AND", "OR"):
            rest = lexemes[at + 1 :]
            if _starts_clause(rest):
                kind = "OR_ELSE" if kind == "OR" else "AND_ALSO"
            elif kind == "COMMA" and rest and rest[0].kind not in NOUNS:
                continue
            elif kind == "AND" and rest and rest[0].kind == CONDITION:
                continue
        joined.append(Lexeme(kind, lexeme.text, lexeme.start, lexeme.end))
    return joined


def _starts_clause(rest: list[Lexeme]) -> bool:
    for lexeme in rest:
        if lexeme.kind not in ("LPAR", "NOT"):
            return lexeme.kind in VERBS
    return False
