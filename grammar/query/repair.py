"""The valid question nearest to one that cannot be read.

A few small changes are tried where the parser stuck: a word spelt right, left out,
put in or put in the place of another, and a name put in quotes. Each costs a
little; the cheapest change, or pair of changes, that gives a question is taken.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from functools import lru_cache
from heapq import heappop, heappush
from itertools import count

from abluent.grammar.common.lalr import Stack, Stuck
from abluent.grammar.query.lex import Lexeme, lex
from abluent.grammar.query.read import query_tables
from abluent.grammar.query.words import CONDITION, spellings

Words = tuple[Lexeme, ...]

TRIALS = 150
"""How many changed questions are tried at most; some tens of milliseconds."""
_DEAREST = 2.6
_LIKE = 0.72
_SPELT, _QUOTED, _DROPPED, _ADDED, _CHANGED, _LOST = 0.6, 0.7, 1.0, 1.1, 1.3, 2.0
_GLUE = (
    "QUOTED EVERYTHING AND FROM CLEAR LEAVE CONTAIN DOES IS THAT EXCEPT WHICH WHAT "
    "COLON AT PERCENT RPAR LPAR NAMED BE AS"
).split()
"""The kinds of word that are put in: those that questions most often lack."""
_VERBS = frozenset({"CLEAR", "LEAVE", "CONTAIN", "HIDE", "NEED"})
_WEIGHTY = _VERBS | {"QUOTED", "WORD", "NUMBER"}
"""The kinds of word that are not lightly left out."""
BLANK = "…"
"""The name put in where one is lacking, to be filled in."""


def repaired(text: str) -> str:
    """The nearest question to a text, or an empty text if none is near."""
    order = count()
    queue: list[tuple[float, int, Words]] = [(0.0, next(order), tuple(lex(text)))]
    whole = len(queue[0][2])
    seen: set[tuple[str, ...]] = set()
    trials = 0
    while queue and trials < TRIALS:
        cost, _, words = heappop(queue)
        trials += 1
        stuck = _stuck(words)
        if stuck is None:
            kept = sum(word.end > 0 for word in words)
            return spelled(words) if kept and 2 * kept >= whole else ""
        for added, changed in _changes(words, *stuck):
            key = tuple(f"{word.kind} {word.text}" for word in changed)
            if cost + added <= _DEAREST and key not in seen:
                seen.add(key)
                heappush(queue, (cost + added, next(order), changed))
    return ""


def spelled(words: Sequence[Lexeme]) -> str:
    """Words as a text that is read as them again."""
    return " ".join(word.text for word in words)


def _stuck(words: Words) -> tuple[int, Stack] | None:
    """Where the words stop being a question; None if they are one."""
    stack = Stack(query_tables())
    for at, word in enumerate(words):
        try:
            stack.feed(word)
        except Stuck:
            return at, stack
    return None if stack.would("$END") else (len(words), stack)


def _changes(words: Words, at: int, stack: Stack) -> Iterator[tuple[float, Words]]:
    for place in range(max(0, at - 2), min(at + 2, len(words))):
        yield from _respelt(words, place)
        yield from _in_quotes(words, place)
    yield from _parted(words, at)
    for place in (at - 1, at):
        if 0 <= place < len(words):
            lost = words[place].kind in _WEIGHTY
            cost = _LOST if lost else _DROPPED
            yield cost, words[:place] + words[place + 1 :]
    if at > 1 and [word.kind for word in words[at - 2 : at]] == ["ARTICLE", "WORD"]:
        yield _DROPPED, (*words[: at - 2], *words[at:])
    if at:
        yield _ADDED, (*words[: at - 1], _made("QUOTED"), *words[at - 1 :])
    yield from _put_in(words, at, stack)


def _put_in(words: Words, at: int, stack: Stack) -> Iterator[tuple[float, Words]]:
    """A word that is lacking at a place, or in the place of the one there."""
    accepted = stack.accepts()
    there = words[at].kind if at < len(words) else "QUOTED"
    for kind in _GLUE:
        if kind not in accepted:
            continue
        if kind == "EVERYTHING" and stack.waiting()[-1:] not in (
            ("CLEAR",),
            ("LEAVE",),
        ):
            continue
        yield _ADDED, (*words[:at], _made(kind), *words[at:])
        if there not in ("QUOTED", "WORD") and not {kind, there} <= _VERBS:
            yield _CHANGED, (*words[:at], _made(kind), *words[at + 1 :])


def _parted(words: Words, at: int) -> Iterator[tuple[float, Words]]:
    """The first of several words before a place in quotes, as a name by itself."""
    first = at
    while first and words[first - 1].kind == "WORD":
        first -= 1
    if at - first > 1 and first and words[first - 1].kind in ("IS", "ISNT"):
        word = words[first]
        quoted = Lexeme("QUOTED", f'"{word.text}"', word.start, word.end)
        yield _QUOTED, (*words[:first], quoted, *words[first + 1 :])


def _made(kind: str) -> Lexeme:
    text = f'"{BLANK}"' if kind == "QUOTED" else spellings()[kind][0]
    return Lexeme(kind, text, 0, 0)


def _respelt(words: Words, place: int) -> Iterator[tuple[float, Words]]:
    """A word of the language that a name at a place looks like."""
    word = words[place]
    if word.kind != "WORD" or len(word.text) < 3:
        return
    for kind, spelling in near_words(word.text):
        new = Lexeme(kind, spelling, 0, 0)
        yield _SPELT, (*words[:place], new, *words[place + 1 :])


def near_words(text: str) -> list[tuple[str, str]]:
    """The words of the language that look like a text: kind and spelling."""
    return _near(text.lower(), spellings().get(CONDITION, ()))


@lru_cache(maxsize=256)
def _near(typed: str, conditions: tuple[str, ...]) -> list[tuple[str, str]]:
    found = []
    for kind, row in {**spellings(), CONDITION: conditions}.items():
        for spelling in row:
            like = _likeness(typed, spelling)
            if like >= _LIKE:
                found.append((-like, kind, spelling))
    return [(kind, spelling) for _, kind, spelling in sorted(found)[:3]]


def _likeness(typed: str, spelling: str) -> float:
    """From 0 to 1; letters that changed places count little, a phrase begun as well."""
    if typed == spelling or abs(len(spelling.split(maxsplit=1)[0]) - len(typed)) > 2:
        return 0.0
    if spelling.startswith(f"{typed} ") or sorted(typed) == sorted(spelling):
        return 0.9
    return SequenceMatcher(None, typed, spelling).ratio()


def _in_quotes(words: Words, place: int) -> Iterator[tuple[float, Words]]:
    """The capitalised words around a place, in quotes as one name."""
    if not _is_title(words[place]):
        return
    first = last = place
    while first > 0 and _is_title(words[first - 1]):
        first -= 1
    while last + 1 < len(words) and _is_title(words[last + 1]):
        last += 1
    if first == last and words[place].kind == "WORD":
        return
    run = words[first : last + 1]
    quoted = Lexeme("QUOTED", f'"{spelled(run)}"', run[0].start, run[-1].end)
    yield _QUOTED, (*words[:first], quoted, *words[last + 1 :])


def _is_title(word: Lexeme) -> bool:
    return word.kind != "QUOTED" and word.text[:1].isupper()
