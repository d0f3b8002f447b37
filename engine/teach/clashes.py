"""What an addition says that cannot all be so, and the claims that speak against it.

The base refuses stated kinds that share no member; here the kinds that follow by
definition are looked at too, each with the steps that lead to it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations
from typing import TYPE_CHECKING, NamedTuple

from abluent.engine.base.contract import ISA
from abluent.engine.base.roles import EFFECTS, Role
from abluent.engine.faults import Problem
from abluent.engine.questions.world.case import Case
from abluent.grammar.common.text import in_words

if TYPE_CHECKING:
    from abluent.engine.base.store import Base
    from abluent.engine.questions.world.world import World


def clashes(world: World, symbols: Iterable[str]) -> Iterator[Problem]:
    """Find ingredients that would be of two kinds that share no member.

    Args:
        world: the base with the addition, and its rules.
        symbols: what the addition describes; if a kind is among it, every
            ingredient is looked at.
    """
    base = world.base
    touched = list(symbols)
    if any(base.record(symbol).space == "abl" for symbol in touched):
        touched = base.instances(base.term(Role.INGREDIENT))
    for symbol in touched:
        if symbol in world.known.ingredients:
            yield from _apart(world, symbol)
            yield from _unlike(base, symbol)


def _apart(world: World, symbol: str) -> Iterator[Problem]:
    base = world.base
    for one, other in combinations(base.classes_of(symbol), 2):
        pairs = ((one, other), (other, one))
        if any(b in base.record(a).links("disjoint") for a, b in pairs):
            what = (
                f"{_named(base, symbol)} would be both {_a(base, one)} "
                f"and {_a(base, other)}, which share no member"
            )
            steps = dict.fromkeys(
                [*_steps(world, symbol, one), *_steps(world, symbol, other)]
            )
            hint = f"because: {'; '.join(steps)}. Take one of the two away"
            yield Problem(what, hint=hint)


def _steps(world: World, symbol: str, kind: str) -> Sequence[str]:
    from abluent.engine.questions.answers.explained import Explained

    case = Case.of(world, more=world.known.about([symbol]))
    if (symbol, kind) not in set(case.model.match(ISA)):
        return [f"{world.base.label(symbol)} is {_a(world.base, kind)}"]
    row = Explained(case, (ISA, (symbol, kind)))
    return [text.rstrip(".") for text in row.reasons]


def _unlike(base: Base, symbol: str) -> Iterator[Problem]:
    """Find properties that differ from what every member of a kind has."""
    record = base.record(symbol)
    traits = (base.terms(r) for r in (Role.CHARGE, Role.WATER_SOLUBILITY))
    for name in (name for names in traits for name in names):
        stated = record.link(name)
        for kind in base.classes_of(symbol):
            implied = base.implied(kind, name)
            if stated and isinstance(implied, str) and implied != stated:
                what = (
                    f"the {in_words(name)} of {_named(base, symbol)} is "
                    f"{base.label(stated)}, "
                    f"but every {base.label(kind)} is {base.label(implied)}"
                )
                yield Problem(what, hint="change the one or the other")
                break


def _named(base: Base, symbol: str) -> str:
    return f"`{base.record(symbol).space}:{symbol}`"


def _a(base: Base, kind: str) -> str:
    label = base.label(kind)
    return f"an {label}" if label[:1].casefold() in "aeiou" else f"a {label}"


# -- claims --------------------------------------------------------------------


class Against(NamedTuple):
    """A claim that says something else of the same films and agents.

    Args:
        claim: its symbol.
        says: its statement, with its standing and works.
        bearing: which of the two counts where, and why both apply.
    """

    claim: str
    says: str
    bearing: str


def against(base: Base, symbols: Iterable[str]) -> list[Against]:
    """Return the claims about removal that a new one parts from, the nearest first."""
    new = [symbol for symbol in symbols if _ends(base, symbol)]
    found = [
        (rank, Against(old, _says(base, old), bearing))
        for claim in new
        for old in sorted(base.symbols)
        if old not in new and _ends(base, old)
        for rank, bearing in _bearing(base, claim, old)
    ]
    return [each for _, each in sorted(found)]


def _bearing(base: Base, new: str, old: str) -> Iterator[tuple[int, str]]:
    one, other = base.record(new), base.record(old)
    mine, theirs = _ends(base, new), _ends(base, old)
    if mine is None or theirs is None:
        return
    if mine[0] <= theirs[1] and theirs[0] <= mine[1]:
        return  # both can be so
    if sorted(one.links("when")) != sorted(other.links("when")):
        return
    linked = [(one.link(name), other.link(name)) for name in ("agent", "film")]
    pairs = [(a, b) for a, b in linked if a is not None and b is not None]
    ways = [_way(base, a, b) for a, b in pairs]
    if len(ways) < 2 or None in ways:
        return
    below = [base.label(b) for (_, b), way in zip(pairs, ways, strict=True) if way == 1]
    above = [base.label(b) for (_, b), way in zip(pairs, ways, strict=True) if way == 2]
    if not below and not above:
        yield 0, "it is about exactly the same; of equal rank, they make it disputed"
    elif not above:
        wide = " and ".join(dict.fromkeys(below))
        yield 1, f"it is more general (about any {wide}): yours counts in its place"
    elif not below:
        narrow = " and ".join(dict.fromkeys(above))
        yield 2, f"it is more exact (about {narrow}): it counts there, not yours"
    else:
        yield 3, "each is the more exact in one respect; where both apply they part"


def _ends(base: Base, claim: str) -> tuple[int, int] | None:
    """What a claim says is taken at least and at most; nothing if it bounds nothing."""
    order = [base.term(each) for each in EFFECTS]
    record = base.record(claim)
    least, most = record.link("atLeast"), record.link("atMost")
    if least is None and most is None:
        return None
    low = order.index(least) if least in order else 0
    return low, order.index(most) if most in order else len(order) - 1


def _way(base: Base, new: str, old: str) -> int | None:
    """Return 0 if two are the same, 1 if the old is wider, 2 if the new is."""
    if new == old:
        return 0
    if old in _above(base, new):
        return 1
    return 2 if new in _above(base, old) else None


def _above(base: Base, symbol: str) -> set[str]:
    if base.is_class(symbol):
        return set(base.ancestors(symbol)) - {symbol}
    return set(base.classes_of(symbol))


def _says(base: Base, claim: str) -> str:
    record = base.record(claim)
    works = ", ".join(base.label(s).rstrip(".") for s in record.basis.sources)
    return f"{base.label(claim)} ({in_words(record.basis.standing)}; {works})"
