"""The OWL 2 RL closure against the W3C's test cases (see `owl2_suite`)."""

from __future__ import annotations

from typing import Any

import pytest
from abluent.engine.logic.clauses import Atom, Place, Rule, Variable
from abluent.engine.logic.instances import body_instances
from owl2_suite import committed_cases, read_suite, suite_path
from owl_rl import Closure, close, node, symbol
from rdflib import Graph
from rdflib.compare import isomorphic

CASES = committed_cases()
RULES = [name for name, case in CASES.items() if case["set"] == "rules"]
PROFILE = [name for name, case in CASES.items() if case["set"] == "profile"]

# Entailments of the RL profile that hold by the direct semantics and follow from no
# rule of the standard's tables.
_COMPLEMENT = "concludes that something is outside a class"
_DIFFERENT = "concludes that two things differ"
_ANNOTATION = "copies an annotation, which has no meaning there"
_EXPRESSION = "concludes that a class expression exists"
_DATATYPES = "needs the inclusion of datatypes in each other"
BEYOND_THE_RULES = {
    "DisjointClasses-001": _COMPLEMENT,
    "DisjointClasses-003": _COMPLEMENT,
    "New-Feature-DisjointDataProperties-002": _DIFFERENT,
    "New-Feature-DisjointObjectProperties-001": _DIFFERENT,
    "New-Feature-DisjointObjectProperties-002": _DIFFERENT,
    "New-Feature-ObjectQCR-002": _COMPLEMENT,
    "New-Feature-ReflexiveProperty-001": "needs a rule for reflexive properties",
    "WebOnt-I4.6-005-Direct": _ANNOTATION,
    "WebOnt-I5.26-010": _EXPRESSION,
    "WebOnt-I5.5-005": _EXPRESSION,
    "WebOnt-I5.8-006": _DATATYPES,
    "WebOnt-I5.8-008": _DATATYPES,
    "WebOnt-I5.8-009": _DATATYPES,
    "WebOnt-differentFrom-001": _DIFFERENT,
    "WebOnt-equivalentClass-008-Direct": _ANNOTATION,
    "chain2trans1": "concludes that a property is transitive",
    "owl2-rl-rules-fp-differentFrom": _DIFFERENT,
    "owl2-rl-rules-ifp-differentFrom": _DIFFERENT,
}
# Given in functional syntax only.
WITHOUT_TRIPLES = {
    "Plus and Minus Zero are Distinct",
    "functionality-clash",
    "string-integer-clash",
}
# Which names are classes and which are properties is not concluded by rules.
DECLARED = {
    f"<http://www.w3.org/2002/07/owl#{name}>"
    for name in (
        "AnnotationProperty",
        "Class",
        "DatatypeProperty",
        "NamedIndividual",
        "ObjectProperty",
        "Ontology",
    )
} | {"<http://www.w3.org/2000/01/rdf-schema#Datatype>"}


def is_declaration(triple: list[str]) -> bool:
    """Whether a triple says only what kind of name a name is."""
    return triple[1].endswith("#type>") and triple[2] in DECLARED


def follows(closure: Closure, triples: list[list[str]]) -> bool:
    """Whether a graph follows; its blank nodes may be anything."""
    atoms = tuple(
        Atom("triple", tuple(map(argument, triple)))
        for triple in triples
        if not triple[1].endswith("#imports>")
    )
    rule = Rule("ask", Atom("", ()), atoms, "", (), "", False, Place("", 0, 0, 0))
    return any(True for _ in body_instances(closure.model, rule, {}))


def argument(text: str) -> Variable | str:
    return Variable(text[2:]) if text.startswith("_:") else symbol(text)


def failures(name: str, case: dict[str, Any]) -> list[str]:
    """The kinds of a case that come out otherwise than the W3C says."""
    closure = close(map(tuple, case["premise"]))
    found = []
    conclusion = case.get("conclusion", [])
    if case["set"] == "profile":
        conclusion = [each for each in conclusion if not is_declaration(each)]
    outcomes = {
        "ConsistencyTest": lambda: not closure.clashes(),
        "InconsistencyTest": lambda: bool(closure.clashes()),
        "PositiveEntailmentTest": lambda: follows(closure, conclusion),
        "NegativeEntailmentTest": lambda: not follows(closure, case["nonconclusion"]),
    }
    for kind in case["kinds"]:
        if not outcomes[kind]():
            found.append(kind)
    return found


@pytest.mark.slow
@pytest.mark.parametrize("name", RULES)
def test_every_rule_family_concludes_what_it_should(name: str) -> None:
    """The `rdfbased` cases: entailments, consistency and clashes."""
    assert failures(name, CASES[name]) == []


@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(set(PROFILE) - WITHOUT_TRIPLES))
def test_profile_cases_but_those_beyond_the_rules(name: str) -> None:
    """The RL profile: 10 of 28 entailments, everything else."""
    expected = ["PositiveEntailmentTest"] if name in BEYOND_THE_RULES else []
    assert failures(name, CASES[name]) == expected


def test_the_copy_is_the_published_suite() -> None:
    """The committed cases are those of the W3C's file, and all that are meant."""
    assert (len(RULES), len(PROFILE)) == (87, 70)
    assert {name for name in PROFILE if "premise" not in CASES[name]} == WITHOUT_TRIPLES
    path = suite_path()
    if path is not None:
        published = read_suite(path)
        assert list(published) == list(CASES)
        for name, case in published.items():
            assert case["kinds"] == CASES[name]["kinds"]
            for part in ("premise", "conclusion", "nonconclusion"):
                assert is_same(case.get(part, []), CASES[name].get(part, [])), name


def is_same(one: list[list[str]], other: list[list[str]]) -> bool:
    """Whether two graphs differ at most in the names of their blank nodes."""
    if one == other:
        return True
    graphs = [
        Graph().parse(data="".join(f"{' '.join(t)} .\n" for t in each), format="nt")
        for each in (one, other)
    ]
    return isomorphic(*graphs)


A, B, P = "<http://x.example/a>", "<http://x.example/b>", "<http://x.example/p>"
TYPE = "<http://www.w3.org/1999/02/22-rdf-syntax-ns#type>"
FUNCTIONAL = "<http://www.w3.org/2002/07/owl#FunctionalProperty>"


@pytest.mark.parametrize(
    ("one", "other", "clash"),
    [
        ('"1"', '"01"', False),
        ('"1"', '"2"', True),
    ],
)
def test_integers_are_compared_by_value(one: str, other: str, clash: bool) -> None:
    """A functional property may have one value in two spellings, not two values."""
    whole = "^^<http://www.w3.org/2001/XMLSchema#integer>"
    closure = close([(P, TYPE, FUNCTIONAL), (A, P, one + whole), (A, P, other + whole)])
    assert bool(closure.clashes()) is clash


def test_plus_and_minus_zero_are_distinct() -> None:
    """As in the case of that name: floating zeros differ, and one is too many."""
    float_ = "^^<http://www.w3.org/2001/XMLSchema#float>"
    closure = close(
        [(P, TYPE, FUNCTIONAL), (A, P, f'"0.0"{float_}'), (A, P, f'"-0.0"{float_}')]
    )
    assert "dt-diff" in {rule for rule, *_ in closure.clashes()}


def test_a_value_outside_its_range_clashes() -> None:
    """As in `string-integer-clash`: a string property cannot have an integer."""
    spaces = (
        "http://www.w3.org/2000/01/rdf-schema#",
        "http://www.w3.org/2001/XMLSchema#",
    )
    closure = close(
        [
            (P, f"<{spaces[0]}range>", f"<{spaces[1]}string>"),
            (A, P, f'"25"^^<{spaces[1]}integer>'),
        ]
    )
    assert [rule for rule, *_ in closure.clashes()] == ["dt-not-type"]


def test_triples_about_literals_stay_inside() -> None:
    """No triple is read out that RDF does not allow, though the rules use them."""
    closure = close([(A, P, '"x"')])
    inside = {row[0] for row in closure.model.match("triple")}
    assert '"x"' in inside
    assert all(not subject.startswith('"') for subject, _, _ in closure.triples())


def test_asserted_and_inferred_stay_apart() -> None:
    """What was said is not among what follows."""
    said = (A, P, B)
    closure = close([said])
    assert said in set(closure.triples())
    assert said not in set(closure.triples(inferred_only=True))
    assert closure.holds((B, "<http://www.w3.org/2002/07/owl#sameAs>", B))


def test_symbols_and_nodes_are_inverse() -> None:
    """Every node comes back as it was written."""
    whole = '"1"^^<http://www.w3.org/2001/XMLSchema#integer>'
    for text in (A, TYPE, "_:b1", '"x"', '"x"@en', whole, '"rdf:type"'):
        assert node(symbol(text)) == text
    assert symbol(whole) == '"1"^^xsd:integer'
