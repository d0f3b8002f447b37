"""What one product leaves, by what becomes of it: stays, loosens in water, goes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.contract import LEAVES_NONE, RESISTS, YIELDS
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.folding import film_of
from abluent.engine.questions.answers.graded import SURELY, Kind, graded
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.world import World
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q

_NAMED, _WHYS, _FILMS = 6, 2, 3
"""So many things are named, so many reasons told, so many films that may stay."""
_MOST = 16
"""Of so many washes it is told which take it off."""


def loosens(row: Left) -> bool:
    """Whether water alone is known to take a part of it, and not known to leave any."""
    world, match = row.case.world, row.case.model.match
    water = world.known.water_symbol
    part, whole = map(world.base.term, (Role.PART_OF_IT, Role.ALL_OF_IT))
    if any(match(RESISTS, (water, row.film, None, whole))):
        return False
    return any(any(match(YIELDS, (water, row.film, None, x))) for x in (part, whole))


def told_besides(rows: Sequence[Left], others: Sequence[Left]) -> str:
    """What of it water alone takes some of, and what does not stay at all."""
    told = []
    soft = [_name(row) for row in rows if row.sure and loosens(row)]
    if soft:
        told.append(f"Water alone takes some of {listed(soft, _NAMED)}")
    gone = [row for row in others if row.how == LEAVES_NONE]
    if len(gone) == 1:
        told.append(gone[0].reasons[-1])
    elif gone:
        told.append(f"{listed([*map(_name, gone)], _NAMED)} do not stay")
    return "".join(f" {as_sentence(each)}" for each in told)


def names_read(world: World, product: str) -> str:
    """Over how many names it was looked, where nothing is known to stay."""
    if product not in world.products:
        return ""
    readings = world.read(product).readings
    known = sum(reading.symbol is not None for reading in readings)
    more = len(readings) - known
    unread = f", {more} more not understood" if more else ""
    return f" Looked at: {known} name{'s' * (known != 1)} on its list{unread}."


def why_it_stays(rows: Sequence[Left]) -> Iterator[str]:
    """Why what is left stays, that first which is so of most."""
    found: dict[str, list[str]] = {}
    for row in rows:
        found.setdefault(_why(row), []).append(_name(row))
    for why, names in sorted(found.items(), key=lambda each: -len(each[1]))[:_WHYS]:
        who = f"{listed(names, _FILMS)}: " if len(found) > 1 else ""
        yield f"Why it is left: {who}{why}"


def _why(row: Left) -> str:
    """The claim by which something is left, as it is told aloud, or else the rule."""
    base = row.case.world.base
    for claim in row.claims[:1]:
        record = base.record(claim)
        told = record.text("plainly") or record.text("statement")
        return as_sentence(told or base.label(claim))
    return as_sentence(row.reasons[-1].replace(_name(row), "it"))


def at_hand(judge: Judge, product: str, rows: Sequence[Left]) -> Iterator[str]:
    """Which washes at hand take what one product leaves, and which leave least."""
    washes = [wash for wash in judge.nouns.washes if wash.key != product]
    if not rows or not 0 < len(washes) <= _MOST:
        return
    source = q.Name(product)
    clears = q.Clears(q.Quantified(q.Quantity.EVERY, q.Thing()), source=source)
    judged = judge.judge(washes, clears)
    found = [r for w in washes for r in judged[w].rows if isinstance(r, Verdict)]
    if not found or any(row.case.at_a_glance for row in found):
        return
    told = graded(found)
    sure = [w for each in told if each.kind in SURELY for w in each.washes]
    some = [each for each in told if each.kind is Kind.SOME][:1]
    parts = []
    if sure:
        take = "takes" if len(sure) == 1 else "take"
        parts.append(
            f"{listed(_mildest(judge, sure), _NAMED)} {take} some of all of it"
        )
    for each in some:
        base = found[0].case.world.base
        films = listed([base.label(film_of(film)[0]) for film in each.stays], _FILMS)
        take = "takes" if len(each.washes) == 1 else "take"
        names = listed(_mildest(judge, each.washes), _NAMED)
        parts.append(f"{names} {take} some, but perhaps none of {films}")
    if parts:
        yield f"At hand against it, the mildest first: {'; '.join(parts)}."


def _mildest(judge: Judge, names: Sequence[str]) -> list[str]:
    items = [item for item in judge.nouns.washes if item.key in names]
    return [item.key for item in judge.mildness.mildest(items)]


def _name(row: Left) -> str:
    return row.case.world.base.label(row.film)
