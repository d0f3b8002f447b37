"""What a list of washes says: which of them take it off well, or in part, by name."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.folding import film_key
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_term
from abluent.shell.told.asking import Asking
from abluent.shell.told.spoken_names import aloud, spoken_alone
from abluent.shell.told.washes import Washes

NAMED = 3
"""So many washes are named in a heading."""
_FEW = 3
_SHORT, _LONG_TERM = 28, 44
_EXTENTS = (q.Extent.FULLY, q.Extent.SURELY, q.Extent.AT_LEAST_PARTLY)


def what_is_taken(said: q.Clears) -> str:
    """What is asked to be taken off, in everyday words."""
    source = print_term(said.source).replace('"', "") if said.source else ""
    if is_all(said.object):
        return f"everything that {source} leaves" if source else "everything"
    told = print_term(said.object).replace('"', "")
    the = "the " if source and not isinstance(said.object, q.Quantified) else ""
    return f"{the}{told} that {source} leaves" if source else told


def is_all(term: q.Term) -> bool:
    """Whether all things are meant, whatever they are."""
    every = isinstance(term, q.Quantified) and term.quantity is q.Quantity.EVERY
    inner = term.term if isinstance(term, q.Quantified) and every else term
    return isinstance(inner, q.Thing)


def each_is_asked(asking: Asking) -> bool:
    """Whether each of some films must go, and not most of their kind."""
    said = asking.act
    if not isinstance(said, q.Clears):
        film = getattr(asking.query, "film", None)
        return not isinstance(film, q.Name)
    return said.source is not None or not isinstance(said.object, q.Name)


def by_grade(
    found: Sequence[Verdict], asking: Asking, so: Sequence[Verdict] = ()
) -> str:
    """Which of several washes take something off, in one sentence, best first.

    Empty where that is asked otherwise. `so` are the verdicts that were asked for.
    """
    said = asking.act
    judged = [row for row in found if row.role is not Role.NO_WASH_NEEDED]
    if not judged or not isinstance(asking.query, q.Which):
        return ""
    if not isinstance(said, q.Clears) or said.extent not in _EXTENTS:
        return ""
    washes = Washes(found, worst=each_is_asked(asking))
    what = _what(said, judged)
    if isinstance(asking.query.predicate, q.Not):
        names = list(dict.fromkeys(row.wash for row in so))
        return _those(names, len(washes.grades), "hardly take{s} off {}", what)
    grades = washes.by_grade()
    if not grades:
        return f"No wash here takes off {what} without putting it back on."
    mildest = _mildest(asking, so or judged, what)
    role, names = next(iter(grades.items()))
    told = mildest or _told(role, names, len(washes.grades), what)
    return f"{_among(asking.query)}{told}"


def _among(query: q.Which) -> str:
    """Of which washes that is said, where not of all, before a sentence."""
    those = print_term(query.subject).replace('"', "")
    return (
        f"Of {those}: " if 1 < len(those.split()) and len(those) <= _LONG_TERM else ""
    )


def _told(role: Role, names: Sequence[str], every: int, what: str) -> str:
    """What the best of some washes do."""
    short = len(what) <= _SHORT
    well = "take{s} {} off well" if short else "work{s} well on {}"
    said = {
        Role.CLEARED: "take{s} off all of {}",
        Role.AT_LEAST_PARTLY: well,
        Role.PARTLY_CLEARED: "take{s} off {}, but only in part"
        if " leaves" not in what
        else "take{s} off part of {}",
    }
    if role in said:
        return _those(names, every, said[role], what)
    none = "Neither of these two washes" if every == 2 else f"None of {every} washes"
    if role is Role.OPEN:
        return f"We cannot tell which of {every} washes takes off {what}."
    does = "does much for" if role is Role.AT_MOST_PARTLY else "takes off any of"
    return f"{none} {does} {what}."


def _those(names: Sequence[str], every: int, said: str, what: str) -> str:
    """Some washes by name, or how many they are, with what they do."""
    who = listed(names)
    if len(names) > NAMED:
        who = f"{len(names)} of {every} washes"
    if len(names) == every > NAMED:
        who = f"All {every} washes"
    told = said.format(what, s="s" * (len(names) == 1))
    return f"{who} {told}." if names else ""


def _mildest(asking: Asking, judged: Sequence[Verdict], what: str) -> str:
    """The mildest of the washes that take some of all that was asked about."""
    query = asking.query
    if not isinstance(query, q.Which) or query.order is not q.Order.MILDEST:
        return ""
    rows = [row for row in judged if row.role is not Role.NO_WASH_NEEDED]
    least = {row.wash for row in rows if ENDS[row.role][0] is Role.NONE_OF_IT}
    taking = [w for w in dict.fromkeys(r.wash for r in rows) if w not in least]
    if not taking:
        return ""
    first, *rest = taking
    mine = [row for row in rows if row.wash == first]
    whole = all(ENDS[row.role][1] is Role.ALL_OF_IT for row in mine)
    much = what if whole else f"part of {what}"
    if not rest or query.limit == 1:
        return f"{first} is the mildest that takes off {much}."
    return f"{first}, then {rest[0]}: the mildest that take off {much}."


def _what(said: q.Clears, judged: Sequence[Verdict]) -> str:
    """What is asked to be taken off: up to three films by name."""
    what = what_is_taken(said)
    films = {film_key(row) for row in judged}
    if len(films) == 1:
        row = judged[0]
        whose = f" from {row.source}" if row.source else ""
        return f"{aloud(row.case.world.base, row.film)}{whose}"
    if len(films) <= _FEW and isinstance(said.object, q.And | q.Or):
        names = [spoken_alone(aloud(r.case.world.base, r.film)) for r in judged]
        named = list(dict.fromkeys(names))
        between = " or " if isinstance(said.object, q.Or) else " and "
        return f"{', '.join(named[:-1])}{between}{named[-1]}"
    if len(what) > _LONG_TERM and not is_all(said.object):
        return f"these {len(films)}"
    return what
