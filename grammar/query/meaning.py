"""A predicate in its simplest equal form: what the lists and quantities mean.

    clear A and B          clear A and clear B
    clear A or B           clear A or clear B
    clear no A             not clear some A
    clear only A           clear some A and not clear something except A

What remains as an object is a set, or a set under `every`, `some` or a count; a set
without a quantity is all of it after `clear`, `need` and `is enough for`, and some
of it after the other verbs.
"""

from __future__ import annotations

from abluent.grammar.common.record import replace
from abluent.grammar.query import terms as q

_ALL_OF_IT = (q.Clears, q.Needs, q.Suffices)
_SPREAD = (
    *(q.Clears, q.Outdoes, q.Leaves, q.Contains, q.Hides, q.Suffices),
    *(q.Differs, q.Resists, q.Is, q.Undergoes),
)


def simplified(said: q.Predicate) -> q.Predicate:
    """The same predicate with one set as the object of each verb."""
    match said:
        case q.Not(part=part):
            return replace(said, part=simplified(part))
        case q.Both(parts=parts) | q.Either(parts=parts):
            return replace(said, parts=tuple(simplified(part) for part in parts))
        case _ if isinstance(said, _SPREAD):
            return _spread(said, said.object)
        case _:
            return said


def _spread(said: q.Predicate, term: q.Term) -> q.Predicate:
    """A verb over the members of a list, each as an object of its own."""
    match term:
        case q.And(terms=terms):
            return q.Both(tuple(_spread(said, each) for each in terms), span=said.span)
        case q.Or(terms=terms):
            return q.Either(
                tuple(_spread(said, each) for each in terms), span=said.span
            )
        case q.Quantified(quantity=q.Quantity.NO):
            return q.Not(_some(said, term.term), span=said.span)
        case q.Quantified(quantity=q.Quantity.ONLY):
            others = q.Except(q.Thing(), term.term, span=term.span)
            denied = q.Not(_some(said, others), span=said.span)
            return q.Both((_some(said, term.term), denied), span=said.span)
        case _:
            return _of(said, term)


def _some(said: q.Predicate, term: q.Term) -> q.Predicate:
    return _of(said, q.Quantified(q.Quantity.SOME, term, span=term.span))


def _of(said: q.Predicate, term: q.Term) -> q.Predicate:
    """A verb with one object; being one of a set needs no quantity."""
    if isinstance(said, q.Is) and isinstance(term, q.Quantified) and term.count is None:
        return _spread(said, term.term)
    return replace(said, object=term)


def quantity(said: q.Predicate) -> q.Quantity:
    """The quantity of a verb's object: as written, or the one that it has by itself.

    Raises:
        ValueError: the predicate has no object.
    """
    term = getattr(said, "object", None)
    if term is None:
        raise ValueError(f"no object: {said}")
    if isinstance(term, q.Quantified):
        return term.quantity
    return q.Quantity.EVERY if isinstance(said, _ALL_OF_IT) else q.Quantity.SOME
