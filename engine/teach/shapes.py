"""What the shapes miss in an addition, each with its problem, why, and fix."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from abluent.engine.base.spaces import SPACES
from abluent.engine.faults import Problem

if TYPE_CHECKING:
    from abluent.engine.base.store import Base

_RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
_RDFS = "http://www.w3.org/2000/01/rdf-schema#"
_RENAMED = {
    "type": f"{_RDF}type",
    "subclass": f"{_RDFS}subClassOf",
    "label": f"{_RDFS}label",
    "comment": f"{_RDFS}comment",
}


def missing(base: Base, symbols: Iterable[str]) -> list[Problem] | None:
    """Return what the shapes object to, or `None` if they could not be asked.

    Args:
        base: the base with the addition.
        symbols: what the addition describes.
    """
    try:
        import pyshacl
        from rdflib import RDF, SH, Graph
    except ModuleNotFoundError:
        return None
    wanted = tuple(symbols)
    data = Graph()
    for triple in _triples(base, wanted):
        data.add(triple)
    shapes = Graph()
    for path in _shape_files():
        shapes.parse(path)
    _, report, _ = pyshacl.validate(data, shacl_graph=shapes, meta_shacl=False)
    assert isinstance(report, Graph)
    names = {_iri(base, symbol): symbol for symbol in wanted}
    found = [
        (names[focus], str(report.value(result, SH.resultMessage)))
        for result in report.subjects(RDF.type, SH.ValidationResult)
        if (focus := str(report.value(result, SH.focusNode))) in names
    ]
    return [_problem(base, *each) for each in sorted(set(found))]


def _shape_files() -> list[Path]:
    import abluent.ontology

    folder = Path(next(iter(abluent.ontology.__path__))) / "shapes"
    return sorted(folder.glob("*.ttl"))


def _problem(base: Base, symbol: str, message: str) -> Problem:
    head, _, rest = message.partition(" Why: ")
    why, _, fix = rest.partition(" Fix: ")
    told = head.removeprefix("Problem: ")
    return Problem(f"`{base.record(symbol).space}:{symbol}`: {told} {why}", hint=fix)


def _triples(base: Base, symbols: tuple[str, ...]) -> Iterator[Any]:
    """Yield all that is known of some subjects, and the kinds of what they name.

    What is not looked at is left out, as a thing of a kind is checked wherever it is.
    """
    from fractions import Fraction

    from rdflib import Literal, URIRef

    named = {
        value for s in symbols for p in base.record(s).parts for _, value in p.links
    }
    kinds = {up for s in named | set(symbols) for up in _kinds(base, s)}
    for symbol in {*symbols, *named, *kinds}.intersection(base.symbols):
        record = base.record(symbol)
        node = URIRef(_iri(base, symbol))
        whole = symbol in symbols
        # One basis for each file; that of the addition counts, as it is the last to
        # state one.
        stating = [p for p in record.parts if any(n == "standing" for n, _ in p.links)]
        for part in record.parts:
            for name, value in part.links:
                if name == "standing" and part is not stating[-1]:
                    continue
                if whole or name in {"type", "subclass"}:
                    yield node, URIRef(_property(name)), URIRef(_iri(base, value))
            if whole:
                for name, text in part.texts:
                    yield node, URIRef(_property(name)), Literal(text)
                for name, figure in part.numbers:
                    number = Fraction(str(figure))
                    yield node, URIRef(_property(name)), Literal(_decimal(number))
                for name in part.truths:
                    yield node, URIRef(_property(name)), Literal(True)


def _kinds(base: Base, symbol: str) -> Iterable[str]:
    return base.ancestors(symbol) if base.is_class(symbol) else base.classes_of(symbol)


def _decimal(number: Any) -> Any:
    from decimal import Decimal

    return Decimal(number.numerator) / Decimal(number.denominator)


def _property(name: str) -> str:
    return _RENAMED.get(name, SPACES["abl"] + name)


def _iri(base: Base, symbol: str) -> str:
    space = base.record(symbol).space if symbol in base else "abl"
    return SPACES.get(space, SPACES["abl"]) + symbol
