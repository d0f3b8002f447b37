"""RDF of a trace: the terms of PROV-O, and the same graph in both forms."""

from __future__ import annotations

import json

import pytest
from abluent.engine.checking import kernel
from abluent.engine.checking.reword import sentences
from abluent.engine.trace.answer import traces
from abluent.engine.trace.provenance import graph_of, json_ld, turtle
from rdflib import Graph, Literal, URIRef
from rdflib.namespace import PROV, RDF, RDFS
from shown import CREAM, WHICH, answered

# https://www.w3.org/ns/prov-o: every term used, as the Recommendation lists them.
KNOWN = {
    "Activity", "Association", "Entity", "Plan", "SoftwareAgent",
    "agent", "hadPlan", "hadPrimarySource", "qualifiedAssociation", "used", "value",
    "wasAssociatedWith", "wasAttributedTo", "wasDerivedFrom", "wasGeneratedBy",
    "wasQuotedFrom",
}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("question", [WHICH, f'what does "{CREAM}" leave'])
def test_both_forms_parse_to_the_graph_they_were_made_from(question: str) -> None:
    found = traces(answered(question), question)
    graph = set(graph_of(found))
    assert set(Graph().parse(data=turtle(found), format="turtle")) == graph
    assert set(Graph().parse(data=json_ld(found), format="json-ld")) == graph


@pytest.mark.slow
def test_every_step_of_a_trace_is_an_entity_with_its_sentence() -> None:
    (trace,) = traces(answered(WHICH), WHICH)
    graph = graph_of([trace])
    for key, text in sentences(trace).items():
        step = URIRef(f"urn:abluent:step:{key}")
        assert (step, RDF.type, PROV.Entity) in graph
        assert (step, RDFS.label, Literal(text)) in graph
        below = kernel.premises(trace["nodes"][key])
        derived = {str(each) for each in graph.objects(step, PROV.wasDerivedFrom)}
        assert derived == {f"urn:abluent:step:{each}" for each in below}


@pytest.mark.slow
def test_only_terms_of_prov_are_used_in_its_namespace() -> None:
    graph = graph_of(traces(answered(WHICH), WHICH))
    terms = {str(term) for triple in graph for term in triple[1:]}
    used = {t.removeprefix(str(PROV)) for t in terms if t.startswith(str(PROV))}
    assert used <= KNOWN
    assert "hadPlan" in used


@pytest.mark.slow
def test_json_ld_needs_no_context_from_elsewhere() -> None:
    data = json.loads(json_ld(traces(answered(WHICH), WHICH)))
    assert all(isinstance(name, str) for name in data["@context"].values())
