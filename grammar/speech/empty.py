"""Questions that ask nothing: of all ingredients at once, or of a thing and itself."""

from __future__ import annotations

from abluent.grammar.frames.clause import WASHES
from abluent.grammar.query import tree as q

_EVERYTHING = q.Name("ingredients")


def is_empty(query: q.Query) -> bool:
    """Whether a question asks of all ingredients, or of nothing in particular."""
    match query:
        case q.Which(predicate=q.Clears(object=term)) | q.Define(term=term):
            return term == _EVERYTHING
        case q.Claim(statement=said_) | q.Whether(statement=said_):
            bare = said_.subject
            bare = bare.term if isinstance(bare, q.Quantified) else bare
            core = said_.predicate
            core = core.part if isinstance(core, q.Not) else core
            if _is_odd(bare, core) or _of_itself(bare, core):
                return True
            loose = isinstance(core, q.Needs) and isinstance(core.object, q.Thing)
            return loose or bare == _EVERYTHING
        case q.Which(predicate=acts):
            return _leaves_washes(acts)
        case q.Compare(things=things, film=film):
            return isinstance(film, q.Thing) or not _are_sides(things)
        case _:
            return False


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
    other = other.term if isinstance(other, q.Quantified) else other
    within = q.members(other) if other else ()
    return subject in within
