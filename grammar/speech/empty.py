"""Questions that ask nothing: of all ingredients at once, or of a thing and itself."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.record import Record, records
from abluent.grammar.frames.clause import WASHES
from abluent.grammar.query import tree as q

_EVERYTHING = q.Name("ingredients")


def is_empty(query: q.Query) -> bool:
    """Whether a question asks of all ingredients, or of nothing in particular."""
    if isinstance(query, q.Argue):
        steps = query.statements
        return _are_at_odds(steps) or any(map(_is_idle_step, steps))
    if isinstance(query, q.Which) and _is_water(query.subject):
        return True
    if isinstance(query, q.Rank) and isinstance(query.things, q.Name):
        # One thing by its name has no rank.
        return query.things.text[:1].isupper()
    return _is_hollow(query) or any(map(_takes_from_washes, records(query)))


def _is_idle_step(said: q.Statement) -> bool:
    """Whether a step says nothing: `some washes clear anything`."""
    acts = q.asked_act(said.predicate)
    if _needs_nothing(acts):
        return True
    of_all = q.unquantified(said.subject) == WASHES and isinstance(acts, q.Clears)
    if not of_all or not isinstance(acts, q.Clears) or acts.source is not None:
        return False
    return q.unquantified(acts.object) == q.Thing()


def _takes_from_washes(node: Record) -> bool:
    """Whether washes are what something is taken off: `clears all from washes`."""
    return isinstance(node, q.Clears) and node.source == WASHES


def _is_hollow(query: q.Query) -> bool:
    """Whether one question or statement says nothing in particular."""
    match query:
        case q.Which(predicate=q.Clears(object=term)) | q.Define(term=term):
            return term == _EVERYTHING
        case q.Claim(statement=said_) | q.Whether(statement=said_):
            bare = said_.subject
            bare = q.unquantified(bare)
            core = said_.predicate
            core = q.asked_act(core)
            odd = _is_odd(bare, core) or _of_itself(bare, core)
            if odd or _holds_things(bare) or _is_idle_step(said_):
                return True
            return _needs_nothing(core) or bare == _EVERYTHING
        case q.Which(predicate=acts):
            return _leaves_washes(acts)
        case q.Compare(things=things, film=film):
            return isinstance(film, q.Thing) or not _are_sides(things)
        case _:
            return False


def _needs_nothing(said: q.Predicate) -> bool:
    """Whether nothing in particular is said to be needed."""
    return isinstance(said, q.Needs) and isinstance(said.object, q.Thing)


def _are_sides(things: q.Term) -> bool:
    """Whether things can be set side by side: no thing twice, and no list in one."""
    sides = q.members(things)
    lists = any(isinstance(each, q.And | q.Or) for each in sides)
    return len(set(sides)) == len(sides) and not lists


def _is_odd(subject: q.Term, said: q.Predicate) -> bool:
    """Whether nobody says so: that things are resins, or that washes are left."""
    return (subject == q.Thing() and isinstance(said, q.Is)) or _leaves_washes(said)


def _leaves_washes(acts: q.Predicate | None) -> bool:
    """Whether washes are said to be what is left behind."""
    if not isinstance(acts, q.Leaves):
        return False
    base = acts.object.term if isinstance(acts.object, q.Such) else acts.object
    return base == WASHES


def _of_itself(subject: q.Term, said: q.Predicate) -> bool:
    """Whether something is set against itself: `X is harder to clear than X`."""
    if not isinstance(said, q.Resists | q.Differs | q.Outdoes | q.Clears | q.Is):
        return False
    other = getattr(said, "than", None) or getattr(said, "object", None)
    within = q.members(q.unquantified(other)) if other else ()
    return subject in within


def _holds_things(subject: q.Term) -> bool:
    """Whether it is said of washes with things in them: all have some."""
    held = subject.conditions if isinstance(subject, q.Such) else ()
    return q.Contains(q.Thing()) in held


def _is_water(subject: q.Term) -> bool:
    """Whether it is asked which water: there is but one."""
    base = subject.term if isinstance(subject, q.Such) else subject
    return base == q.Name("water")


def _are_at_odds(statements: Sequence[q.Statement]) -> bool:
    """Whether of the same thing it is said that it builds up and needs no wash."""
    stays = {e.subject for e in statements if isinstance(e.predicate, q.Stays)}
    return any(e.subject in stays and _needs_none(e.predicate) for e in statements)


def _needs_none(said: q.Predicate) -> bool:
    if not isinstance(said, q.Needs):
        return False
    needed = said.object
    return isinstance(needed, q.Quantified) and needed.quantity is q.Quantity.NO
