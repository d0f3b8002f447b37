"""Axioms and facts in plain words, with the labels of the base."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from abluent.engine.owl import names as n
from abluent.grammar.common.text import in_a_row, in_words

if TYPE_CHECKING:
    import pyoxigraph as ox
    from abluent.engine.base.store import Base
    from abluent.engine.owl.axioms import Axiom

Inside = Mapping[Any, Sequence["ox.Triple"]]


def in_plain(axiom: Axiom, base: Base) -> str:
    """Return an axiom as a sentence without its full stop."""
    return told_of(axiom.triples, base)


def told_of(triples: Sequence[ox.Triple], base: Base) -> str:
    """Return what a triple says, with what hangs on its nodes without a name."""
    inside: dict[Any, list[ox.Triple]] = {}
    for triple in triples:
        inside.setdefault(triple.subject, []).append(triple)
    if type(triples[0].subject).__name__ == "BlankNode":
        return _nameless(triples, inside, base)
    return _told(triples[0], base, inside)


def _told(triple: ox.Triple, base: Base, inside: Inside) -> str:
    subject = _called(triple.subject, base)
    predicate, node = triple.predicate.value, triple.object
    if predicate == n.TYPE and getattr(node, "value", "").startswith(n.OWL):
        return _declared(subject, n.local(node.value))  # type: ignore[union-attr]
    value = _value(node, base, inside)
    form = _FORMS.get(predicate)
    if form is not None:
        return form.format(subject=subject, value=value, a=_a)
    name = _word(n.local(predicate), base)
    if value == "true":
        return f"{subject} is said to be: {name}"
    return f"{subject}: {name} {value}"


_FORMS = {
    n.TYPE: "{subject} is of the kind {value}",
    n.RDFS + "subClassOf": "every {subject} is of the kind {value}",
    n.RDFS + "subPropertyOf": "what {subject} says, {value} says too",
    n.RDFS + "domain": "only of the kind {value} has anything: {subject}",
    n.RDFS + "range": "only the kind {value} can be what {subject} says",
    n.OWL + "disjointWith": "nothing is both {subject} and {value}",
    n.OWL + "equivalentClass": "{subject} is exactly {value}",
    n.LABEL: "{subject} is called {value}",
    n.COMMENT: "{subject} means: {value}",
}
_KINDS = {
    "FunctionalProperty": "a thing has one {subject} only",
    "SymmetricProperty": "{subject} holds both ways",
    "Class": "{subject} is a class",
    "NamedIndividual": "{subject} is a thing",
}


def _declared(subject: str, kind: str) -> str:
    return _KINDS.get(kind, f"{{subject}} is: {in_words(kind)}").format(subject=subject)


def _nameless(triples: Sequence[ox.Triple], inside: Inside, base: Base) -> str:
    listed = [
        name
        for triple in triples
        if triple.predicate.value in (n.OWL + "distinctMembers", n.OWL + "members")
        for name in _members(triple.object, base, inside)
    ]
    kind = n.local(triples[0].object.value)  # type: ignore[union-attr]
    if kind == "AllDisjointClasses":
        return f"nothing is of two of these kinds: {in_a_row(listed)}"
    return f"these are different: {in_a_row(listed)}"


def _members(node: Any, base: Base, inside: Inside) -> list[str]:
    found = []
    while node in inside:
        row = {t.predicate.value: t.object for t in inside[node]}
        if n.RDF + "first" not in row:
            break
        found.append(_value(row[n.RDF + "first"], base, inside))
        node = row.get(n.RDF + "rest")
    return found


def _value(node: Any, base: Base, inside: Inside) -> str:
    if node not in inside:
        return _called(node, base)
    row = {t.predicate.value: t.object for t in inside[node]}
    if n.OWL + "onProperty" in row:
        return _restricted(row, base, inside)
    if n.OWL + "intersectionOf" in row:
        return " ".join(_members(row[n.OWL + "intersectionOf"], base, inside))
    if n.OWL + "unionOf" in row:
        return " or ".join(_members(row[n.OWL + "unionOf"], base, inside))
    if n.OWL + "complementOf" in row:
        return f"not {_value(row[n.OWL + 'complementOf'], base, inside)}"
    return in_a_row(_members(node, base, inside)) or "something without a name"


def _restricted(row: Mapping[str, Any], base: Base, inside: Inside) -> str:
    name = _word(n.local(row[n.OWL + "onProperty"].value), base)
    held = row.get(n.OWL + "hasValue")
    if held is None:
        some = row.get(n.OWL + "someValuesFrom") or row.get(n.OWL + "allValuesFrom")
        return f"whose {name} is of the kind {_value(some, base, inside)}"
    value = _value(held, base, inside)
    return f"that is {name}" if value == "true" else f"whose {name} is {value}"


def _called(node: Any, base: Base) -> str:
    kind = type(node).__name__
    if kind == "Literal":
        plain = node.datatype.value == n.XSD + "string"
        return f"“{node.value}”" if plain else str(node.value)
    if kind == "BlankNode":
        return "something without a name"
    return _word(n.local(node.value), base)


def _word(symbol: str, base: Base) -> str:
    return base.label(symbol) if symbol in base else in_words(symbol)


def _a(word: str) -> str:
    return f"an {word}" if word[:1].casefold() in "aeiou" else f"a {word}"
