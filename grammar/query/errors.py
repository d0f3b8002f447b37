"""What to say of a question that cannot be read, and what to ask instead.

    GrammarError
    └── QueryError       with the nearest question

Common mistakes and their answers are data, in `query_mistakes_*.toml`; for any other
the parser's own state tells what could have stood there.
"""

from __future__ import annotations

import re
import tomllib
from functools import lru_cache
from typing import Any

import abluent.grammar.query
from abluent.grammar.common.errors import GrammarError, Span
from abluent.grammar.common.lalr import END, Stack, Stuck
from abluent.grammar.common.packaged import packaged_text
from abluent.grammar.common.record import Record
from abluent.grammar.query.build import Misread
from abluent.grammar.query.complete import NounKind, nouns_at
from abluent.grammar.query.lex import Lexeme, lex
from abluent.grammar.query.printer import print_query
from abluent.grammar.query.read import read_query
from abluent.grammar.query.repair import near_words, repaired
from abluent.grammar.query.words import spellings

_TABLES = ("forms", "lists", "measures", "answers")
_QUOTES = str.maketrans({"\u201c": '"', "\u201d": '"', "\u201e": '"', "\u2019": "'"})
_OPENING = frozenset("\"'\u201c\u201e\u2018\xab")
_SHOWN = 8
_FIRST = (
    "CLEAR LEAVE CONTAIN FROM AND AND_ALSO OR EXCEPT THAT DOES IS WHAT WHICH WHY "
    "EVERYTHING ANYTHING EVERY QUOTED NUMBER PERCENT COLON RPAR"
).split()
"""The kinds of word that are worth telling first."""
_LAST = frozenset(
    "ABOVE BELOW AT_LEAST AT_MOST EXACTLY ARTICLE ENDING STARTING".split()
)
_NAMED = {
    "QUOTED": "a text in quotes",
    "NUMBER": "a number",
    "COMMA": "a comma",
    "AND_ALSO": "`and`",
    "OR_ELSE": "`or`",
    END: "the end of the question",
}


class QueryError(GrammarError):
    """A text that is no question; `nearest` is one that is, or empty.

    `could` is what could have stood there, where it is not part of the message.
    """

    def __init__(
        self,
        message: str,
        text: str,
        span: Span,
        expected: tuple[str, ...] = (),
        nearest: str = "",
    ) -> None:
        hint = f"Ask: {nearest}" if nearest else ""
        super().__init__(message, text, span, expected, hint)
        self.nearest = nearest
        self.could: tuple[str, ...] = ()


class Mistake(Record):
    """One row of the table of mistakes, which says what each field means."""

    wrong: str
    pattern: str
    says: str
    right: str
    instead: str | None = None
    reads: bool = False

    def find(self, text: str) -> re.Match[str] | None:
        """Where the mistake stands in a text."""
        return re.search(self.pattern, text, re.IGNORECASE)

    def mended(self, found: re.Match[str]) -> str:
        """The text with what should stand in the place of the mistake."""
        if self.instead is None:
            return ""
        text = found.string
        return text[: found.start()] + found.expand(self.instead) + text[found.end() :]


@lru_cache(maxsize=1)
def mistakes() -> tuple[Mistake, ...]:
    """The table of mistakes, in its order."""
    return tuple(Mistake(**row) for name in _TABLES for row in _rows(name))


def _rows(name: str) -> list[dict[str, Any]]:
    content = packaged_text(abluent.grammar.query, f"mistakes_{name}.toml")
    rows: list[dict[str, Any]] = tomllib.loads(content)["mistake"]
    return rows


def advice(text: str, name: Span | None = None) -> QueryError | None:
    """What to say of a question that reads well and has a name for nothing.

    Args:
        text: a question in which the engine did not know a name.
        name: where the name stands; None is anywhere.
    """
    place = name or Span(0, len(text))
    return _known(text, place, reads=True) or _misspelt(text, place)


def _misspelt(text: str, place: Span) -> QueryError | None:
    """A word of the language, spelt wrong, that was read as part of a name."""
    for word in lex(text):
        inside = place.start <= word.start and word.end <= place.end
        near = near_words(word.text) if word.kind == "WORD" and inside else []
        for _, spelling in near:
            nearest = _canonical(text[: word.start] + spelling + text[word.end :])
            if nearest:
                message = f"`{word.text}` was read as a name; is it `{spelling}`?"
                return QueryError(
                    message, text, Span(word.start, word.end), (), nearest
                )
    return None


def unreadable(text: str, word: Lexeme | None, stack: Stack) -> QueryError:
    """What to say of a text that cannot be read.

    Args:
        text: the text.
        word: the word that cannot stand where it does; None is the end.
        stack: the parser as it stood before that word.
    """
    end = len(text.rstrip())
    span = Span(word.start, word.end) if word else Span(end, end)
    known = _known(text, span, reads=False)
    if known is not None:
        return known
    message = _message(text, word, stack)
    return QueryError(message, text, span, expected(stack), _canonical(repaired(text)))


def misread(text: str, message: str, span: Span) -> QueryError:
    """What to say of words that the grammar allows and that mean nothing."""
    return QueryError(message, text, span, (), _canonical(_bracketed(text, span)))


def _bracketed(text: str, span: Span) -> str:
    """A mixed list with brackets around the members before its joint changes."""
    depth, first = 0, ""
    for word in lex(text):
        if span.start <= word.start and word.end <= span.end:
            depth += (word.kind == "LPAR") - (word.kind == "RPAR")
            joint = word.text.lower()
            if depth == 0 and joint in ("and", "or"):
                first = first or joint
                if joint != first:
                    start, at = span.start, word.start
                    return f"{text[:start]}({text[start:at]}) {text[at:]}"
    return ""


def _known(text: str, stuck: Span, *, reads: bool) -> QueryError | None:
    indent = len(text) - len(text.lstrip())
    plain = text.translate(_QUOTES).strip().rstrip("?.! ")
    for mistake in mistakes():
        found = mistake.find(plain) if mistake.reads is reads else None
        if found is None:
            continue
        nearest = _mended(mistake, found)
        if nearest or mistake.instead is None:
            start, end = found.span("at" if "at" in found.groupdict() else 0)
            whole = (start, end) == (0, len(plain))
            span = stuck if whole else Span(start + indent, end + indent)
            return QueryError(mistake.says, text, span, (), nearest)
    return None


def _mended(mistake: Mistake, found: re.Match[str], further: int = 2) -> str:
    """The question without a mistake, and without others that it may have besides."""
    text = mistake.mended(found)
    nearest = _canonical(text)
    if nearest or not further:
        return nearest
    for other in mistakes():
        again = other.find(text) if other is not mistake else None
        if again is not None and other.instead is not None:
            nearest = _mended(other, again, further - 1)
            if nearest:
                break
    return nearest


def _canonical(text: str) -> str:
    """A question in its printed wording; empty if it cannot be read."""
    try:
        return print_query(read_query(text))
    except (Stuck, Misread):
        return ""


def _message(text: str, word: Lexeme | None, stack: Stack) -> str:
    if word is None:
        asked = text.strip("?.! \t\n")
        return "The question stops too early." if asked else "Nothing is asked."
    if word.text in _OPENING:
        return "A quote mark is opened here and not closed."
    if word.kind in spellings() and stack.would("QUOTED"):
        return (
            f"A name is lacking before `{word.text}`; a name that has this word in it "
            "must be in quotes."
        )
    if stack.would("NUMBER") and not stack.would("QUOTED"):
        return f"A number in digits must stand here, not `{word.text}`."
    return _beside(text, word) or f"`{word.text}` cannot stand here."


def _beside(text: str, word: Lexeme) -> str:
    """What to say of two names with nothing between them."""
    before = lex(text[: word.start])[-1:]
    if not before or not {before[0].kind, word.kind} <= {"WORD", "QUOTED"}:
        return ""
    return f"Something is lacking between `{before[0].text}` and `{word.text}`."


def expected(stack: Stack) -> tuple[str, ...]:
    """What could stand at a place, in words; the usual things, if there are many."""
    accepted = stack.accepts()
    kinds = sorted(accepted, key=lambda kind: (_rank(kind), kind))
    names: tuple[str, ...] = ()
    if "WORD" in accepted:
        wanted = nouns_at([stack])
        names = tuple(kind.value for kind in NounKind if kind in wanted)
        kinds = [kind for kind in kinds if kind not in ("WORD", "QUOTED")]
    spelt = spellings()
    words = dict.fromkeys(
        _NAMED.get(kind) or f"`{spelt[kind][0]}`"
        for kind in kinds
        if kind in _NAMED or kind in spelt
    )
    return (*names, *words)[:_SHOWN]


def _rank(kind: str) -> int:
    if kind in _FIRST:
        return _FIRST.index(kind)
    return len(_FIRST) + (kind in _LAST)
