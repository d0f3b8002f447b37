"""Free speech to exact questions: at most three, with what was left unread.

What is offered is a question of the language, printed and read again.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from abluent.grammar.common.record import replace
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.pieces import Lexicon, Piece, cut, tokens
from abluent.grammar.phrase.reading import LONGEST, Heard, Reading, printed
from abluent.grammar.phrase.recast import recast
from abluent.grammar.query import tree as q
from abluent.grammar.speech.apart import Taken, in_parts
from abluent.grammar.speech.asking import Offer
from abluent.grammar.speech.certain import settled
from abluent.grammar.speech.denials import turns_round
from abluent.grammar.speech.filling import filled
from abluent.grammar.speech.joining import guesses, offers
from abluent.grammar.speech.likely import GENERAL, kinds_of, oddness, weight
from abluent.grammar.speech.parting import is_name, matters
from abluent.grammar.speech.precedence import (
    asked_first,
    counted,
    evidence_first,
    otherwise,
)
from abluent.grammar.speech.provided import limited
from abluent.grammar.speech.ranking import (
    HALF,
    LEAST,
    MANY,
    WASHING,
    names_aside,
    ranked,
    spans,
)
from abluent.grammar.speech.roles import said_clauses
from abluent.grammar.speech.sayings import with_sayings
from abluent.grammar.speech.scruples import dropped
from abluent.grammar.speech.sides import sides
from abluent.grammar.speech.tails import with_tails
from abluent.grammar.speech.tried import without_tried
from abluent.grammar.speech.unsettled import Matter, instead, matters_of, told

MOST = 3
"""How many questions are offered at most."""
_MOST_OF_IT = 0.85
"""The share below which a guess by the kinds of the names stands beside the rest."""
_DOUBTED = 2.0
"""What speaks against the best reading so much that a guess stands beside it."""
_MUCH = 0.6
"""The share below which the other words must tell what is spoken of."""
_BEARING = 1.4
"""How much they must tell for anything to be offered."""


def read_speech(text: str, lexicon: Lexicon) -> Heard:
    """Read a saying.

    Args:
        text: as typed.
        lexicon: the names that can be meant.
    """
    text = text[:LONGEST]
    pieces = without_tried(recast(cut(text, lexicon)))
    return with_sayings(text, pieces, lexicon, _read(text, pieces, lexicon))


def _read(text: str, pieces: Sequence[Piece], lexicon: Lexicon) -> Heard:
    """What a text asks of the things that it names."""
    spoken = matters_of(text, pieces, lexicon)
    if not any(is_name(each) or _is_of_names(each) for each in pieces) and not (
        _asks_of_all(pieces)
    ):
        of_the_trade = any(map(_is_of_the_trade, pieces))
        spoken = spoken if of_the_trade else []
        asks = ranked(pieces, [*instead(pieces, spoken)], spoken)
        return Heard(tuple(asks[:MOST]), told(spoken))
    strong = [each for each in spoken if not each.weak]
    read = [
        *counted(pieces, [*filled(pieces, [*with_tails(pieces, [*offers(pieces)])])])
    ]
    read = _unturned(pieces, limited(pieces, read))
    found = ranked(pieces, read, strong)
    best = found[0].share if found else 0.0
    if best < _MOST_OF_IT or found[0].doubt > _DOUBTED:
        read += _unturned(pieces, filled(pieces, [*guesses(pieces)]))
        found = ranked(pieces, read, strong)
        best = found[0].share if found else 0.0
    # A weak matter is one that only counts where little else was read.
    if (
        best >= HALF
        or (found and _keeps_names(pieces, found[0]))
        or (best < LEAST and not _says_something(pieces))
    ):
        chances = [each for each in spoken if not each.topic.weak]
        spoken = strong if strong or best >= LEAST else chances
    apart = any(not each.topic.beside and not each.weak for each in spoken)
    kept = [e for e in found if e.share >= _least(pieces, e, apart=apart)]
    named = {each.sense.text for each in pieces if each.sense and is_name(each)}
    if not spoken and best < _MUCH and weight(pieces, tokens(text), named) < _BEARING:
        return Heard(())
    ahead = [each for each in spoken if each.topic.first]
    led = ranked(pieces, [*instead(pieces, ahead, only=True)], spoken) if ahead else []
    whole = kept and kept[0].share >= _MUCH
    ahead_of = kept[:1] if whole and not names_aside(pieces, kept[0].used) else []
    kept = _once([*ahead_of, *led, *kept])
    if spoken and len(kept) < MOST:
        asks = ranked(pieces, [*instead(pieces, spoken)], spoken)
        kept += asks
    apart_ = _parts(pieces, read, found) if kept else []
    apart_ = _sided(pieces, spoken) or apart_
    if not apart_ and not spoken:
        kept = settled(text, pieces, _once(kept), lexicon)
    kept = _once([*apart_, *_beside(pieces, _once(kept), read, spoken)])
    kept = _as_asked(pieces, kept)
    kept = kept[:MOST]
    said = _only_said(pieces, kept)
    lost = [at for at in _lost(pieces, kept) if at not in said]
    return Heard(
        tuple(kept),
        told(spoken),
        len(apart_),
        tuple(spans(pieces, lost)),
        tuple(spans(pieces, sorted(said))),
    )


def _only_said(pieces: Sequence[Piece], readings: Sequence[Reading]) -> frozenset[int]:
    """The places of what is only said, where a word of it stands in no reading."""
    used = frozenset[int]().union(*(each.used for each in readings[:1]))
    said = [each for each in said_clauses(pieces) if not used.issuperset(each)]
    return frozenset[int]().union(*(_bare(pieces, each) for each in said))


def _bare(pieces: Sequence[Piece], places: frozenset[int]) -> frozenset[int]:
    """Some places, without the marks at either end."""
    real = [at for at in places if pieces[at].entry.section != "mark"]
    ends = (min(real), max(real)) if real else (1, 0)
    return frozenset(at for at in places if ends[0] <= at <= ends[1])


def _unturned(pieces: Sequence[Piece], offered: Iterable[Offer]) -> list[Offer]:
    """The offers that do not turn the sense round."""
    return [e for e in offered if not turns_round(pieces, e.query, e.used)]


def _sided(pieces: Sequence[Piece], spoken: Sequence[Matter]) -> list[Reading]:
    """The same asked of two sides, each a reading; none if that is not asked."""
    offered = [Offer(each.query, each.used, each.doubt) for each in sides(pieces)]
    made = ranked(pieces, offered, spoken, every=True)
    if len(made) < 2:
        return []
    order = {each.query: at for at, each in enumerate(offered)}
    made.sort(key=lambda each: order.get(each.query, len(order)))
    used = frozenset[int]().union(*(each.used for each in offered))
    rest = [at for at, e in enumerate(pieces) if matters(e) and at not in used]
    left = tuple(spans(pieces, rest))
    return [replace(each, sure=False, unread=left) for each in made]


def _parts(
    pieces: Sequence[Piece], read: Sequence[Offer], found: Sequence[Reading]
) -> list[Reading]:
    """The readings that a text asks one after the other, if it asks several things."""
    kinds, known = kinds_of(pieces), {each.query: each for each in found}
    offered = [
        Taken(each.query, each.used, each.doubt + oddness(each.query, kinds))
        for each in asked_first(pieces, evidence_first(pieces, read))
        if each.query in known
    ]
    matter = frozenset(at for at, piece in enumerate(pieces) if matters(piece))
    offered.sort(key=lambda e: 0.06 * e.doubt * len(matter) - len(e.used & matter))
    made = [*in_parts(pieces, offered, MOST)]
    whole = frozenset[int]().union(*(each.used for each in made))
    return [
        replace(
            known[each.query],
            unread=tuple(spans(pieces, _unread_of(pieces, each, whole))),
            used=each.used,
            sure=False,
        )
        for each in made
    ]


def _unread_of(
    pieces: Sequence[Piece], part: Taken, whole: frozenset[int]
) -> list[int]:
    """What a part leaves aside that no other part takes."""
    silent = dropped(pieces, part.query) & part.used
    matter = {at for at, piece in enumerate(pieces) if matters(piece)}
    return sorted((matter - whole) | silent)


def _keeps_names(pieces: Sequence[Piece], reading: Reading) -> bool:
    """Whether a reading speaks of all that is named, which is much."""
    said_ = {pieces[at].sense for at in reading.used} - {None}
    return len(said_) >= MANY and not names_aside(pieces, reading.used)


def _least(pieces: Sequence[Piece], reading: Reading, *, apart: bool) -> float:
    """The share that a reading must take; beside a matter of its own, more of it.

    A verb of washing speaks of more than a chance likeness.
    """
    telling = any(pieces[at].does(*WASHING) for at in reading.used)
    return HALF if apart and not telling else LEAST


def _beside(
    pieces: Sequence[Piece],
    kept: Sequence[Reading],
    read: Sequence[Offer],
    spoken: Sequence[Matter],
) -> list[Reading]:
    """The readings, with what the first could mean too where the rest take little."""
    if not kept or kept[0].sure:
        return [*kept]
    first, *rest = kept
    meant = next((each for each in read if each.query == first.query), None)
    if meant is None:
        return [*kept]
    made = [*otherwise(pieces, meant, kinds_of(pieces))]
    more = ranked(pieces, made, spoken, every=True)
    near = [each for each in rest[: MOST - 1] if first.share - each.share < _APART]
    far = [each for each in rest if each not in near]
    return [first, *near, *more, *far]


_APART = 0.15
"""How much less of a line a reading takes that gives way to another of the first."""


def _once(readings: Sequence[Reading]) -> list[Reading]:
    """The readings, each question once; whether it is so, and its claim, are one."""
    found: dict[Any, Reading] = {}
    for each in readings:
        query = each.query
        same = query.statement if isinstance(query, q.Claim | q.Whether) else query
        found.setdefault(same, each)
    return [*found.values()]


def _as_asked(pieces: Sequence[Piece], readings: Sequence[Reading]) -> list[Reading]:
    """The readings; a claim of single things as the question that the text asks."""
    asked = any(each.does("ask:whether", "small:question") for each in pieces)
    return [_whether(each) if asked else each for each in readings]


def _whether(reading: Reading) -> Reading:
    """A claim of one thing, or of things by name, as the question whether it is so."""
    query = reading.query
    if not isinstance(query, q.Claim):
        return reading
    subject = query.statement.subject
    whole = q.Whether(query.statement)
    single = all(
        isinstance(e, q.Name) and e.text[:1].isupper() for e in q.members(subject)
    )
    question = printed(whole) if single else ""
    return replace(reading, query=whole, question=question) if question else reading


def _is_of_the_trade(piece: Piece) -> bool:
    """Whether a piece speaks of washing hair at all."""
    verbs = (
        *("verb:clear", "verb:stay", "verb:hide", "turned:clear", "turned:rinse"),
        *(
            "contrast:stronger",
            "contrast:strongest",
            "contrast:harsher",
            "contrast:milder",
            "time:rounds_2",
        ),
    )
    said = piece.words[0] in _OF_THE_TRADE
    return piece.sense is not None or piece.does(*verbs) or said


_OF_THE_TRADE = words_in("of the trade")


def _asks_of_all(pieces: Sequence[Piece]) -> bool:
    """Whether it is asked who found that everything is taken off."""
    asked = any(each.does("ask:evidence") for each in pieces)
    takes = any(each.does("verb:clear") for each in pieces)
    return asked and takes and any(each.does("small:everything") for each in pieces)


def _is_of_names(piece: Piece) -> bool:
    """Whether a piece is a part of names: `-ate`."""
    return piece.entry.section == "pattern"


def _says_something(pieces: Sequence[Piece]) -> bool:
    """Whether there is a name and a verb of washing, or more than one name."""
    names = {each.sense.text for each in pieces if each.sense and is_name(each)}
    verbs = ("verb:clear", "verb:stay", "verb:leave", "turned:clear", "turned:rinse")
    return any(piece.does(*verbs) for piece in pieces) or len(names) > 1


def _lost(pieces: Sequence[Piece], readings: Sequence[Reading]) -> list[int]:
    """The places of names that no reading speaks of, by this place or another."""
    used = frozenset[int]().union(*(each.used for each in readings))
    spoken = {pieces[at].sense for at in used}
    named = [
        at for at, e in enumerate(pieces) if e.sense and e.sense.text not in GENERAL
    ]
    return [at for at in named if readings and pieces[at].sense not in spoken]
