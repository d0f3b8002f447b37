"""The axioms of the base, as a description logic sees them.

What only words and notes say is left out, and so are numbers, on which no axiom of
the base rests. An axiom is one triple, with all that hangs on nodes without a name.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from abluent.engine.base.spaces import SPACES
from abluent.engine.owl import names as n

if TYPE_CHECKING:
    import pyoxigraph as ox

_DECLARES = frozenset(
    n.OWL + kind
    for kind in ("Class", "ObjectProperty", "DatatypeProperty", "NamedIndividual")
)
_DEFINES = n.OWL + "equivalentClass"


class Axiom(NamedTuple):
    """One axiom; `rest` is what hangs on nodes without a name."""

    main: ox.Triple
    rest: tuple[ox.Triple, ...] = ()

    @property
    def about(self) -> str:
        """The IRI of its subject; empty for one that has none."""
        return getattr(self.main.subject, "value", "") if self.named else ""

    @property
    def named(self) -> bool:
        """Whether its subject has a name."""
        return type(self.main.subject).__name__ == "NamedNode"

    @property
    def triples(self) -> tuple[ox.Triple, ...]:
        """All triples of it."""
        return (self.main, *self.rest)

    @property
    def mentions(self) -> frozenset[str]:
        """Every IRI in it."""
        return frozenset(
            str(getattr(node, "value", ""))
            for triple in self.triples
            for node in (triple.subject, triple.predicate, triple.object)
            if type(node).__name__ == "NamedNode"
        )


class Axioms:
    """The axioms of some files."""

    def __init__(self, triples: Iterable[ox.Triple]) -> None:
        """Sort triples into axioms and declarations."""
        kept = list(_logical(list(triples)))
        self.declared: list[ox.Triple] = [t for t in kept if _declares(t)]
        self.all: Sequence[Axiom] = tuple(
            _joined([t for t in kept if not _declares(t)])
        )

    @cached_property
    def _by_subject(self) -> dict[str, list[Axiom]]:
        found: dict[str, list[Axiom]] = defaultdict(list)
        for axiom in self.all:
            found[axiom.about].append(axiom)
        return found

    @cached_property
    def of_terms(self) -> Sequence[Axiom]:
        """The axioms about classes, properties and values, and of no other thing."""
        return [a for a in self.all if not a.named or _is_term(a.about)]

    @cached_property
    def things(self) -> Sequence[str]:
        """The IRIs of what the axioms are about and that is no term."""
        return [each for each in self._by_subject if each and not _is_term(each)]

    def about(self, iris: Iterable[str]) -> list[Axiom]:
        """The axioms about some things."""
        return [axiom for iri in iris for axiom in self._by_subject.get(iri, ())]

    def alike(self) -> dict[str, list[str]]:
        """The things of which exactly the same is said, under the first of each."""
        found: dict[frozenset[tuple[str, str]], list[str]] = defaultdict(list)
        for thing in self.things:
            said = frozenset(
                (a.main.predicate.value, str(a.main.object))
                for a in self.about([thing])
            )
            found[said].append(thing)
        return {group[0]: group for group in found.values()}

    def bearing_on(self, iris: Iterable[str]) -> list[Axiom]:
        """The axioms that can have a say in what some things are.

        Those are all about them, about what these mention, and so on, the definitions
        of classes, and what is said of nothing that has a name.
        """
        reached = set(iris)
        taken: dict[Axiom, None] = {}
        general = [a for a in self.all if not a.named or _general(a)]
        pending = list(reached)
        for axiom in general:
            taken[axiom] = None
            pending += axiom.mentions
        while pending:
            for axiom in self._by_subject.get(pending.pop(), ()):
                if axiom not in taken:
                    taken[axiom] = None
                    pending += axiom.mentions - reached
                    reached |= axiom.mentions
        return list(taken)

    def without_others(self, iris: Collection[str]) -> list[Axiom]:
        """The axioms about terms, and about some other things alone."""
        return [*self.of_terms, *self.about(iris)]


def stated(axioms: Iterable[Axiom]) -> Iterator[ox.Triple]:
    """The triples of some axioms, each thing that they are about declared."""
    import pyoxigraph as ox  # noqa: PLC0415 - slow to import, seldom needed

    is_a, thing = ox.NamedNode(n.TYPE), ox.NamedNode(n.NAMED_INDIVIDUAL)
    declared = set()
    for axiom in axioms:
        yield from axiom.triples
        if axiom.about and not _is_term(axiom.about) and axiom.about not in declared:
            declared.add(axiom.about)
            yield ox.Triple(ox.NamedNode(axiom.about), is_a, thing)


def triples_of(texts: Iterable[str]) -> Iterator[ox.Triple]:
    """Every triple of some texts of Turtle."""
    import pyoxigraph as ox  # noqa: PLC0415 - slow to import, seldom needed

    for text in texts:
        for quad in ox.parse(text, format=ox.RdfFormat.TURTLE):
            yield quad.triple


def _is_term(iri: str) -> bool:
    return iri.startswith(SPACES["abl"])


def _declares(triple: ox.Triple) -> bool:
    value = getattr(triple.object, "value", "")
    return triple.predicate.value == n.TYPE and value in _DECLARES


def _general(axiom: Axiom) -> bool:
    return axiom.main.predicate.value == _DEFINES


def _logical(triples: list[ox.Triple]) -> Iterator[ox.Triple]:
    def typed(kind: str) -> set[object]:
        made = n.OWL + kind
        return {
            t.subject
            for t in triples
            if t.predicate.value == n.TYPE and getattr(t.object, "value", "") == made
        }

    notes, heads = typed("AnnotationProperty"), typed("Ontology")
    words = {getattr(note, "value", "") for note in notes} | {n.LABEL, n.COMMENT}
    for triple in triples:
        if triple.subject in heads | notes or triple.predicate.value in words:
            continue
        kind = getattr(triple.object, "datatype", None)
        if kind is None or kind.value == n.XSD + "boolean":
            yield triple


def _joined(triples: list[ox.Triple]) -> Iterator[Axiom]:
    """Put together what hangs on nodes without a name."""
    inside: dict[object, list[ox.Triple]] = defaultdict(list)
    held: set[object] = set()
    for triple in triples:
        if type(triple.subject).__name__ == "BlankNode":
            inside[triple.subject].append(triple)
        if type(triple.object).__name__ == "BlankNode":
            held.add(triple.object)
    for triple in triples:
        nameless = type(triple.subject).__name__ == "BlankNode"
        if not nameless:
            yield Axiom(triple, tuple(_below(triple.object, inside)))
        elif triple.subject not in held and triple.predicate.value == n.TYPE:
            others = [t for t in inside[triple.subject] if t != triple]
            rest = [t for o in others for t in (o, *_below(o.object, inside))]
            yield Axiom(triple, tuple(rest))


def _below(node: object, inside: dict[object, list[ox.Triple]]) -> Iterator[ox.Triple]:
    pending = [node]
    while pending:
        for triple in inside.get(pending.pop(), ()):
            yield triple
            pending.append(triple.object)
