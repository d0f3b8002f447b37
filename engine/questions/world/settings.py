"""The settings that bounds are judged in: ways of washing that some bound depends on.

A bound may hold under a condition, such as one of water. A setting has one condition
for each aspect of washing that some bound asks about; where several are possible and
nobody said which, a verdict is judged in each. Nothing here knows a condition by name.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from itertools import product

from abluent.engine.base.conditions import aspect_of, implied, laid_over
from abluent.engine.base.contract import NAMED_ALONE, SETS, SETTING
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis, Fact

_BOUNDS = ("atLeast", "atMost")
_SHARE = "shareLow"
_ALWAYS = "alwaysOne"
_WITHDRAWS = "withdraws"
_THINGS = ("agent", "film", "exceptAgent", "exceptFilm")
_BASIS = Basis(origin="the conditions of the base")
ANY_WAY = "in any way"
"""What the only setting is called where no bound depends on how hair is washed."""


def setting_facts(base: Base) -> Iterator[Fact]:
    """A fact for each setting that is judged where nobody said anything else."""
    for conditions in settings(base):
        yield from _facts(base, conditions)


def special_facts(base: Base, stated: Collection[str]) -> Iterator[Fact]:
    """The facts of further settings that what was said calls for; mostly none.

    Args:
        base: the base.
        stated: the conditions that are said to be the case.
    """
    reached = {wider for each in stated for wider in implied(base, each)}
    if all(base.record(each).truth(_ALWAYS) for each in reached):
        return
    usual = {each for setting in settings(base) for each in setting}
    special = sorted((reached & _asked_about(base)) - usual)
    if special:
        for setting in settings(base):
            kept = laid_over(base, setting, sorted(stated))
            yield from _facts(base, [*special, *(c for c in kept if c in setting)])


def _facts(base: Base, conditions: Sequence[str]) -> Iterator[Fact]:
    name = ", ".join(base.label(each) for each in conditions) or ANY_WAY
    yield Fact(SETTING, (name,), _BASIS)
    meant = {wider for each in conditions for wider in implied(base, each)}
    yield from (Fact(SETS, (name, each), _BASIS) for each in sorted(meant))


def named_alone(base: Base) -> Iterator[Fact]:
    """A fact for each class of an ingredient that some bound names by itself."""
    kind = base.term(Role.INGREDIENT)
    for claim in base.instances("Claim"):
        if _is_bound(base, claim):
            record = base.record(claim)
            things = {t for name in _THINGS for t in record.links(name)}
            for thing in sorted(t for t in things if not base.is_class(t)):
                for each in sorted(base.classes_of(thing)):
                    if kind in base.classes_of(thing):
                        yield Fact(NAMED_ALONE, (thing, each), _BASIS)


def settings(base: Base) -> list[tuple[str, ...]]:
    """Every setting that may be the case unsaid, as the conditions that it states."""
    aspects: dict[str, set[str]] = {}
    for condition in _asked_about(base):
        both = {condition, *base.record(condition).links("opposite")}
        usual = {each for each in both if base.record(each).truth(_ALWAYS)}
        if usual:
            aspects.setdefault(aspect_of(base, condition)[0], set()).update(usual)
    return [*product(*(sorted(found) for _, found in sorted(aspects.items())))]


def _asked_about(base: Base) -> set[str]:
    """The conditions under which some bound holds."""
    return {
        condition
        for claim in base.instances("Claim")
        if _is_bound(base, claim)
        for condition in base.record(claim).links("when")
    }


def _is_bound(base: Base, claim: str) -> bool:
    record = base.record(claim)
    if record.truth(_WITHDRAWS) or record.number(_SHARE) is not None:
        return True
    return any(record.links(name) for name in _BOUNDS)
