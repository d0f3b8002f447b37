"""The same asked of two sides: `twice with A or once with B`, `in soft or hard water`.

The language has no one question for either; each side is a part of the offer.
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import Clause, rounds_of, states
from abluent.grammar.phrase.book import Entry, words_in
from abluent.grammar.phrase.pieces import IDLE, NUMBER_WORDS, Piece
from abluent.grammar.query import tree as q
from abluent.grammar.speech.apart import Taken
from abluent.grammar.speech.clauses import said

_EVERYTHING = q.Quantified(q.Quantity.EVERY, q.Thing())
_BETWEEN = ("ask:compare", "small:or", "small:and", "small:than", "small:but")
_CARRYING = ("number", "time", "contrast", "verb", "turned", "heads", "particles")
_NEAR = 5
"""How many pieces may stand between a wash and how often it is taken."""


def sides(pieces: Sequence[Piece]) -> list[Taken]:
    """The two questions of a text that sets two sides against each other."""
    return _in_rounds(pieces) or _under_conditions(pieces)


def _in_rounds(pieces: Sequence[Piece]) -> list[Taken]:
    """Two washes by name, each so many times: what each takes off."""
    washes = [at for at, each in enumerate(pieces) if _is_wash(each)]
    if len({pieces[at].sense for at in washes}) != 2 or len(washes) != 2:
        return []
    counts = [_count(pieces, at, washes) for at in washes]
    if counts.count(None) == 1 and any(_times(pieces[at - 1]) for at in washes if at):
        # `2x A or B`: B once.
        counts = [1 if each is None else each for each in counts]
    if None in counts or counts[0] == counts[1]:
        return []
    clause = Clause(pieces, range(len(pieces)))
    films = [n for n in clause.nouns if n.has("film") and not n.has("wash", "thing")]
    films = [n for n in films if not n.has("product")]
    object_ = films[0].term if films else _EVERYTHING
    used = clause.used(*films[:1], *clause.nouns) | _telling(pieces)
    made = []
    for at, count in zip(washes, counts, strict=True):
        sense = pieces[at].sense
        assert sense is not None
        assert count is not None
        acts = q.Clears(
            object_, rounds=max(1, count), circumstances=clause.circumstances()
        )
        stated = q.Statement(q.Name(sense.text), acts)
        made.append(Taken(q.Whether(stated), used, 0.0))
    return made


def _is_wash(piece: Piece) -> bool:
    return piece.sense is not None and piece.sense.kinds >= {"product", "wash"}


def _telling(pieces: Sequence[Piece]) -> frozenset[int]:
    """The places that say how often, and that both are to do the same."""
    return frozenset(
        at
        for at, piece in enumerate(pieces)
        if piece.entry.section in _CARRYING
        or {*piece.words} & words_in("washings")
        or piece.words[0] in words_in("same job")
    )


def _times(piece: Piece) -> int:
    """So many times, as `2x` or `x2` has it; 0 if it is another word."""
    word = piece.words[0]
    number = word.strip("x")
    written = "x" in word and number.isdigit() and len(word) == len(number) + 1
    return int(number) if written else 0


def _count(pieces: Sequence[Piece], at: int, washes: Sequence[int]) -> int | None:
    """How often the wash at a place is taken, by the words about it."""
    others = [n for n in washes if n != at]
    first = max([n + 1 for n in others if n < at], default=max(0, at - _NEAR))
    last = min([n for n in others if n > at], default=min(len(pieces), at + 3))
    before = [*reversed(range(max(first, at - _NEAR), at))]
    for n in (*before, *range(at + 1, min(last, at + 3))):
        piece = pieces[n]
        if piece.entry.section == "time" and rounds_of(piece) > 1:
            return rounds_of(piece)
        if piece.role == "time:once":
            return 1
        if _times(piece):
            return _times(piece)
        value = piece.value or NUMBER_WORDS.get(piece.words[0], "")
        after = pieces[n + 1].words[0] if n + 1 < len(pieces) else ""
        if after in words_in("spans of time"):
            continue
        if piece.sense is None and str(value).isdigit():
            return int(value)
    return None


def _under_conditions(pieces: Sequence[Piece]) -> list[Taken]:
    """One thing under a condition and under its opposite, as two questions."""
    places = [at for at, each in enumerate(pieces) if states(pieces, each)]
    # Here it is so and there it is not: that is two statements, and no question.
    apart = any(e.entry.section == "contrast" or e.does("small:no") for e in pieces)
    if len(places) != 2 or apart:
        return []
    one, other = (pieces[at].sense for at in places)
    if one is None or other is None or one.one != other.text:
        return []
    joint = pieces[places[0] + 1 : places[1]]
    if not any(each.does(*_BETWEEN) for each in joint):
        return []
    made = []
    for at, aside in (places, reversed(places)):
        own = [*pieces]
        own[aside] = _idle(own[aside])
        for n, piece in enumerate(own):
            if piece.does("ask:compare") or piece.words == ("each",):
                own[n] = _idle(piece)
        read = [e for e in said(own, range(len(own))) if e.doubt <= 1]
        best = read[0] if read else None
        query = _asked(best) if best is not None else None
        sense = pieces[at].sense
        if query is None or best is None or sense is None:
            return []
        if sense.text not in repr(query):
            return []
        made.append(Taken(query, best.used | {*places}, 0.0))
    return made


def _asked(said_: object) -> q.Query | None:
    """A reading of a clause as a question."""
    asked = getattr(said_, "asked", None)
    if asked is not None:
        return asked  # type: ignore[no-any-return]
    subject = getattr(said_, "subject", None)
    predicate = getattr(said_, "predicate", None)
    if subject is None or predicate is None:
        return None
    stated = q.Statement(subject, predicate)
    single = getattr(said_, "single", False)
    return q.Whether(stated) if single else q.Claim(stated)


def _idle(piece: Piece) -> Piece:
    return replace(piece, entry=Entry(IDLE.section, IDLE.key), sense=None, other=())
