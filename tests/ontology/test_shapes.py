"""The shapes: each lets its good example pass and reports its bad one in full.

The examples lie in `shapes/`: `NAME_pass.ttl`, `NAME_fail.ttl` and the report
expected of the latter, `NAME_fail.txt`; a new shape needs new files and no Python.
"""

from pathlib import Path

import pyshacl
import pytest
import rdflib
from rdflib.namespace import OWL, RDF, RDFS, SH

EXAMPLES = Path(__file__).parent / "shapes"
SHAPE = rdflib.Namespace("https://abluent.example/shape/")
NAMES = sorted(path.stem.removesuffix("_pass") for path in EXAMPLES.glob("*_pass.ttl"))


def short(node: rdflib.term.Node | None) -> str:
    """The local name of a node, or its text."""
    return str(node).rpartition("/")[2].rpartition("#")[2] if node else "-"


def report(
    data: rdflib.Graph, shapes: rdflib.Graph, names: list[str] | None = None
) -> str:
    """One sorted line for everything that the shapes named, or all, object to.

    Unnamed class expressions are left out: they have no words for readers.
    """
    _, results, _ = pyshacl.validate(
        data,
        shacl_graph=shapes,
        use_shapes=[SHAPE[name] for name in names] if names else None,
        meta_shacl=False,
        advanced=False,
    )
    lines = {
        f"{short(results.value(result, SH.focusNode))}"
        f" | {short(results.value(result, SH.resultPath))}"
        f" | {results.value(result, SH.resultMessage)}\n"
        for result in results.subjects(RDF.type, SH.ValidationResult)
        if not isinstance(results.value(result, SH.focusNode), rdflib.BNode)
    }
    return "".join(sorted(lines))


@pytest.fixture(scope="session")
def terms(base_graph: rdflib.Graph) -> rdflib.Graph:
    """What the examples need of the vocabulary: its class tree and its values."""
    kept = rdflib.Graph()
    for triple in base_graph.triples((None, RDFS.subClassOf, None)):
        kept.add(triple)
    for value in base_graph.subjects(RDF.type, OWL.NamedIndividual):
        for kind in base_graph.objects(value, RDF.type):
            if kind != OWL.NamedIndividual:
                kept.add((value, RDF.type, kind))
    return kept


def example(terms: rdflib.Graph, name: str) -> rdflib.Graph:
    return terms + rdflib.Graph().parse(EXAMPLES / f"{name}.ttl")


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_pass(name: str, terms: rdflib.Graph, shapes_graph: rdflib.Graph) -> None:
    """The good example of a shape raises no objection."""
    assert report(example(terms, f"{name}_pass"), shapes_graph, [name]) == ""


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_fail(name: str, terms: rdflib.Graph, shapes_graph: rdflib.Graph) -> None:
    """The bad example of a shape gives exactly the report kept with it."""
    expected = (EXAMPLES / f"{name}_fail.txt").read_text(encoding="utf-8")
    assert report(example(terms, f"{name}_fail"), shapes_graph, [name]) == expected
    assert "Problem: " in expected


def test_every_shape_has_examples(shapes_graph: rdflib.Graph) -> None:
    """No shape is without a good and a bad example."""
    shapes = {short(s) for s in shapes_graph.subjects(RDF.type, SH.NodeShape)}
    assert shapes == set(NAMES)


def test_every_message_says_problem_why_and_fix(shapes_graph: rdflib.Graph) -> None:
    """What a shape objects to is told as problem, reason and remedy."""
    messages = [str(m) for m in shapes_graph.objects(None, SH.message)]
    assert len(messages) > 30
    for message in messages:
        assert message.startswith("Problem: ")
        assert message.index(" Why: ") < message.index(" Fix: ")


@pytest.mark.slow
def test_the_base_conforms(
    base_graph: rdflib.Graph, shapes_graph: rdflib.Graph
) -> None:
    """The shipped base meets every shape."""
    assert report(base_graph, shapes_graph) == ""
