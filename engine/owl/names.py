"""The names that OWL, RDF and the base itself go by."""

from __future__ import annotations

from abluent.engine.base.spaces import SPACES

RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
RDFS = "http://www.w3.org/2000/01/rdf-schema#"
OWL = "http://www.w3.org/2002/07/owl#"
XSD = "http://www.w3.org/2001/XMLSchema#"

TYPE = RDF + "type"
LABEL, COMMENT = RDFS + "label", RDFS + "comment"
NAMED_INDIVIDUAL = OWL + "NamedIndividual"

PREFIXES = {**SPACES, "owl": OWL, "rdfs": RDFS, "xsd": XSD}


def local(iri: str) -> str:
    """The last part of an IRI, by which the base knows what it names."""
    return iri.rpartition("#")[2] if "#" in iri else iri.rpartition("/")[2]


def curie(iri: str) -> str:
    """An IRI with its prefix, or in angle brackets if it has none."""
    for prefix, start in PREFIXES.items():
        if iri.startswith(start):
            return f"{prefix}:{iri[len(start) :]}"
    return f"<{iri}>"
