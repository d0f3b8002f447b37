"""The clauses of a saying one after the other, each read in the light of the last.

What `it`, a lacking subject or `the coat` stands for, and what a clause of a name alone
says again, is taken from what was said before.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import WASHES, Clause, Said
from abluent.grammar.frames.residue import anything
from abluent.grammar.frames.statement import denying
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q
from abluent.grammar.speech.clauses import like, said
from abluent.grammar.speech.conjoined import those_that_do
from abluent.grammar.speech.parting import (
    Earlier,
    Part,
    completed,
    is_name,
    nouns_at,
    parts,
)
from abluent.grammar.speech.roles import is_told_with

Read: TypeAlias = list[tuple[Part, list[Said]]]
"""Each clause with its readings, best first."""


class _Course:
    """What was said so far."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self.pieces = pieces
        self.found: Read = []
        self.earlier = Earlier()
        self.last: Said | None = None
        self.acting: Said | None = None
        self.asked: frozenset[str] = frozenset()

    def go_on(self, clause: Part) -> None:
        """Read the next clause."""
        places = completed(self.pieces, clause, self.earlier)
        read = self._readings(clause, places)
        read = [self._of_last(each) for each in read]
        read = [_of_the_list(each, self.found) for each in read]
        if "which" in self.asked and places != clause.places:
            read = [_as_which(each) for each in read]
        own = [self.pieces[at] for at in clause.places]
        if any(each.does("small:pronoun") for each in own):
            # What a pronoun stands for is a guess, and so is asked about.
            read = [replace(each, doubt=each.doubt + 0.1) for each in read]
        self.asked = asking(own) or self.asked
        self.found.append((clause, read))
        self.earlier = nouns_at(self.pieces, places, self.earlier)
        stated = (each for each in read if each.predicate is not None)
        self.last = next(stated, self.last)
        self.acting = next(filter(_acts, read), self.acting)

    def _of_last(self, each: Said) -> Said:
        """What is said, in the light of what was said last."""
        return _of_the_film(
            _held(_of_what_is_in(each, self.last), self.last), self.last
        )

    def _readings(self, clause: Part, places: tuple[int, ...]) -> list[Said]:
        """What a clause can say, before what was said is brought to bear on it."""
        own = [self.pieces[at] for at in places]
        unless, last = clause.link == "unless", self.last
        if self.acting is not None and self._was_told():
            last = self.acting
        read = like(own, places, last, against=unless) if last is not None else []
        same = those_that_do([self.pieces[at] for at in clause.places], self.last)
        if same is not None:
            used = same.used | frozenset(places)
            read = [replace(same, used=used), *read]
        return read or said(own, places) or self._what_is_left(places)

    def _was_told(self) -> bool:
        """Whether the clause before tells what is on a label: `when it has no F`."""
        return bool(self.found) and is_told_with(self.pieces, self.found[-1][0])

    def _what_is_left(self, places: Sequence[int]) -> list[Said]:
        """`P leaves my hair coated. What is the coat?`: what P leaves."""
        own = [self.pieces[at] for at in places]
        asks = any(each.does("ask:define", "ask:what") for each in own)
        coat = any(each.does("verb:leave") for each in own)
        if not asks or not coat or any(map(is_name, own)):
            return []
        before = self.earlier.subject
        nouns = Clause([self.pieces[at] for at in before], before).nouns
        used = frozenset((*places, *before))
        return [
            Said(asked=q.What(each.term, q.Leaves(q.Thing())), used=used, slot="object")
            for each in nouns
            if each.has("product")
        ][:1]


def read_clauses(pieces: Sequence[Piece]) -> Read:
    """Each clause of a text with its readings, best first."""
    course = _Course(pieces)
    for clause in parts(pieces):
        course.go_on(clause)
    return course.found


def _acts(each: Said) -> bool:
    """Whether something is taken off, left or stays by what is said."""
    said_ = q.asked_act(each.predicate) if each.predicate is not None else None
    return isinstance(said_, q.Clears | q.Leaves | q.Stays)


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


def _of_the_list(each: Said, found: Read) -> Said:
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


def asking(pieces: Sequence[Piece]) -> frozenset[str]:
    """How some pieces ask: by the keys of its words, and `question` for its mark."""
    found = {p.entry.key for p in pieces if p.entry.section == "ask"}
    found |= {e.key for p in pieces for e in p.other if e.section == "ask"}
    if any(p.words[0] == "?" for p in pieces):
        found.add("question")
    first = next((p for p in pieces if p.role != "idle:words"), None)
    if first is not None and first.does("verb:be"):
        found.add("whether")
    return frozenset(found)
