"""A subject and a predicate as a statement, its denial where the language has it."""

from __future__ import annotations

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import NO_WASH, Clause, Said
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.query import tree as q

_WHOLE = (None, q.Quantity.EVERY)


def stated(
    clause: Clause, subject: Noun, predicate: q.Predicate, used: frozenset[int]
) -> Said:
    """A statement, its denial put where the language has it."""
    term, denied = subject.whole, clause.denied
    quantity = subject.quantity
    spared = [n for n in clause.led_by("except") if n.has(*subject.kinds)]
    apart = spared and quantity in _WHOLE and (subject.general or subject.has("thing"))
    if apart:
        term = _all_but(subject, spared[0])
        used |= clause.used(spared[0], verbs=clause.where("small:except"))
    if apart and (denied or isinstance(predicate, q.Not)):
        return Said(term, predicate, used=used, doubt=0.3, general=True)
    some = quantity is q.Quantity.SOME and subject.any
    if some and clause.asks("whether") and subject.has("kind") and not denied:
        # `do any of my conditioners …` asks which.
        which = q.Which(subject.term, predicate)
        return Said(asked=which, used=used, slot="subject")
    if some:
        quantity = q.Quantity.EVERY
        term = q.Quantified(quantity, subject.term)
    if denied and quantity is q.Quantity.NO:
        denied = False
    if clause.where("quantity:not_every") and subject.general:
        # `not all silicones build up`: some do not.
        term, quantity = q.Quantified(q.Quantity.SOME, subject.term), q.Quantity.SOME
        denied = not denied
    if denied and isinstance(predicate, q.Not):
        # `is not sulfate-free`
        predicate, denied = predicate.part, False
    if denied and (subject.general or quantity is q.Quantity.EVERY):
        if quantity in (None, q.Quantity.EVERY):
            term, denied = q.Quantified(q.Quantity.NO, subject.term), False
    if denied and predicate == NO_WASH:
        # What neither water nor air takes off builds up.
        predicate, denied = q.Stays(), False
    if denied:
        predicate = denying(predicate)
    asked = _asked_of(clause, subject, predicate, denied=denied)
    if asked is not None:
        return Said(asked=asked, used=used, slot="subject")
    single = not subject.general and quantity is None
    doubt = 0.5 if clause.asks("define", "what") else 0.0
    return Said(
        term, predicate, single=single, used=used, doubt=doubt, general=subject.general
    )


def _asked_of(
    clause: Clause, subject: Noun, predicate: q.Predicate, *, denied: bool
) -> q.Plain | None:
    """How many, or which, of some things it is said of, where that is asked."""
    several = len(q.members(subject.term)) > 1
    if subject.quantity is not None or not (subject.general or several):
        return None
    members = q.And(q.members(subject.term)) if several else subject.term
    said = q.Not(predicate) if clause.denied else predicate
    if clause.asks("how_many"):
        return q.HowMany(q.Which(members, said))
    if several and clause.asks("which") and _leads(clause, subject):
        # `which of A, B and C …`
        return q.Which(members, predicate if clause.denied and denied else said)
    return None


def _leads(clause: Clause, subject: Noun) -> bool:
    """Whether no other noun stands between what asks and a list."""
    first = next((n for n in clause.nouns if not n.has("thing")), None)
    return first is not None and first.first == subject.first


def denying(said: q.Predicate) -> q.Predicate:
    """A denial; of what is done to some, one of what is done to any."""
    if isinstance(said, q.Clears | q.Leaves | q.Contains):
        some = said.object
        if isinstance(some, q.Quantified) and some.quantity is q.Quantity.SOME:
            if some.term != q.Thing():
                none = replace(some, quantity=q.Quantity.NO)
                return replace(said, object=none)
    return q.Not(said)


def _all_but(subject: Noun, spared: Noun) -> q.Term:
    """`silicones except F`, `everything in P except F`: all the others."""
    if subject.has("thing"):
        return q.Quantified(q.Quantity.EVERY, q.Except(subject.term, spared.term))
    return q.Except(subject.whole, spared.term)
