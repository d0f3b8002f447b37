"""The works that a set of answers cites, with what each was cited for.

A work is cited by the steps of a proof: asserted facts and rules. What a step says is
what the work was cited for, and the step's standing is what the work is worth there,
which may differ from step to step.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from abluent.engine.base.record import Record
from abluent.engine.logic.clauses import Rule
from abluent.engine.logic.facts import Basis
from abluent.engine.proof.nodes import FactNode, Node
from abluent.engine.proof.proofs import basis_of
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.rows import all_rows
from abluent.grammar.common.text import as_sentence, in_words


@dataclass(frozen=True)
class Cited:
    """One work.

    Args:
        symbol: its local name in the base.
        record: all that the base says of it.
        citation: in one line.
        uses: what it was cited for, each with its standing in words.
    """

    symbol: str
    record: Record
    citation: str
    uses: Mapping[str, str]

    @property
    def unseen(self) -> bool:
        """Whether nobody opened it for the base."""
        return self.record.truth("recalled")

    @property
    def seen(self) -> str:
        """What part of it was read, in words; empty if that is not known."""
        return self.record.text("seen") or ""

    @property
    def standings(self) -> tuple[str, ...]:
        """How what it was cited for stands, each once."""
        return tuple(dict.fromkeys(self.uses.values()))


def works_of(answers: Iterable[Answer]) -> list[Cited]:
    """Return the works that some answers rest on, in the order of their citations."""
    return cited_works(row for answer in answers for row in all_rows(answer))


def cited_works(rows: Iterable[Explained]) -> list[Cited]:
    """Return the works that some rows rest on, in the order of their citations.

    Bookkeeping of the base is no work and is left out.
    """
    uses: dict[str, dict[str, str]] = {}
    base = None
    for row in rows:
        base = row.case.world.base
        uses |= {symbol: {} for symbol in row.sources if symbol not in uses}
        for symbol, use, stands in _uses(row):
            if symbol in uses:
                uses[symbol].setdefault(use, stands)
    if base is None:
        return []
    works = [Cited(s, base.source(s), base.label(s), used) for s, used in uses.items()]
    return sorted(works, key=lambda work: work.citation.casefold())


def _uses(row: Explained) -> Iterator[tuple[str, str, str]]:
    """Yield each work that a step cites, what for, and how that stands."""
    for proof in row.proofs:
        for node in proof.nodes.values():
            basis = basis_of(node)
            if basis is not None:
                use = _use(row, node)
                for symbol in basis.sources:
                    yield symbol, use, _stands(basis)


def _use(row: Explained, node: Node) -> str:
    """Return a step in words; all that is asserted of a claim is that claim."""
    if isinstance(node, FactNode) and node.fact.args[0] in row.claims:
        return as_sentence(row.case.world.base.label(str(node.fact.args[0])))
    return as_sentence(row.case.world.known.sentences.node(node))


def _stands(basis: Basis | Rule) -> str:
    words = in_words(basis.standing)
    return f"{words}, from memory" if words and basis.from_memory else words
