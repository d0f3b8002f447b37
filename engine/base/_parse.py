"""Turtle to parts: what one file says of one subject, sorted by kind of value."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from abluent.engine.base._problems import BaseProblem
from abluent.engine.base.spaces import SPACES

if TYPE_CHECKING:
    import pyoxigraph as ox

_PREFIXES = {space: prefix for prefix, space in SPACES.items()}
_RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
_RDFS = "http://www.w3.org/2000/01/rdf-schema#"
_OWL = "http://www.w3.org/2002/07/owl#"
_XSD = "http://www.w3.org/2001/XMLSchema#"
_TYPE = _RDF + "type"
_NUMBERS = {_XSD + name for name in ("integer", "decimal", "double")}
_BOOLEAN = _XSD + "boolean"
# Triples of RDF, RDFS and OWL that are kept, and the name they get.
_KEPT = {
    _TYPE: "type",
    _RDFS + "subClassOf": "subclass",
    _RDFS + "subPropertyOf": "subproperty",
    _RDFS + "domain": "domain",
    _RDFS + "range": "range",
    _RDFS + "label": "label",
    _RDFS + "comment": "comment",
    _OWL + "disjointWith": "disjoint",
}
_MEANINGS = {
    _OWL + "Class": "Class",
    _OWL + "ObjectProperty": "Property",
    _OWL + "DatatypeProperty": "Property",
    _OWL + "AnnotationProperty": "Property",
    _OWL + "FunctionalProperty": "Functional",
}


@dataclass(slots=True)
class Part:
    """What one file says of one subject.

    `roles` tells what OWL makes of it: `Class`, `Property`, `Functional`.
    `definitions` holds `(class, property, value)` for "exactly the members of
    this class whose property has this value"; the value of a boolean is `True`.
    """

    file: str
    space: str
    symbol: str
    links: list[tuple[str, str]] = field(default_factory=list)
    texts: list[tuple[str, str]] = field(default_factory=list)
    numbers: list[tuple[str, Fraction]] = field(default_factory=list)
    truths: list[str] = field(default_factory=list)
    roles: set[str] = field(default_factory=set)
    definitions: list[tuple[str, str, Any]] = field(default_factory=list)

    def linked(self, name: str) -> list[str]:
        """The subjects this one is linked to by a property."""
        return [value for key, value in self.links if key == name]


@dataclass(slots=True)
class Parsed:
    """One file: its parts by symbol, its header, and what is wrong with it."""

    file: str
    text: str
    header: Part
    parts: dict[str, Part] = field(default_factory=dict)
    problems: list[BaseProblem] = field(default_factory=list)

    def complain(self, subject: str, message: str, fix: str) -> None:
        """Note a problem with a subject, at the line where it starts."""
        line = line_of(self.text, subject)
        self.problems.append(BaseProblem(self.file, line, subject, message, fix))


def parse(file: str, text: str) -> Parsed:
    """Sort the triples of one file into parts; never raises for bad Turtle."""
    import pyoxigraph as ox  # noqa: PLC0415 - only needed when the base changed

    parsed = Parsed(file, text, Part(file, "", ""))
    try:
        triples = [quad.triple for quad in ox.parse(text, format=ox.RdfFormat.TURTLE)]
    except SyntaxError as error:
        parsed.problems.append(_syntax_problem(file, text, error))
        return parsed
    _Reader(parsed, triples, ox).read()
    return parsed


def line_of(text: str, subject: str) -> int:
    """The line on which a subject such as `ing:glycerin` starts; 0 if none does."""
    found = re.search(rf"^{re.escape(subject)}(?![\w-])", text, re.MULTILINE)
    if found is None:
        found = re.search(rf"[/#]{re.escape(subject.partition(':')[2])}>", text)
    return text.count("\n", 0, found.start()) + 1 if found else 0


def curie(iri: str) -> str:
    """An IRI with its prefix, or in angle brackets if it has none of ours."""
    for start, prefix in _PREFIXES.items():
        if iri.startswith(start):
            return f"{prefix}:{iri[len(start) :]}"
    return f"<{iri}>"


def _syntax_problem(file: str, text: str, error: SyntaxError) -> BaseProblem:
    line = error.lineno or 0
    lines = text.splitlines()
    excerpt = lines[line - 1].strip() if 0 < line <= len(lines) else ""
    message = f"this is not Turtle: {error.msg}"
    fix = f"Look at `{excerpt}` and the line before it." if excerpt else "See above."
    return BaseProblem(file, line, "", message, fix)


class _Reader:
    """Walks the triples of one file once."""

    def __init__(self, parsed: Parsed, triples: list[ox.Triple], ox_: Any) -> None:
        self._parsed = parsed
        self._triples = triples
        self._blank, self._named = ox_.BlankNode, ox_.NamedNode
        self._unnamed: dict[str, dict[str, Any]] = {}
        self._symbols: dict[str, tuple[str, str] | None] = {}

    def read(self) -> None:
        definitions = []
        for triple in self._triples:
            subject, predicate, value = triple
            if isinstance(subject, self._blank):
                row = self._unnamed.setdefault(subject.value, {})
                row[predicate.value] = value
            elif isinstance(value, self._blank):
                if predicate.value == _OWL + "equivalentClass":
                    definitions.append((subject.value, value.value))
                elif not predicate.value.startswith(_OWL):
                    self._refuse_unnamed(subject.value, predicate.value)
            else:
                self._sort(subject.value, predicate.value, value)
        for subject_iri, node in definitions:
            self._define(subject_iri, node)

    def _refuse_unnamed(self, subject: str, predicate: str) -> None:
        self._parsed.complain(
            curie(subject),
            f"`{curie(predicate)}` has a value without a name",
            "Give the node in square brackets a name and a subject of its own.",
        )

    def _sort(self, subject: str, predicate: str, value: Any) -> None:
        part = self._part(subject)
        name = self._property(subject, predicate)
        if part is None or name is None:
            return
        if isinstance(value, self._named):
            self._link(part, name, value.value)
        elif value.datatype.value in _NUMBERS:
            part.numbers.append((name, Fraction(value.value)))
        elif value.datatype.value == _BOOLEAN:
            if value.value in {"true", "1"}:
                part.truths.append(name)
        else:
            part.texts.append((name, value.value))

    def _link(self, part: Part, name: str, iri: str) -> None:
        if name == "type" and iri in _MEANINGS:
            part.roles.add(_MEANINGS[iri])
            return
        symbol = self._symbol(iri)
        if symbol is not None:
            part.links.append((name, symbol[1]))
        elif not iri.startswith((_OWL, _XSD)):
            self._parsed.complain(
                f"{part.space}:{part.symbol}" if part.space else "",
                f"`{curie(iri)}` is in none of the namespaces of the base",
                "Use abl:, ing:, claim:, src: or stem:.",
            )

    def _part(self, iri: str) -> Part | None:
        symbol = self._symbol(iri)
        if symbol is None:
            if not iri.startswith("https://abluent.example/ns"):
                self._parsed.complain(
                    curie(iri),
                    "this subject is in none of the namespaces of the base",
                    "Name it with abl:, ing:, claim:, src: or stem:.",
                )
                return None
            return self._parsed.header
        space, local = symbol
        part = self._parsed.parts.get(local)
        if part is None or part.space != space:
            part = Part(self._parsed.file, space, local)
            key = local if local not in self._parsed.parts else f"{space}:{local}"
            part = self._parsed.parts.setdefault(key, part)
        return part

    def _property(self, subject: str, iri: str) -> str | None:
        symbol = self._symbol(iri)
        if symbol is not None:
            return symbol[1]
        if iri not in _KEPT and not iri.startswith((_OWL, _RDFS, _RDF)):
            self._parsed.complain(
                curie(subject),
                f"`{curie(iri)}` is no property of the base",
                "Use a property of abl:, or add one to the vocabulary.",
            )
        return _KEPT.get(iri)

    def _symbol(self, iri: str) -> tuple[str, str] | None:
        if iri not in self._symbols:
            cut = max(iri.rfind("#"), iri.rfind("/")) + 1
            space = _PREFIXES.get(iri[:cut])
            self._symbols[iri] = (space, iri[cut:]) if space and iri[cut:] else None
        return self._symbols[iri]

    def _define(self, subject: str, node: str) -> None:
        part = self._part(subject)
        members = self._members(
            self._unnamed.get(node, {}).get(_OWL + "intersectionOf")
        )
        if part is None or len(members) != 2:
            return
        whole = [m for m in members if isinstance(m, self._named)]
        rows = [self._unnamed.get(m.value, {}) for m in members if m not in whole]
        if len(whole) != 1 or _OWL + "hasValue" not in rows[0]:
            return
        wide = self._symbol(whole[0].value)
        name = self._symbol(rows[0][_OWL + "onProperty"].value)
        value = rows[0][_OWL + "hasValue"]
        if wide is not None and name is not None:
            part.definitions.append((wide[1], name[1], self._value(value)))

    def _value(self, value: Any) -> Any:
        if not isinstance(value, self._named):
            return value.value == "true"
        symbol = self._symbol(value.value)
        return symbol[1] if symbol else value.value

    def _members(self, node: Any) -> list[Any]:
        members = []
        while node is not None and node.value in self._unnamed:
            row = self._unnamed[node.value]
            members.append(row[_RDF + "first"])
            node = row.get(_RDF + "rest")
        return members


def by_symbol(files: Iterable[Parsed]) -> dict[str, list[Part]]:
    """All parts of all files, by symbol, in the order of the files."""
    gathered: dict[str, list[Part]] = {}
    for parsed in files:
        for part in parsed.parts.values():
            gathered.setdefault(part.symbol, []).append(part)
    return gathered
