"""The fewest axioms from which something follows: why a base cannot be so.

HermiT says that axioms clash and not which. Some are left out at a time, fewer and
fewer, as long as the rest still clashes; what is left then is needed, each of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING

from abluent.engine.base.spaces import SPACES
from abluent.engine.owl import names as n
from abluent.engine.owl.axioms import Axiom, Axioms, stated
from abluent.engine.owl.hermit import prove

if TYPE_CHECKING:
    import pyoxigraph as ox

Clashes = Callable[[Sequence[Axiom]], bool]
_SOME_MEMBER = "https://abluent.example/some-member"


def fewest(axioms: Sequence[Axiom], clashes: Clashes) -> list[Axiom]:
    """Return a smallest part of some axioms that still clashes; none of it can go.

    Args:
        axioms: axioms that clash.
        clashes: whether some axioms do.
    """
    kept = list(axioms)
    size = max(1, len(kept) // 4)
    while True:
        at = 0
        while at < len(kept):
            rest = [*kept[:at], *kept[at + size :]]
            if clashes(rest):
                kept = rest
            else:
                at += size
        if size == 1:
            return kept
        size //= 2


def why_impossible(axioms: Axioms, things: Iterable[str]) -> list[Axiom]:
    """Return the fewest axioms by which some things cannot be as is said.

    Raises:
        NoReasoner: HermiT cannot be run here.
    """
    return fewest(axioms.bearing_on(things), lambda part: _clash(axioms, part, []))


def why_empty(axioms: Axioms, kind: str) -> list[Axiom]:
    """Return the fewest axioms by which a class can have no member.

    Raises:
        NoReasoner: HermiT cannot be run here.
    """
    import pyoxigraph as ox  # noqa: PLC0415 - slow to import, seldom needed

    member = ox.Triple(
        ox.NamedNode(_SOME_MEMBER), ox.NamedNode(n.TYPE), ox.NamedNode(kind)
    )
    return fewest(
        axioms.bearing_on([kind]), lambda part: _clash(axioms, part, [member])
    )


def why_within(axioms: Axioms, thing: str, kind: str) -> list[Axiom]:
    """Return the fewest axioms by which a thing, or a class, is within a class.

    Raises:
        NoReasoner: HermiT cannot be run here.
    """
    import pyoxigraph as ox  # noqa: PLC0415 - slow to import, seldom needed

    not_it = ox.BlankNode()
    member, is_a = ox.NamedNode(thing), ox.NamedNode(n.TYPE)
    denied = [
        ox.Triple(not_it, is_a, ox.NamedNode(n.OWL + "Class")),
        ox.Triple(not_it, ox.NamedNode(n.OWL + "complementOf"), ox.NamedNode(kind)),
    ]
    if thing.startswith(SPACES["abl"]) and _is_class(axioms, thing):
        member = ox.NamedNode(_SOME_MEMBER)
        denied.append(ox.Triple(member, is_a, ox.NamedNode(thing)))
    denied.append(ox.Triple(member, is_a, not_it))
    bearing = axioms.bearing_on([thing, kind])
    return fewest(bearing, lambda part: _clash(axioms, part, denied))


def _is_class(axioms: Axioms, iri: str) -> bool:
    made = n.OWL + "Class"
    return any(
        getattr(t.subject, "value", "") == iri
        and getattr(t.object, "value", "") == made
        for t in axioms.declared
    )


def _clash(axioms: Axioms, part: Sequence[Axiom], more: Sequence[ox.Triple]) -> bool:
    return prove([*axioms.declared, *stated(part), *more]) is None
