"""The W3C's OWL 2 test cases that a rule engine can be measured by.

Two sets of the working group's approved cases (https://www.w3.org/TR/owl2-test/,
under the W3C test suite licence): the 87 `rdfbased-*` cases, one or more for every
family of OWL 2 RL/RDF rules, and the 70 cases of the RL profile. The whole file,
`all.rdf`, has 492 cases and 3 MB; `owl2_rl_cases.json.gz` keeps the triples of these.

    python tests/owl2_suite.py all.rdf      makes that copy anew
"""

from __future__ import annotations

import gzip
import json
import os
import sys
from pathlib import Path
from typing import Any

COPY = Path(__file__).parent / "ontology" / "owl2_rl_cases.json.gz"
_TESTS = "http://www.w3.org/2007/OWL/testOntology#"
_PARTS = {
    "premise": "rdfXmlPremiseOntology",
    "conclusion": "rdfXmlConclusionOntology",
    "nonconclusion": "rdfXmlNonConclusionOntology",
}


def suite_path() -> Path | None:
    """The W3C's file, where the machine has it: named, or beside the checkout."""
    named = os.environ.get("ABLUENT_OWL2_SUITE")
    beside = Path(__file__).parents[2] / "shared" / "suites" / "owl2" / "all.rdf"
    path = Path(named) if named else beside
    return path if path.exists() else None


def committed_cases() -> dict[str, Any]:
    """The cases of the copy in this repository, by name."""
    cases: dict[str, Any] = json.loads(gzip.decompress(COPY.read_bytes()))
    return cases


def read_suite(path: Path) -> dict[str, Any]:
    """The same cases, read from the W3C's file.

    A case has its `set` (`rules` or `profile`), its `kinds`, and the triples of its
    `premise` and, as far as it has them, `conclusion` and `nonconclusion`. Cases
    without a form in RDF/XML have no premise.
    """
    from rdflib import RDF, Graph, Namespace  # noqa: PLC0415 - only for this

    tests = Namespace(_TESTS)
    graph = Graph().parse(path, format="xml")
    cases = {}
    for subject, name in graph.subject_objects(tests.identifier):
        approved = (subject, tests.status, tests.Approved) in graph
        if str(name).startswith("rdfbased-"):
            which = "rules"
        elif approved and (subject, tests.profile, tests.RL) in graph:
            which = "profile"
        else:
            continue
        kinds = sorted(
            str(each).removeprefix(_TESTS)
            for each in graph.objects(subject, RDF.type)
            if str(each).endswith(("EntailmentTest", "ConsistencyTest", "encyTest"))
        )
        cases[str(name)] = {"set": which, "kinds": kinds, **_parts(graph, subject)}
    return dict(sorted(cases.items()))


def _parts(graph: Any, subject: Any) -> dict[str, list[list[str]]]:
    from rdflib import URIRef  # noqa: PLC0415

    found = {}
    for part, name in _PARTS.items():
        text = graph.value(subject, URIRef(_TESTS + name))
        if text is None:
            continue
        texts = [str(text)]
        if part == "premise":
            for imported in graph.objects(subject, URIRef(_TESTS + "importedOntology")):
                extra = graph.value(imported, URIRef(_TESTS + "rdfXmlInputOntology"))
                texts += [] if extra is None else [str(extra)]
        found[part] = _triples(texts)
    return found


def _triples(texts: list[str]) -> list[list[str]]:
    from rdflib import Graph  # noqa: PLC0415
    from rdflib.compare import to_canonical_graph  # noqa: PLC0415

    whole = Graph()
    for text in texts:
        whole.parse(data=text, format="xml", publicID="http://example.org/")
    return sorted([_node(each) for each in row] for row in to_canonical_graph(whole))


def _node(term: Any) -> str:
    """A node as in N-Triples, a literal in the form it was written in."""
    from rdflib import BNode, Literal  # noqa: PLC0415

    if isinstance(term, BNode):
        return f"_:{term}"
    if not isinstance(term, Literal):
        return f"<{term}>"
    form = str(term).replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    tail = f"@{term.language}" if term.language else ""
    return f'"{form}"{tail}' + (f"^^<{term.datatype}>" if term.datatype else "")


if __name__ == "__main__":
    content = json.dumps(read_suite(Path(sys.argv[1])), indent=0).encode()
    COPY.write_bytes(gzip.compress(content, mtime=0))
