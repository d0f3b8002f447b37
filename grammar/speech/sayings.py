"""Sayings that a base knows something of, found in free speech by their words.

A saying is heard where every group of its words stands in the text; a group is ways of
putting one thing, parted by `|`, and groups are parted by `&`. A group after `!` must
not stand there, and one after `?` need not. What is known of it is
so whichever way round the text has it, so that it can be answered without asking back;
a name that the saying does not speak of is left aside, and then it is asked.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache

from abluent.grammar.common.record import Record, replace
from abluent.grammar.phrase.book import words_of
from abluent.grammar.phrase.pieces import (
    HeardSaying,
    Lexicon,
    Piece,
    Token,
    mended,
    tokens,
)
from abluent.grammar.phrase.reading import Heard, Reading, printed
from abluent.grammar.query import tree as q
from abluent.grammar.query.parse import query_in
from abluent.grammar.speech.parting import is_name
from abluent.grammar.speech.ranking import names_aside
from abluent.grammar.speech.ranking import spans as spans_of

_MOST = 3
_WHOLE = 0.9
"""The share of a text from which a question that keeps its names stands first."""
_MUCH = 0.5
"""The share from which it does where it speaks of more that is named."""
_NEAR = 0.6
"""The share from which it stands before what can be asked after the saying."""
_SOME = 0.5
"""The share that a question of what a saying leaves aside takes at least."""
_Words = tuple[str, ...]
_Span = tuple[int, int]


class Group(Record):
    """Ways of putting one thing.

    `barred` tells that none of them may stand there, `free` that none need.
    """

    ways: tuple[_Words, ...]
    kinds: tuple[str, ...] = ()
    barred: bool = False
    free: bool = False


class Found(Record):
    """A saying that is heard in a text, and the stretches that tell it.

    `named` are those that only a kind of name was asked for.
    """

    saying: HeardSaying
    spans: tuple[_Span, ...]
    named: tuple[_Span, ...] = ()


def with_sayings(
    text: str, pieces: Sequence[Piece], lexicon: Lexicon, heard: Heard
) -> Heard:
    """What a text comes to, with the sayings that are heard in it.

    Args:
        text: as typed.
        pieces: of the text.
        lexicon: knows the sayings.
        heard: what the text is read as besides.
    """
    found = heard_in(text, pieces, lexicon)
    first = heard.readings[0] if heard.readings else None
    if not found or (first is not None and first.sure and not heard.unsettled):
        return heard
    told, *more = [_reading(pieces, each) for each in found[:2]]
    if len(found) > 1 and not _overlap(found[0].spans, found[1].spans):
        # Which of two that share no word is meant is not certain.
        told, *more = (replace(each, sure=False) for each in (told, *more))
    if heard.parts > 1 and told.unread:
        # What it asks of the things that it names, the saying leaves aside.
        kept = [*heard.readings[: heard.parts], told, *heard.readings[heard.parts :]]
        return replace(heard, readings=tuple(kept[:_MOST]))
    if _stands(heard, told):
        return _ahead(heard, told)
    other = _beside(pieces, told, heard)
    if other is not None:
        rest = [each for each in (*heard.readings, *more) if each != other]
        both = (replace(told, unread=()), replace(other, sure=False))
        return Heard((*both, *rest)[:_MOST], parts=2, said=heard.said)
    if _speaks_of_more(pieces, heard, told):
        return _ahead(heard, told)
    near = [each for each in heard.readings if each.share >= _NEAR]
    far = [each for each in heard.readings if each.share < _NEAR]
    kept = [*near, *more, *_after(pieces, found[0], told), *far]
    # Nothing rivals what is known of all that was said.
    rest = [replace(each, share=min(each.share, _WHOLE)) for each in kept]
    once = {each.question: each for each in (told, *rest)}
    return Heard(tuple(once.values())[:_MOST])


def _beside(pieces: Sequence[Piece], told: Reading, heard: Heard) -> Reading | None:
    """What is asked of all that a saying leaves aside, if a reading asks it."""
    aside = [e.sense for at, e in enumerate(pieces) if at not in told.used and e.sense]
    named = {*aside}
    if not any("product" in each.kinds for each in aside):
        return None
    return next(
        (
            each
            for each in heard.readings
            if each.share >= _SOME
            and not isinstance(each.query, q.Saying | q.Define)
            and named <= {pieces[at].sense for at in each.used}
        ),
        None,
    )


def _ahead(heard: Heard, told: Reading) -> Heard:
    """What a text is read as besides, with a saying after its first question."""
    ahead = max(heard.parts, 1)
    kept = [*heard.readings[:ahead], told, *heard.readings[ahead:]]
    return replace(heard, readings=tuple(kept[:_MOST]))


def _stands(heard: Heard, told: Reading) -> bool:
    """Whether what a text is read as besides says more of it than a saying does."""
    if not heard.readings or heard.unsettled:
        return False
    first = heard.readings[0]
    fewer = len(first.unread) < len(told.unread)
    return isinstance(first.query, q.About) or (first.share >= _WHOLE and fewer)


def _speaks_of_more(pieces: Sequence[Piece], heard: Heard, told: Reading) -> bool:
    """Whether it asks of things that a saying leaves aside, and takes half of it."""
    if not heard.readings or heard.unsettled:
        return False
    first = heard.readings[0]
    fewer = names_aside(pieces, first.used) < names_aside(pieces, told.used)
    return fewer and first.share >= _MUCH and isinstance(first.query, _ASKING)


_ASKING = (q.Which, q.What, q.Whether, q.Claim, q.Argue, q.Unlike)
"""Questions that say what is asked of the things they name, and not only of which."""


def _after(pieces: Sequence[Piece], found: Found, told: Reading) -> Iterator[Reading]:
    """What can be asked after a saying."""
    named = [at for at, piece in enumerate(pieces) if _is_of_one(piece)]
    aside = tuple(spans_of(pieces, named))
    for ask in found.saying.asks:
        query = query_in(ask)
        if query is not None:
            yield replace(
                told, query=query, question=printed(query), unread=aside, sure=False
            )


def heard_in(text: str, pieces: Sequence[Piece], lexicon: Lexicon) -> list[Found]:
    """The sayings that are heard in a text, those first that most of it tells."""
    known = lexicon.sayings()
    index = _index(tuple(each.heard for each in known))
    words = [_nameless(each, pieces) for each in _meant(text, lexicon)]
    stood = _standing(index, words)
    best: dict[int, tuple[_Span, ...]] = {}
    named: dict[int, tuple[_Span, ...]] = {}
    for at, spans in stood.items():
        saying, pattern = index.patterns[at]
        made = _matched(pattern, spans, pieces)
        if _length(made) > _length(best.get(saying, ())):
            best[saying] = made
            named[saying] = tuple(
                span for each in pattern for span in _named(each, pieces)
            )
    found = [Found(known[at], best[at], named.get(at, ())) for at in sorted(best)]
    return sorted(found, key=lambda each: -_length(each.spans))


_SLIP = 7
"""How long a word is that may be a slip of another: `later` is none of `lather`."""


def _meant(text: str, lexicon: Lexicon) -> list[Token]:
    """The words of a text, the long ones mended."""
    read = tokens(text)
    both = zip(read, mended(read, lexicon), strict=True)
    return [new if len(old.text) >= _SLIP else old for old, new in both]


def _nameless(word: Token, pieces: Sequence[Piece]) -> Token:
    """A word, blank within the name of a product: `Brass Pillow` is no pillow."""
    named = any(
        each.sense is not None
        and "product" in each.sense.kinds
        and each.start <= word.start < each.end
        for each in pieces
    )
    return replace(word, text="") if named else word


def _overlap(ones: Sequence[_Span], others: Sequence[_Span]) -> bool:
    """Whether some stretches share a letter with others."""
    return any(a < d and c < b for a, b in ones for c, d in others)


def _length(spans: Sequence[_Span]) -> int:
    return sum(end - start for start, end in spans)


def _matched(
    pattern: Sequence[Group],
    stood: Mapping[int, set[_Span]],
    pieces: Sequence[Piece],
) -> tuple[_Span, ...]:
    """The stretches of a text that a pattern fits; none if a group of it does not."""
    made: set[_Span] = set()
    for at, group in enumerate(pattern):
        spans = stood.get(at, set()) | {*_named(group, pieces)}
        if group.barred and spans:
            return ()
        if not (spans or group.barred or group.free):
            return ()
        made |= spans
    return tuple(sorted(made))


class Index(Record):
    """Every pattern with its saying, and where each way of its groups begins.

    A way is listed under its first word, or under the first letters of one that may
    go on, with the place of its pattern and of its group.
    """

    patterns: tuple[tuple[int, tuple[Group, ...]], ...]
    begins: Mapping[str, tuple[tuple[_Words, int, int], ...]]


_BEGUN = 2
"""How many letters of a word that may go on it is listed under."""


@lru_cache(maxsize=4)
def _index(heard: tuple[tuple[str, ...], ...]) -> Index:
    """The patterns of some sayings by their words."""
    patterns = tuple((at, groups(p)) for at, each in enumerate(heard) for p in each)
    begins: dict[str, list[tuple[_Words, int, int]]] = {}
    for at, (_, pattern) in enumerate(patterns):
        for place, group in enumerate(pattern):
            for way in group.ways:
                key = way[0][:_BEGUN] + "*" if way[0][-1] == "*" else way[0]
                begins.setdefault(key, []).append((way, at, place))
    return Index(patterns, {key: tuple(rows) for key, rows in begins.items()})


def _standing(index: Index, words: Sequence[Token]) -> dict[int, dict[int, set[_Span]]]:
    """Where the ways of each pattern stand in a text, by group."""
    found: dict[int, dict[int, set[_Span]]] = {}
    texts = [word.text for word in words]
    for start, text in enumerate(texts):
        for key in (text, text[:_BEGUN] + "*"):
            for way, pattern, group in index.begins.get(key, ()):
                said = texts[start : start + len(way)]
                if len(said) == len(way) and all(map(_fits, way, said)):
                    span = words[start].start, words[start + len(way) - 1].end
                    found.setdefault(pattern, {}).setdefault(group, set()).add(span)
    return found


@lru_cache(maxsize=4096)
def groups(pattern: str) -> tuple[Group, ...]:
    """The groups of a pattern.

    Raises:
        ValueError: a group is empty.
    """
    return tuple(_group(part.strip()) for part in pattern.split("&"))


def _group(text: str) -> Group:
    barred, free = text.startswith("!"), text.startswith("?")
    ways, kinds = [], []
    for way in text.removeprefix("!").removeprefix("?").split("|"):
        if way.strip().startswith("<"):
            kinds.append(way.strip()[1:-1])
        else:
            ways.append(_starred(words_of(way)))
    if not all(ways):
        raise ValueError(f"a way of `{text}` has no words")
    return Group(tuple(ways), tuple(kinds), barred, free)


def _starred(words: _Words) -> _Words:
    """The words of a way; a star belongs to the word before it."""
    made: list[str] = []
    for word in words:
        if word == "*" and made:
            made[-1] += word
        else:
            made.append(word)
    return tuple(made)


def _fits(word: str, said: str) -> bool:
    return said == word or (word[-1] == "*" and said.startswith(word[:-1]))


def _named(group: Group, pieces: Sequence[Piece]) -> Iterator[_Span]:
    """Where names of the kinds of a group stand."""
    for piece in pieces:
        kinds = piece.sense.kinds if piece.sense is not None else frozenset[str]()
        if not kinds.isdisjoint(group.kinds):
            yield piece.start, piece.end


def _reading(pieces: Sequence[Piece], found: Found) -> Reading:
    """A saying as a reading, with the names that it does not speak of left aside."""
    query = q.Saying(q.Name(found.saying.said))
    own = words_of(f"{found.saying.said} {found.saying.tells}")
    aside = [
        at
        for at, piece in enumerate(pieces)
        if _is_of_one(piece) and not _is_told(piece, found, own)
    ]
    used = frozenset(range(len(pieces))) - frozenset(aside)
    share = 1.0 - len(aside) / max(1, len(pieces))
    unread = tuple(spans_of(pieces, aside))
    sure = not aside and not any(piece.does("ask:which") for piece in pieces)
    return Reading(query, printed(query), unread, (), share, sure, (), used)


_OF_ONE = frozenset({"product", "ingredient", "class", "condition", "sort"})
"""Kinds of names of which a saying in general does not speak."""


def _is_of_one(piece: Piece) -> bool:
    """Whether a piece names what a saying need not speak of, and no kind of product."""
    named = piece.sense is not None and is_name(piece)
    return (
        named and piece.sense is not None and not _OF_ONE.isdisjoint(piece.sense.kinds)
    )


def _is_told(piece: Piece, found: Found, own: Sequence[str]) -> bool:
    """Whether a saying has a name among its words, or was heard by such a name."""
    if _overlap([(piece.start, piece.end)], found.named):
        return True
    if piece.sense is not None and "product" in piece.sense.kinds:
        return False
    stems = {word.rstrip("s") for word in own}
    return any(each.rstrip("s") in stems for each in piece.words)
