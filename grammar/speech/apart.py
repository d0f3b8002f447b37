"""A saying that asks several things, as a question for each.

Where no one question says all that a text asks, and its clauses each have a question of
their own, these stand first, as parts of one offer. What a clause is read with from the
rest of the text, such as a condition or what `it` is, stays with it.
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.record import Record
from abluent.grammar.frames.clause import WASHES
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q
from abluent.grammar.speech.parting import Part, matters, parts
from abluent.grammar.speech.roles import asked_by

_TELLING = ("verb", "turned", "heads", "contrast")
_ASKS = (
    *("ask:define", "ask:how_mild", "ask:how_strong", "ask:how_many", "ask:compare"),
    *(
        "ask:what",
        "ask:evidence",
        "ask:sure",
        "ask:rank",
        "ask:change",
        "ask:advise",
        "ask:enough",
    ),
)
_GAIN = 0.12
"""How much more of a text its parts take together than any one question does."""
_OWN = 0.3
"""The share of what matters in a clause that its question takes at least."""

_STEPS = ("so", "because", "if")
_DOUBTED = 2.0
"""What must not speak against a part so much."""


class Taken(Record):
    """A question, the places of the text it is read from, and what is against it."""

    query: q.Query
    used: frozenset[int]
    doubt: float


def in_parts(pieces: Sequence[Piece], read: Sequence[Taken], most: int) -> list[Taken]:
    """The questions that a text asks one after the other; none if it asks one thing.

    Args:
        pieces: of the text.
        read: every reading of it, best first.
        most: how many are told apart at most.
    """
    clauses = parts(pieces)
    if len(clauses) < 2 or not read:
        return []
    matter = frozenset(at for at, piece in enumerate(pieces) if matters(piece))
    likely = [each for each in read if each.doubt <= _DOUBTED]
    best = max((len(each.used & matter) for each in likely), default=0)
    kept: list[Taken] = []
    taken: frozenset[int] = frozenset()
    asked = [asked_by(pieces, each) for each in clauses]
    if not any(asked) and any(each.link in _STEPS for each in clauses):
        # A step is judged as one.
        return []
    for at, clause in enumerate(clauses):
        if any(asked) and not asked[at]:
            # What only leads to a question is not asked.
            continue
        own = _best_of(pieces, clauses, at, likely)
        if own is None or not _adds(pieces, clause, own, taken):
            continue
        if any(_says_less(own.query, each.query) for each in kept):
            continue
        kept = [each for each in kept if not _says_less(each.query, own.query)]
        kept.append(own)
        taken |= own.used
    several = len({each.query for each in kept}) > 1
    gains = len(taken & matter) - best >= _GAIN * max(1, len(matter))
    gains = gains or (all(asked) and any(_is_open(e.query) for e in kept))
    return kept[:most] if several and gains else []


def _says_less(one: q.Query, other: q.Query) -> bool:
    """Whether a question says no more than another: the same, of some, or barer."""
    first, second = _stated(one), _stated(other)
    if first is None or second is None:
        return one == other
    acts, more = q.asked_act(first.predicate), q.asked_act(second.predicate)
    if not isinstance(acts, q.Clears) or not isinstance(more, q.Clears):
        return first == second
    some = first.subject == q.Quantified(q.Quantity.SOME, WASHES)
    within = acts.object in (more.object, *q.members(more.object)) and (
        acts.source in (None, more.source)
    )
    bare = {*acts.circumstances} <= {*more.circumstances} and acts.rounds in (
        1,
        more.rounds,
    )
    return (some or first.subject == second.subject) and within and bare


def _stated(query: q.Query) -> q.Statement | None:
    return query.statement if isinstance(query, q.Claim | q.Whether) else None


def _is_open(query: q.Query) -> bool:
    """Whether a question asks for more than whether something is so."""
    return isinstance(
        query, q.Define | q.HowMuch | q.Rank | q.HowMany | q.About | q.Which
    )


def _tells(piece: Piece) -> bool:
    """Whether a piece says what is asked or said, and names nothing."""
    return piece.entry.section in _TELLING or piece.does(*_ASKS)


def _best_of(
    pieces: Sequence[Piece], clauses: Sequence[Part], at: int, read: Sequence[Taken]
) -> Taken | None:
    """The best question whose every word that tells is in one clause."""
    own = frozenset(clauses[at].places)
    others = frozenset(n for each in clauses for n in each.places) - own
    telling = frozenset(n for n, piece in enumerate(pieces) if _tells(piece))
    matter = frozenset(n for n in own if matters(pieces[n]))
    for each in read:
        used = each.used & matter
        crossed = each.used & others & telling
        carried = {n for n in crossed if pieces[n].role == "verb:be"}
        if crossed - carried or not each.used & own & telling:
            continue
        if len(used) >= _OWN * len(matter) and (used or not matter):
            return each
    return None


def _adds(
    pieces: Sequence[Piece], clause: Part, own: Taken, taken: frozenset[int]
) -> bool:
    """Whether a question says something that those before it do not."""
    new = (own.used & frozenset(clause.places)) - taken
    return any(_tells(pieces[at]) or matters(pieces[at]) for at in new)
