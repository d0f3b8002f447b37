"""What may stand at the cursor of a query that is being typed.

The parser's own state tells: which words of the language, and whether a name, and
then which kinds of name, from the last word that is still waiting for one. Names
themselves are known elsewhere; a caller looks up those of the kinds offered.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import Enum

from abluent.grammar.common.lalr import Stack, Stuck
from abluent.grammar.common.record import Record, replace
from abluent.grammar.query.lex import Lexeme, lex
from abluent.grammar.query.read import query_tables
from abluent.grammar.query.words import CONDITION, spellings


class NounKind(Enum):
    """What a name can be the name of, in words."""

    PRODUCT = "a product"
    KIND = "a kind of product"
    INGREDIENT = "an ingredient"
    CLASS = "a class of ingredients"
    FILM = "a film"
    SET = "a set you named"
    NEW = "a new name"
    SAYING = "a saying"


_THINGS = frozenset({NounKind.INGREDIENT, NounKind.CLASS, NounKind.SET})
_FILMS = _THINGS | {NounKind.FILM}
_PRODUCTS = frozenset({NounKind.PRODUCT, NounKind.KIND, NounKind.SET})
_ANY = _FILMS | _PRODUCTS
_KINDS = frozenset({NounKind.CLASS, NounKind.KIND, NounKind.SET})
_WANTED = {
    **dict.fromkeys(("CLEAR", "LEAVE", "FOR", "ENOUGH_FOR"), _FILMS),
    **dict.fromkeys(("HARDER_THAN", "EASIER_THAN"), _FILMS),
    **dict.fromkeys(("CONTAIN", "WITH", "WITHOUT", "HAD", "HIDE"), _THINGS),
    **dict.fromkeys(("FROM", "AMONG", "WHAT_IS_IN", "SUPPOSE", "COMPARE"), _PRODUCTS),
    **dict.fromkeys(("MILDER_THAN", "HARSHER_THAN"), _PRODUCTS),
    **dict.fromkeys(("STRONGER_THAN", "LEFT_BY"), _PRODUCTS),
    "CLEARED_BY": _PRODUCTS | _THINGS,
    **dict.fromkeys(("HOW_MILD", "HOW_STRONG", "RANK"), _PRODUCTS),
    "BEFORE": _THINGS,
    **dict.fromkeys(("WHICH", "WHAT", "HOW_MANY", "WERE", "THOSE"), _KINDS),
    **dict.fromkeys(("WHAT_MILDEST", "WHAT_STRONGEST"), _KINDS),
    **dict.fromkeys(("LET", "AS"), frozenset({NounKind.NEW})),
    "NEED": _PRODUCTS | _THINGS,
    "FORGET": frozenset({NounKind.SET}),
}
"""The kinds of name that a word waits for; any kind, where it is not listed."""
_ASIDE = frozenset(
    "COMMA AND OR LPAR EXCEPT NUMBER OF EVERY SOME NO NOT ONLY ARTICLE AT_LEAST "
    "AT_MOST EXACTLY".split()
)
"""Words that a name may follow whatever it is the name of."""
_EACH_ITS_OWN = frozenset({CONDITION})
_NAMING = frozenset("QUOTED WORD THING THOSE MY_SHELF RPAR".split())
_OPENING = {'"': '"', "\u201c": "\u201d", "\u201e": "\u201c", "\xab": "\xbb"}


class WordOffer(Record):
    """A word of the language, to be put in place of the text from `start` on."""

    text: str
    start: int


class NounOffer(Record):
    """A name of one of the kinds may be put in place of the text from `start` on.

    `typed` is what there is of it, without its quote mark; `quoted` tells whether
    it has one.
    """

    kinds: frozenset[NounKind]
    start: int
    typed: str
    quoted: bool = False


class Offers(Record):
    """What may stand at the cursor."""

    words: tuple[WordOffer, ...] = ()
    noun: NounOffer | None = None
    complete: bool = False
    """The text before the cursor is a whole query."""


def complete(text: str) -> Offers:
    """What may come at the end of a text, or instead of what it ends in.

    Args:
        text: a query up to the cursor.
    """
    opened = _open_quote(text)
    if opened is not None:
        kinds = nouns_at(stacks(text[:opened]))
        noun = NounOffer(kinds, opened, text[opened + 1 :], quoted=True)
        return Offers(noun=noun if kinds else None)
    return Offers(tuple(_words(text)), _noun(text), _is_whole(text))


def _open_quote(text: str) -> int | None:
    """The place of a quote mark that is not closed."""
    opened: int | None = None
    for at, mark in enumerate(text):
        if opened is None:
            opened = at if mark in _OPENING else None
        elif mark in (_OPENING[text[opened]], '"'):
            opened = None
    return opened


def stacks(text: str) -> list[Stack]:
    """The states in which a text can leave the parser.

    An `and` or a comma at its end, `and not` too, may yet join nouns or clauses.
    """
    words = lex(text, whole=False)
    read = [_fed(words)]
    last = len(words) - 1
    while last >= 0 and words[last].kind in ("NOT", "LPAR"):
        last -= 1
    if last >= 0 and words[last].kind in ("AND", "OR", "COMMA"):
        joint = "OR_ELSE" if words[last].kind == "OR" else "AND_ALSO"
        joined = replace(words[last], kind=joint)
        read.append(_fed([*words[:last], joined, *words[last + 1 :]]))
    return [stack for stack in read if stack is not None]


def _fed(words: Iterable[Lexeme]) -> Stack | None:
    stack = Stack(query_tables())
    try:
        for word in words:
            stack.feed(word)
    except Stuck:
        return None
    return stack


def nouns_at(read: Iterable[Stack]) -> frozenset[NounKind]:
    """The kinds of name that may come next."""
    kinds: frozenset[NounKind] = frozenset()
    for stack in read:
        if stack.would("WORD"):
            kinds |= _wanted(stack)
        elif stack.waiting()[-1:] == ("WHAT_OF_SAYING",):
            kinds |= {NounKind.SAYING}
    return kinds


def _wanted(stack: Stack) -> frozenset[NounKind]:
    """The kinds of name that the last waiting word waits for."""
    passed = False
    waiting = stack.waiting()
    for at, kind in reversed(list(enumerate(waiting))):
        if kind in _NAMING or not kind:
            passed = True
        elif kind in ("IS", "ISNT"):
            asked = all(before in ("WHY", "NOT", "") for before in waiting[:at])
            return _ANY if asked and not passed else _KINDS
        elif kind not in _ASIDE:
            return _WANTED.get(kind, _ANY)
    return _ANY


def _noun(text: str) -> NounOffer | None:
    """The name that the text ends in, or that may come next."""
    words = lex(text, whole=False)
    first = len(words)
    while first and words[first - 1].kind in ("WORD", "NUMBER"):
        first -= 1
    while first < len(words) and words[first].kind == "NUMBER":
        first += 1
    start = words[first].start if first < len(words) else len(text)
    kinds = nouns_at(stacks(text[:start]))
    if not kinds or (start == len(text) and _within_word(text)):
        return None
    return NounOffer(kinds, start, text[start:])


def _within_word(text: str) -> bool:
    """Whether what is typed next would go on with the last word, hyphen or not."""
    words = lex(text, whole=False)
    if not words or words[-1].end < len(text):
        return text[-1:].isalnum()
    return text[-1:].isalnum() or words[-1].kind == "WORD"


def _words(text: str) -> Iterator[WordOffer]:
    """The words and phrases that may come next, or that the text has begun."""
    found: dict[str, WordOffer] = {}
    for start in _starts(text):
        typed = " ".join(text[start:].lower().split())
        typed += " " if typed and text[-1:].isspace() else ""
        for spelling in _spelt(stacks(text[:start]), typed):
            found.setdefault(spelling, WordOffer(spelling, start))
    yield from sorted(found.values(), key=lambda offer: offer.text)


def _starts(text: str) -> Iterator[int]:
    """Where a phrase that the text ends in can have begun: up to four words ago."""
    at = len(text)
    if not _within_word(text):
        yield at
    for _ in range(4):
        before = text[:at].rstrip()
        at = max(before.rfind(" "), before.rfind("(")) + 1
        if not before:
            return
        yield at


def _spelt(read: Iterable[Stack], typed: str) -> Iterator[str]:
    """For each kind of word that may come next, its first fitting spelling.

    Of a kind whose spellings differ in meaning, every fitting one.
    """
    accepted = {kind for stack in read for kind in stack.accepts()}
    if "AND_ALSO" in accepted:
        accepted |= {"AND", "OR"}
    for kind in accepted & spellings().keys():
        fitting = [
            spelling
            for spelling in spellings()[kind]
            if spelling.startswith(typed)
            and spelling != typed
            and spelling[0].isalpha()
        ]
        yield from fitting if kind in _EACH_ITS_OWN else fitting[:1]


def _is_whole(text: str) -> bool:
    return any(stack.would("$END") for stack in stacks(text))
