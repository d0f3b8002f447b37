"""What the clauses of a saying come to together: questions of the language.

Several statements are judged apart, a conclusion with its step; a question stays one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.frames.advice import planning
from abluent.grammar.frames.choosing import choosing
from abluent.grammar.frames.clause import WASHES, Clause, Said
from abluent.grammar.frames.contrasts import rivals
from abluent.grammar.frames.ease import elsewhere, levelled
from abluent.grammar.frames.gathered import gathered
from abluent.grammar.frames.inside import serving
from abluent.grammar.frames.promises import free_of, holding, mislabelled
from abluent.grammar.frames.residue import anything
from abluent.grammar.frames.statement import denying
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q
from abluent.grammar.speech.asking import Offer, as_query, statement_of
from abluent.grammar.speech.clauses import like, said
from abluent.grammar.speech.conjoined import conjoined, those_that_do
from abluent.grammar.speech.likely import anywhere
from abluent.grammar.speech.parting import (
    Earlier,
    Part,
    completed,
    is_name,
    nouns_at,
    parts,
)
from abluent.grammar.speech.roles import only_said
from abluent.grammar.speech.supposing import supposing

_GROUND = 0.5
"""What speaks against a ground as what is meant: the conclusion is."""


def offers(pieces: Sequence[Piece]) -> Iterator[Offer]:
    """Everything that the text can be asked as."""
    found: list[tuple[Part, list[Said]]] = []
    earlier = Earlier()
    last: Said | None = None
    asked_before: frozenset[str] = frozenset()
    for clause in parts(pieces):
        places = completed(pieces, clause, earlier)
        own = [pieces[at] for at in places]
        unless = clause.link == "unless"
        read = like(own, places, last, against=unless) if last is not None else []
        same = those_that_do([pieces[at] for at in clause.places], last)
        if same is not None:
            used = same.used | frozenset(places)
            read = [replace(same, used=used), *read]
        read = read or said(own, places)
        read = [
            _of_the_film(_held(_of_what_is_in(each, last), last), last) for each in read
        ]
        own_asks = _asking([pieces[at] for at in clause.places])
        read = [_of_the_list(each, found) for each in read]
        if "which" in asked_before and places != clause.places:
            read = [_as_which(each) for each in read]
        if any(pieces[at].does("small:pronoun") for at in clause.places):
            # What a pronoun stands for is a guess, and so is asked about.
            read = [replace(each, doubt=each.doubt + 0.1) for each in read]
        asked_before = own_asks or asked_before
        found.append((clause, read))
        earlier = nouns_at(pieces, places, earlier)
        last = next((each for each in read if each.predicate is not None), last)
    whole = tuple(range(len(pieces)))
    asks = _asking(pieces)
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
            local = _asking([pieces[at] for at in clause.places]) | (
                asks & {"evidence", "sure", "question"}
            )
            doubt = each.doubt + rank * 0.2 + _GROUND * ground
            yield Offer(as_query(each, local), each.used, doubt)
    if len(found) > 1:
        for each in mislabelled(Clause(pieces, whole)):
            yield Offer(as_query(each, asks), each.used, each.doubt - 0.6)
    if len(found) != 1:
        apart = any(map(_ends, pieces[:-1])) or _is_denied_once(pieces, found)
        crossed = _ACROSS if apart else 0.6
        for each in said(pieces, whole)[:2]:
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
    asks = _asking(pieces)
    clause = Clause(pieces, range(len(pieces)))
    for each in planning(clause):
        yield Offer(as_query(each, asks), each.used, -0.5)
    for each in _guessed(clause):
        yield Offer(as_query(each, asks), each.used, each.doubt, guess=True)


def _guessed(clause: Clause) -> Iterator[Said]:
    yield from levelled(clause)
    yield from serving(clause)
    yield from elsewhere(clause)
    yield from choosing(clause)
    yield from rivals(clause)
    yield from mislabelled(clause)
    yield from free_of(clause)
    yield from holding(clause)
    yield from gathered(clause)


def _as_which(each: Said) -> Said:
    """What is said of the things that the clause before asked for."""
    if each.subject is None or each.predicate is None or not each.general:
        return each
    subject, predicate = each.subject, each.predicate
    if isinstance(subject, q.Quantified):
        if subject.quantity is not q.Quantity.NO:
            return each
        subject, predicate = subject.term, denying(predicate)
    return replace(each, asked=q.Which(subject, predicate), predicate=None)


def _of_the_list(each: Said, found: Sequence[tuple[Part, list[Said]]]) -> Said:
    """`… and which one takes it off`: of those that were asked about before."""
    before = found[-1][1] if found else []
    asked = before[0].asked if before else None
    listed = isinstance(asked, q.Which) and isinstance(asked.subject, q.And)
    own = each.asked
    if not listed or not isinstance(own, q.Which) or own.subject != WASHES:
        return each
    assert isinstance(asked, q.Which)
    return replace(each, asked=replace(own, subject=asked.subject))


def _held(each: Said, last: Said | None) -> Said:
    """What is said of a kind of product that was said before to contain something.

    `My shampoo has no sulfates. Does it …`: the question is about such washes.
    """
    if last is None or last.subject is None or last.predicate is None:
        return each
    held = _contents(last.predicate)
    base = last.subject.term if isinstance(last.subject, q.Such) else last.subject
    if held is None or not isinstance(base, q.Name) or not last.general:
        return each
    if each.subject is None or each.predicate is None:
        return each
    if isinstance(each.predicate, q.Stays) and each.subject in _held_in(held):
        # `if a shampoo has X, does X stay`: such washes leave it.
        left = q.Leaves(each.subject, each.predicate.circumstances)
        washes, used = q.narrowed(base, held), each.used | last.used
        return replace(
            each, subject=washes, predicate=left, used=used, single=False, folded=True
        )
    own = q.unquantified(each.subject)
    if own != last.subject:
        return each
    narrow = q.narrowed(own, held)
    subject: q.Term = narrow
    if isinstance(each.subject, q.Quantified):
        subject = replace(each.subject, term=narrow)
    return replace(each, subject=subject, used=each.used | last.used, folded=True)


def _of_what_is_in(each: Said, last: Said | None) -> Said:
    """`P has F in it, so it coats my hair`: that P leaves F."""
    if last is None or each.subject is None or each.subject != last.subject:
        return each
    held, said_ = last.predicate, each.predicate
    bare_ = isinstance(held, q.Contains) and isinstance(held.object, q.Name)
    if not bare_ or not isinstance(said_, q.Leaves) or said_.object != anything():
        return each
    assert isinstance(held, q.Contains)
    return replace(each, predicate=replace(said_, object=held.object))


def _held_in(said_: q.Predicate) -> tuple[q.Term, ...]:
    """What a label has by a condition on it."""
    return q.members(said_.object) if isinstance(said_, q.Contains) else ()


def _of_the_film(each: Said, last: Said | None) -> Said:
    """`P has F in it. Do I need W?`: whether F does."""
    needs = isinstance(each.predicate, q.Needs) and each.subject is not None
    if last is None or not needs or each.subject != last.subject:
        return each
    held = last.predicate
    if not isinstance(held, q.Contains) or isinstance(held.object, q.Quantified):
        return each
    return replace(each, subject=held.object)


def _contents(said_: q.Predicate) -> q.Predicate | None:
    """A predicate as a condition on a label, if it is one."""
    core = q.asked_act(said_)
    if not isinstance(core, q.Contains) or core.level is not None:
        return None
    if isinstance(core.object, q.Quantified):
        if core.object.quantity is q.Quantity.NO:
            return q.Not(q.Contains(core.object.term))
        return replace(core, object=core.object.term)
    return said_


def _asking(pieces: Sequence[Piece]) -> frozenset[str]:
    """How a text asks: by the keys of its words, and `question` for its mark."""
    found = {p.entry.key for p in pieces if p.entry.section == "ask"}
    found |= {e.key for p in pieces for e in p.other if e.section == "ask"}
    if any(p.words[0] == "?" for p in pieces):
        found.add("question")
    first = next((p for p in pieces if p.role != "idle:words"), None)
    if first is not None and first.does("verb:be"):
        found.add("whether")
    return frozenset(found)


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
