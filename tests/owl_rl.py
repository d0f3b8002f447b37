"""The OWL 2 RL closure of a graph, by the rules in `owl_rl.rules`.

Triples come in and go out as three texts each, written as in N-Triples. Inside,
every node is a symbol: a blank node is a constant of its own, so that no rule can
make or merge one, and a literal is a term like any other. A closure may therefore
hold triples that RDF does not allow, such as one about a literal; they are left out
when it is read, not while it is made. What was asserted stays apart from what
follows.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from pathlib import Path
from typing import TypeAlias

from abluent.engine.logic.facts import Fact
from abluent.engine.logic.program import Program, load_program
from abluent.engine.logic.reasoner import Model, evaluate
from abluent.engine.logic.terms import Term
from owl_literals import DATATYPES, LITERAL, literal_facts

Triple: TypeAlias = tuple[str, str, str]

_SPACES = {
    "rdf": "http://www.w3.org/1999/02/22-rdf-syntax-ns#",
    "rdfs": "http://www.w3.org/2000/01/rdf-schema#",
    "owl": "http://www.w3.org/2002/07/owl#",
    "xsd": "http://www.w3.org/2001/XMLSchema#",
}


class Closure:
    """What follows from a graph.

    Attributes:
        model: the reasoner's model, for proofs; its triples are `triple` facts whose
            terms are those of `symbol`.
    """

    def __init__(self, model: Model) -> None:
        self.model = model

    def holds(self, triple: Triple) -> bool:
        """Whether a triple is asserted or follows."""
        return self.model.holds("triple", [symbol(node) for node in triple])

    def triples(self, inferred_only: bool = False) -> Iterator[Triple]:
        """The triples that RDF allows, asserted ones too unless `inferred_only`."""
        for row in self.model.match("triple"):
            subject, predicate, value = (node(str(term)) for term in row)
            if subject.startswith('"') or not predicate.startswith("<"):
                continue
            if not (inferred_only and self.model.asserted("triple", row)):
                yield subject, predicate, value

    def clashes(self) -> list[tuple[str, str, str]]:
        """What makes the graph inconsistent: the rule, and two nodes, in order."""
        found = [
            (str(rule), node(str(one)), node(str(other)))
            for rule, one, other in self.model.match("clash")
        ]
        return sorted(found)


def close(triples: Iterable[Triple]) -> Closure:
    """The closure of a graph, given as triples of nodes written as in N-Triples."""
    known = {tuple(map(symbol, triple)): None for triple in triples}
    return Closure(evaluate(_program(), [*_facts(known), *_literals(known)]))


def symbol(text: str) -> str:
    """The reasoner's symbol for a node: prefixed where the vocabulary is standard."""
    if text.startswith("<"):
        return _shortened(text)
    found = LITERAL.fullmatch(text)
    if found and found[3]:
        return text[: found.start(3)] + _shortened(found[3])
    return text


def node(text: str) -> str:
    """The node that a symbol stands for; the inverse of `symbol`."""
    found = LITERAL.fullmatch(text)
    if found and found[3]:
        return text[: found.start(3)] + _lengthened(found[3])
    return text if text[:1] in {'"', "_", "<"} else _lengthened(text)


def _shortened(text: str) -> str:
    for prefix, space in _SPACES.items():
        if text.startswith(f"<{space}"):
            return f"{prefix}:{text[len(space) + 1 : -1]}"
    return text


def _lengthened(text: str) -> str:
    prefix, colon, name = text.partition(":")
    if colon and prefix in _SPACES:
        return f"<{_SPACES[prefix]}{name}>"
    return text


@lru_cache(maxsize=1)
def _program() -> Program:
    path = Path(__file__).with_name("owl_rl.rules")
    return load_program([(path.name, path.read_text("utf-8"))])


def _facts(triples: Iterable[tuple[Term, ...]]) -> Iterator[Fact]:
    for triple in triples:
        yield Fact("triple", triple)
    for datatype in DATATYPES:
        yield Fact("datatype", (datatype,))


def _literals(triples: Iterable[tuple[Term, ...]]) -> Iterator[Fact]:
    seen = dict.fromkeys(str(term) for triple in triples for term in triple)
    for text in seen:
        if text.startswith('"'):
            yield from literal_facts(text)
