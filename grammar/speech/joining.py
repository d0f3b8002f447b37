"""What the clauses of a saying come to together: questions of the language.

Several statements are judged apart, a conclusion with its step; a question stays one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.frames.advice import planning
from abluent.grammar.frames.choosing import choosing
from abluent.grammar.frames.clause import Clause, Said
from abluent.grammar.frames.contrasts import rivals
from abluent.grammar.frames.ease import elsewhere, levelled
from abluent.grammar.frames.gathered import gathered, outweighing
from abluent.grammar.frames.inside import serving
from abluent.grammar.frames.promises import free_of, holding, mislabelled
from abluent.grammar.frames.where_each import where_each_is
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q
from abluent.grammar.speech.asking import Offer, as_query, statement_of
from abluent.grammar.speech.clauses import said
from abluent.grammar.speech.conjoined import conjoined
from abluent.grammar.speech.course import asking, read_clauses
from abluent.grammar.speech.likely import anywhere
from abluent.grammar.speech.parting import (
    Part,
    is_name,
)
from abluent.grammar.speech.roles import only_said
from abluent.grammar.speech.supposing import supposing
from abluent.grammar.speech.tails import within_tails

_GROUND = 0.5
"""What speaks against a ground as what is meant: the conclusion is."""


def offers(pieces: Sequence[Piece]) -> Iterator[Offer]:
    """Everything that the text can be asked as."""
    found = read_clauses(pieces)
    added = within_tails(pieces)
    whole = tuple(at for at in range(len(pieces)) if at not in added)
    asks = asking(pieces)
    if sum(_asks_of_name(pieces, clause) for clause, _ in found) > 1:
        # Of several questions one leaves another aside.
        found = [(clause, [*map(_doubted, read)]) for clause, read in found]
    best = [(clause, _concluding(clause, read)) for clause, read in found if read]
    best = [
        (clause, each)
        for at, (clause, each) in enumerate(best)
        if at + 1 == len(best) or not best[at + 1][1].folded
    ]
    yield from supposing(pieces, found)
    yield from _together(_not_only_said(pieces, best), asks)
    linked = [(_linked(pieces, clause), each) for clause, each in best]
    for each in conjoined(linked):
        yield Offer(as_query(each, asks), each.used, each.doubt)
    concluded = [at for at, (clause, _) in enumerate(found) if clause.link == "so"]
    for at, (clause, read) in enumerate(found):
        ground = clause.link == "because" or any(at < later for later in concluded)
        for rank, each in enumerate(read[:3]):
            local = asking([pieces[at] for at in clause.places]) | (
                asks & {"evidence", "sure", "question"}
            )
            doubt = each.doubt + rank * 0.2 + _GROUND * ground
            yield Offer(as_query(each, local), each.used, doubt)
    every = [pieces[at] for at in whole]
    if len(found) > 1:
        for each in mislabelled(Clause(every, whole)):
            yield Offer(as_query(each, asks), each.used, each.doubt - 0.6)
    if len(found) != 1:
        apart = any(map(_ends, pieces[:-1])) or _is_denied_once(pieces, found)
        crossed = _ACROSS if apart else 0.6
        for each in said(every, whole)[:2]:
            yield Offer(as_query(each, asks), each.used, each.doubt + crossed)


def _not_only_said(
    pieces: Sequence[Piece], best: Sequence[tuple[Part, Said]]
) -> list[tuple[Part, Said]]:
    """The readings of clauses, without those that only say what is so."""
    trusted = only_said(pieces)
    return [each for each in best if not trusted.issuperset(each[0].places)]


def _is_denied_once(
    pieces: Sequence[Piece], found: Sequence[tuple[Part, list[Said]]]
) -> bool:
    """Whether one step of a conclusion is denied, and another is not."""
    if not any(clause.link in ("so", "because") for clause, _ in found):
        return False
    denied = [
        any(pieces[at].does("small:no") for at in clause.places) for clause, _ in found
    ]
    return any(denied) and not all(denied)


def _concluding(clause: Part, read: Sequence[Said]) -> Said:
    """The best reading; of `…, so it is mild` the statement, and not how mild it is."""
    first = read[0]
    if clause.link == "so" and isinstance(first.asked, q.HowMuch):
        return next((each for each in read if each.predicate is not None), first)
    return first


def _linked(pieces: Sequence[Piece], clause: Part) -> str:
    """How a clause is linked to the one before; `which` if it asks by itself."""
    own = any(pieces[at].role == "ask:which" for at in clause.places)
    return "which" if own else clause.link


_ACROSS = 3.0
"""What speaks against one clause made of several sentences."""


def _ends(piece: Piece) -> bool:
    """Whether a sentence ends there."""
    return piece.words[0] in (".", "?", "!")


_OWN_ASKS = ("ask:which", "ask:what", "ask:define", "ask:how_many")


def _asks_of_name(pieces: Sequence[Piece], clause: Part) -> bool:
    """Whether a clause is a question by itself."""
    own = [pieces[at] for at in clause.places]
    return any(each.does(*_OWN_ASKS) for each in own) and any(map(is_name, own))


def _doubted(each: Said) -> Said:
    return replace(each, doubt=max(each.doubt, 0.0) + 0.1)


def guesses(pieces: Sequence[Piece]) -> Iterator[Offer]:
    """What a text can be asked as, by the kinds of its names alone."""
    asks = asking(pieces)
    clause = Clause(pieces, range(len(pieces)))
    for each in planning(clause):
        yield Offer(as_query(each, asks), each.used, -0.5)
    for each in _guessed(clause):
        yield Offer(as_query(each, asks), each.used, each.doubt, guess=True)


def _guessed(clause: Clause) -> Iterator[Said]:
    yield from levelled(clause)
    yield from where_each_is(clause)
    yield from serving(clause)
    yield from elsewhere(clause)
    yield from outweighing(clause)
    yield from choosing(clause)
    yield from rivals(clause)
    yield from mislabelled(clause)
    yield from free_of(clause)
    yield from holding(clause)
    yield from gathered(clause)


def _together(
    best: Sequence[tuple[Part, Said]], asks: frozenset[str]
) -> Iterator[Offer]:
    """Several statements, judged apart, the last perhaps as what follows."""
    stated = [(clause, each) for clause, each in best if each.predicate is not None]
    asked = [each for _, each in best if each.asked is not None]
    if len(stated) < 2 or (asked and "question" in asks):
        return
    ordered: list[Said] = []
    follows = False
    for clause, each in stated:
        if clause.link == "because" and ordered:
            ordered.insert(len(ordered) - 1, each)
            follows = True
            continue
        if clause.link == "but" and follows:
            # `A, so B, but C`: B is what follows.
            ordered.insert(0, each)
            continue
        follows = follows or clause.link == "so"
        ordered.append(each)
    if stated[0][0].link in ("if", "because"):
        follows = True
    statements = tuple(statement_of(each) for each in ordered)
    twice = any(anywhere(e) in statements and anywhere(e) != e for e in statements)
    if len(set(statements)) == 1:
        # `no wash needed for P, it evaporates`: one thing, said twice.
        same = frozenset[int]().union(*(each.used for each in ordered))
        yield Offer(as_query(ordered[0], asks), same, ordered[0].doubt)
        return
    if twice or _contradicted(statements) or _said_twice(statements):
        return
    used = frozenset().union(*(each.used for each in ordered))
    doubt = sum(each.doubt for each in ordered) / len(ordered)
    yield Offer(q.Argue(statements, follows), used, doubt - 0.3)


def _contradicted(statements: Sequence[q.Statement]) -> bool:
    """Whether one statement denies another, which nobody says of one thing."""
    return any(
        replace(each, predicate=q.Not(each.predicate)) in statements
        for each in statements
    )


def _said_twice(statements: Sequence[q.Statement]) -> bool:
    """Whether what one thing does is said of some wash as well."""
    some = q.Quantified(q.Quantity.SOME, q.Name("washes"))
    said_ = [each.predicate for each in statements if each.subject != some]
    return any(e.subject == some and e.predicate in said_ for e in statements)
