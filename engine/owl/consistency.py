"""Whether all that is said can be so, by HermiT, and what it infers besides."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from abluent.engine.base import files
from abluent.engine.base.spaces import SPACES
from abluent.engine.faults import Problem
from abluent.engine.owl import names as n
from abluent.engine.owl.axioms import Axiom, Axioms, stated, triples_of
from abluent.engine.owl.clashes import why_empty, why_impossible, why_within
from abluent.engine.owl.hermit import Proved, prove
from abluent.engine.owl.plain import in_plain

if TYPE_CHECKING:
    from abluent.engine.base.store import Base


class Inferred(NamedTuple):
    """A class that follows for some things and that nobody wrote.

    Args:
        kind: the class, by its symbol.
        members: the things, or classes, of which it follows, by their symbols.
        because: the axioms by which it follows for the first of them, in words.
    """

    kind: str
    members: tuple[str, ...]
    because: tuple[str, ...]


class Consistency(NamedTuple):
    """What HermiT proved of a base.

    Args:
        axioms: how many axioms it looked at.
        things: how many things they are about; those of which the same is said are
            looked at once.
        problems: what cannot be so, with the axioms that clash.
        inferred: what follows besides; nothing where something cannot be so.
    """

    axioms: int
    things: int
    problems: tuple[Problem, ...]
    inferred: tuple[Inferred, ...] = ()


def axioms_of(
    layers: Sequence[Path] = (),
    instead: Path | None = None,
    more: Sequence[str] = (),
) -> Axioms:
    """Return the axioms of the shipped base with files laid over it.

    Args:
        layers: a user's own Turtle files, or folders of them.
        instead: a folder in place of the shipped base.
        more: further texts of Turtle.
    """
    with files.shipped_folder(instead) as shipped:
        every = [*files.below(shipped), *files.layers(layers)]
        texts = [*(file.text() for file in every), *more]
        return Axioms(triples_of(texts))


def proved(axioms: Axioms, base: Base) -> Consistency:
    """Have HermiT prove a whole base, and say what it infers.

    Raises:
        NoReasoner: it cannot be run here.
    """
    alike = axioms.alike()
    part = axioms.without_others(alike)
    found = _prove(axioms, part)
    counted = len(axioms.all), len(axioms.things)
    if found is None:
        return Consistency(*counted, (_clashing(axioms, base, list(alike)),))
    if found.empty:
        problems = [_emptied(axioms, base, kind) for kind in found.empty]
        return Consistency(*counted, tuple(problems))
    return Consistency(*counted, (), tuple(_besides(axioms, base, found, alike)))


def problems_of(axioms: Axioms, base: Base, symbols: Collection[str]) -> list[Problem]:
    """Return what cannot be so of what an addition describes, in plain words.

    The rest of the base is taken to be proved, so that only what bears on the
    addition is looked at.

    Args:
        axioms: those of the base with the addition.
        base: the base with the addition.
        symbols: what the addition describes.

    Raises:
        NoReasoner: HermiT cannot be run here.
    """
    added = [_iri(base, symbol) for symbol in symbols if symbol in base]
    linked = {iri for axiom in axioms.about(added) for iri in axiom.mentions}
    things = sorted(linked.intersection(axioms.things) | {*added})
    found = _prove(axioms, axioms.without_others(things))
    if found is None:
        return [_clashing(axioms, base, things)]
    return [_emptied(axioms, base, kind) for kind in found.empty]


def _prove(axioms: Axioms, part: Sequence[Axiom]) -> Proved | None:
    return prove([*axioms.declared, *stated(part)])


def _clashing(axioms: Axioms, base: Base, things: Sequence[str]) -> Problem:
    """Say which axioms clash; the things are halved first until they are few."""
    few = list(things)
    while len(few) > 1:
        half = few[: len(few) // 2]
        if _prove(axioms, axioms.without_others(half)) is None:
            few = half
        elif _prove(axioms, axioms.without_others(few[len(half) :])) is None:
            few = few[len(half) :]
        else:
            break
    because = why_impossible(axioms, few)
    return _problem("these cannot all be so", because, base)


def _emptied(axioms: Axioms, base: Base, kind: str) -> Problem:
    what = f"nothing can be of the kind {_word(base, n.local(kind))}"
    return _problem(what, why_empty(axioms, kind), base)


def _problem(what: str, because: Iterable[Axiom], base: Base) -> Problem:
    told = "; ".join(in_plain(axiom, base) for axiom in because)
    return Problem(what, hint=f"because: {told}. Take one of them away")


def _besides(
    axioms: Axioms, base: Base, found: Proved, alike: Mapping[str, Sequence[str]]
) -> list[Inferred]:
    """The classes that follow and that nobody wrote, with why for one of each."""
    written = _Written(axioms)
    besides: dict[str, list[str]] = {}
    for one in sorted(found.above):
        for kind in sorted(found.above[one] - written.above(one)):
            besides.setdefault(kind, []).extend(alike.get(one, [one]))
    return [
        Inferred(
            n.local(kind),
            tuple(map(n.local, members)),
            tuple(in_plain(a, base) for a in why_within(axioms, members[0], kind)),
        )
        for kind, members in sorted(besides.items())
    ]


class _Written:
    """What is written of the classes of each thing, and what these lie within."""

    def __init__(self, axioms: Axioms) -> None:
        self._up: dict[str, set[str]] = {}
        for axiom in axioms.all:
            if axiom.main.predicate.value in (n.TYPE, n.RDFS + "subClassOf"):
                kind = getattr(axiom.main.object, "value", "")
                self._up.setdefault(axiom.about, set()).add(kind)
            elif axiom.main.predicate.value == n.OWL + "equivalentClass":
                parts = (t for t in axiom.rest if t.predicate.value == n.RDF + "first")
                named = {getattr(t.object, "value", "") for t in parts}
                self._up.setdefault(axiom.about, set()).update(named)

    def above(self, one: str) -> set[str]:
        reached, pending = set[str](), [one]
        while pending:
            more = self._up.get(pending.pop(), set()) - reached
            reached |= more
            pending += more
        return reached


def _word(base: Base, symbol: str) -> str:
    return base.label(symbol) if symbol in base else symbol


def _iri(base: Base, symbol: str) -> str:
    return SPACES.get(base.record(symbol).space, SPACES["abl"]) + symbol
