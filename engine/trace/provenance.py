"""A trace as RDF, in the terms of PROV-O (W3C Recommendation, 30 April 2013).

    prov term                    in a trace
    prov:Entity                  a step, the answer, a label, a cited work
    prov:Activity                one use of a rule; it used the steps it rests on
    prov:Plan                    the rule
    prov:SoftwareAgent           this program
    prov:hadPrimarySource        a work that an asserted step cites
    prov:wasQuotedFrom           the label that a step was read from

A step is named by the hash of its content, so equal steps of two traces are one.
There are no blank nodes: two graphs of one trace are equal triple by triple.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from abluent.engine.base.phrases import product_name
from abluent.engine.checking.reword import sentences
from abluent.engine.proof.origins import label_origin
from abluent.engine.trace.steps import premises_of
from abluent.grammar.common.text import unmoving

if TYPE_CHECKING:
    from rdflib import Graph, URIRef
    from rdflib.term import Node

ABL = "https://abluent.example/ns#"
SOURCE = "https://abluent.example/source/"
TRACE = "https://abluent.example/trace#"
_PREFIXES = {"abl": ABL, "src": SOURCE, "tr": TRACE}


def turtle(traces: Sequence[Mapping[str, Any]]) -> str:
    """Return traces as Turtle."""
    return unmoving(str(graph_of(traces).serialize(format="turtle")), "\\U{:08x}")


def json_ld(traces: Sequence[Mapping[str, Any]]) -> str:
    """Return traces as JSON-LD."""
    graph = graph_of(traces)
    known = {"abl", "src", "tr", "prov", "rdfs", "dcterms", "xsd"}
    context = {p: str(n) for p, n in graph.namespaces() if p in known}
    text = graph.serialize(format="json-ld", context=context, sort_keys=True)
    return f"{unmoving(text)}\n"


def graph_of(traces: Sequence[Mapping[str, Any]]) -> Graph:
    """Return traces as one graph."""
    from rdflib import Graph, Namespace
    from rdflib.namespace import DCTERMS, PROV, RDFS

    graph = Graph()
    for prefix, name in _PREFIXES.items():
        graph.bind(prefix, Namespace(name))
    for prefix, space in {"prov": PROV, "rdfs": RDFS, "dcterms": DCTERMS}.items():
        graph.bind(prefix, space)
    for trace in traces:
        for triple in _Described(trace).triples():
            graph.add(triple)
    return graph


class _Described:
    """The triples of one trace."""

    def __init__(self, trace: Mapping[str, Any]) -> None:
        from rdflib import Namespace
        from rdflib.namespace import DCTERMS, PROV, RDF, RDFS

        self._trace = trace
        self._sentences = sentences(trace)
        self._prov, self._dcterms, self._rdf, self._rdfs = PROV, DCTERMS, RDF, RDFS
        self._tr = Namespace(TRACE)
        self._program = _urn("program", "abluent")
        self._cited: set[str] = set()

    def triples(self) -> Iterator[tuple[Node, Node, Node]]:
        yield from self._agent()
        yield from self._answer()
        for key, node in self._trace["nodes"].items():
            yield from self._step(key, node)
        rules = {n["rule"] for n in self._trace["nodes"].values() if "rule" in n}
        for name in sorted(rules):
            yield from self._rule(name)
        for label in self._trace["labels"]:
            yield from self._label(label)
        for work in sorted(self._cited):
            yield from self._work(work)

    def _agent(self) -> Iterator[tuple[Node, Node, Node]]:
        yield self._program, self._rdf.type, self._prov.SoftwareAgent
        yield self._program, self._rdfs.label, _text("Abluent")

    def _answer(self) -> Iterator[tuple[Node, Node, Node]]:
        trace, answer = self._trace, _urn("trace", self._trace["digest"])
        yield answer, self._rdf.type, self._prov.Entity
        yield answer, self._rdf.type, self._tr.Answer
        yield answer, self._prov.wasAttributedTo, self._program
        yield answer, self._tr.question, _text(trace["question"])
        yield answer, self._tr.understoodAs, _text(trace["canonical"])
        for caution in trace["cautions"]:
            yield answer, self._tr.caution, _text(caution)
        for goal in trace["goals"]:
            root = _urn("step", goal["root"])
            yield answer, self._prov.wasDerivedFrom, root
            yield answer, self._tr.shows if goal["holds"] else self._tr.showsNot, root
            for weak in goal["weakest"]:
                yield root, self._tr.weakestStep, _urn("step", weak)

    def _step(
        self, key: str, node: Mapping[str, Any]
    ) -> Iterator[tuple[Node, Node, Node]]:
        step = _urn("step", key)
        yield step, self._rdf.type, self._prov.Entity
        yield step, self._rdf.type, self._tr[f"{node['kind'].capitalize()}Step"]
        yield step, self._rdfs.label, _text(self._sentences[key])
        below = [_urn("step", each) for each in premises_of(node)]
        for each in below:
            yield step, self._prov.wasDerivedFrom, each
        if "rule" in node:
            yield from self._use(key, node["rule"], below)
        if node["kind"] == "fact":
            yield from self._basis(step, node)
            yield from self._origin(step, node["origin"])

    def _use(
        self, key: str, rule: str, below: Sequence[URIRef]
    ) -> Iterator[tuple[Node, Node, Node]]:
        """The use of a rule that made a step."""
        use, by = _urn("use", key), _urn("plan", key)
        yield _urn("step", key), self._prov.wasGeneratedBy, use
        yield use, self._rdf.type, self._prov.Activity
        yield use, self._prov.wasAssociatedWith, self._program
        yield use, self._prov.qualifiedAssociation, by
        yield by, self._rdf.type, self._prov.Association
        yield by, self._prov.agent, self._program
        yield by, self._prov.hadPlan, _urn("rule", rule)
        for each in below:
            yield use, self._prov.used, each

    def _rule(self, name: str) -> Iterator[tuple[Node, Node, Node]]:
        rule, data = _urn("rule", name), self._trace["program"]["rules"][name]
        yield rule, self._rdf.type, self._prov.Entity
        yield rule, self._rdf.type, self._prov.Plan
        yield rule, self._rdfs.label, _text(name)
        if data["says"]:
            yield rule, self._tr.says, _text(data["says"])
        yield from self._basis(rule, data)

    def _basis(
        self, thing: URIRef, data: Mapping[str, Any]
    ) -> Iterator[tuple[Node, Node, Node]]:
        from rdflib import Literal, URIRef

        if data["standing"]:
            yield thing, URIRef(f"{ABL}standing"), URIRef(ABL + quote(data["standing"]))
        if data["memory"]:
            yield thing, URIRef(f"{ABL}fromMemory"), Literal(True)
        for work in data["sources"]:
            self._cited.add(work)
            yield thing, self._prov.hadPrimarySource, _work(work)

    def _origin(self, step: URIRef, origin: str) -> Iterator[tuple[Node, Node, Node]]:
        from rdflib import Literal

        place = label_origin(origin)
        if place is None:
            yield step, self._tr.origin, _text(origin)
            return
        yield step, self._prov.wasQuotedFrom, _urn("label", place.product)
        yield step, self._tr.start, Literal(place.start)
        yield step, self._tr.end, Literal(place.end)

    def _label(self, label: Mapping[str, Any]) -> Iterator[tuple[Node, Node, Node]]:
        thing = _urn("label", label["product"])
        yield thing, self._rdf.type, self._prov.Entity
        yield thing, self._rdf.type, self._tr.Label
        yield thing, self._rdfs.label, _text(product_name(label["product"]))
        yield thing, self._prov.value, _text(label["text"])

    def _work(self, work: str) -> Iterator[tuple[Node, Node, Node]]:
        citation = self._trace["sources"][work]
        yield _work(work), self._rdf.type, self._prov.Entity
        yield _work(work), self._dcterms.bibliographicCitation, _text(citation)


def _urn(kind: str, name: str) -> URIRef:
    from rdflib import URIRef

    encoded = quote(name.encode("utf-8", "backslashreplace"), safe="")
    return URIRef(f"urn:abluent:{kind}:{encoded}")


def _work(symbol: str) -> URIRef:
    from rdflib import URIRef

    return URIRef(SOURCE + quote(symbol, safe=""))


def _text(text: str) -> Node:
    """Return a literal; half a character, which no file can hold, is written out."""
    from rdflib import Literal

    return Literal(text.encode("utf-8", "backslashreplace").decode("utf-8"))
