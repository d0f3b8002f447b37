"""The whole base as one OWL 2 file, as ordinary ontology editors open it.

It holds every triple of every file, under one header; the headers of the files become
the basis of what they state, kept as `abl:statedIn`. Rules are no part of OWL and stay
where they are. Written as RDF/XML, which every such editor reads.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from abluent.engine.base import files
from abluent.engine.base.files import BaseFile
from abluent.engine.base.spaces import SPACES
from abluent.engine.owl import names as n

if TYPE_CHECKING:
    import pyoxigraph as ox

IRI = "https://abluent.example/base"
STATED_IN = SPACES["abl"] + "statedIn"
"""Says in which files something is described."""


def base_files(
    layers: Sequence[Path] = (), instead: Path | None = None
) -> list[BaseFile]:
    """Return the Turtle files of the base, and those laid over it."""
    with files.shipped_folder(instead) as shipped:
        return [*files.below(shipped), *files.layers(layers)]


def ontology_file(every: Iterable[BaseFile], version: str) -> bytes:
    """Return Turtle files as one ontology in RDF/XML.

    Args:
        every: the files.
        version: what tells this state of the base from another.
    """
    import pyoxigraph as ox  # noqa: PLC0415 - slow to import, seldom needed

    triples = [*_head(version), *sorted(_stated(every), key=_subject)]
    form = ox.RdfFormat.RDF_XML
    written = ox.serialize(triples, format=form, prefixes=n.PREFIXES)
    assert written is not None
    return written


def _subject(triple: ox.Triple) -> str:
    # What is said of one thing stands together; what has no name comes last.
    named = type(triple.subject).__name__ == "NamedNode"
    return str(getattr(triple.subject, "value", "")) if named else "~"


def _head(version: str) -> Iterator[ox.Triple]:
    import pyoxigraph as ox  # noqa: PLC0415 - as above

    head, note = ox.NamedNode(IRI), ox.NamedNode(STATED_IN)
    is_a = ox.NamedNode(n.TYPE)
    yield ox.Triple(head, is_a, ox.NamedNode(n.OWL + "Ontology"))
    yield ox.Triple(head, ox.NamedNode(n.LABEL), ox.Literal("abluent"))
    yield ox.Triple(head, ox.NamedNode(n.OWL + "versionInfo"), ox.Literal(version))
    yield ox.Triple(note, is_a, ox.NamedNode(n.OWL + "AnnotationProperty"))


def _stated(every: Iterable[BaseFile]) -> Iterator[ox.Triple]:
    import pyoxigraph as ox  # noqa: PLC0415 - as above

    is_a = ox.NamedNode(n.TYPE)
    thing, within = ox.NamedNode(n.NAMED_INDIVIDUAL), ox.NamedNode(STATED_IN)
    seen: set[Any] = set()
    for file in every:
        triples = [q.triple for q in ox.parse(file.text(), format=ox.RdfFormat.TURTLE)]
        heads = headers(triples)
        kept = [t for t in triples if t.subject not in heads]
        name = ox.Literal(file.name)
        for subject in dict.fromkeys(t.subject for t in kept):
            if isinstance(subject, ox.NamedNode):
                yield ox.Triple(subject, within, name)
                if not subject.value.startswith(SPACES["abl"]):
                    yield ox.Triple(subject, is_a, thing)
        for triple in kept:
            # Said by two files, it is one triple of the one ontology.
            if isinstance(triple.subject, ox.BlankNode) or triple not in seen:
                seen.add(triple)
                yield triple


def headers(triples: Iterable[ox.Triple]) -> set[Any]:
    """Return the subjects that are ontologies, and no part of what is known."""
    made = n.OWL + "Ontology"
    return {
        t.subject
        for t in triples
        if t.predicate.value == n.TYPE and getattr(t.object, "value", "") == made
    }
