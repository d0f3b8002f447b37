"""A conclusion with what a reader needs to trust it, or to doubt it.

An `Explained` names a fact that follows in a case. Its proof is made when it is
first looked at; everything else is read off the proof. The short reasons leave out
steps that rest on bookkeeping alone (`abl:aside` in the base); nothing is left out
of the proof itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property

from abluent.engine.base.contract import BOUND_AT, LINE
from abluent.engine.base.phrases import PRODUCT
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.terms import Term
from abluent.engine.proof.nodes import FactNode, Ground, Node, RuleNode
from abluent.engine.proof.origins import (
    LEVELS,
    QUESTION,
    SUPPOSITION,
    LabelOrigin,
    label_origin,
)
from abluent.engine.proof.proofs import Proof, basis_of
from abluent.engine.questions.world.case import Case
from abluent.grammar.common.text import as_sentence


class Explained:
    """One fact that follows in a case.

    Args:
        case: the case.
        goal: the predicate and terms of the fact.
        beside: further facts that belong to its explanation, such as what a wash
            lists and cannot count on.
    """

    def __init__(self, case: Case, goal: Ground, beside: Sequence[Ground] = ()) -> None:
        self.case = case
        self.goal = goal
        self.beside = tuple(beside)

    @cached_property
    def proof(self) -> Proof:
        """The best proof: highest standing, then fewest steps."""
        return self.case.prover.prove(*self.goal)

    @cached_property
    def proofs(self) -> tuple[Proof, ...]:
        """The proof, and one of each fact beside it."""
        return (self.proof, *(self.case.prover.prove(*each) for each in self.beside))

    @property
    def standing(self) -> str:
        """The standing of the weakest step, as a symbol of the base."""
        return self.proof.standing

    @property
    def from_memory(self) -> bool:
        """Whether the weakest step was not re-read in its source."""
        return self.proof.from_memory

    @cached_property
    def weakest(self) -> tuple[str, ...]:
        """The weakest steps in words, those first on which it turns.

        That is a claim which sets a bound; then any other claim, and what has content.
        """
        nodes = sorted(self.proof.weakest, key=self._turning)
        return tuple(dict.fromkeys(map(self.weak_step, nodes)))

    @cached_property
    def bounding(self) -> frozenset[str]:
        """The claims that set a bound which it rests on."""
        nodes = self.proof.nodes.values()
        steps = (node for node in nodes if isinstance(node, RuleNode))
        return frozenset(
            str(step.args[0]) for step in steps if step.rule.head.predicate == BOUND_AT
        )

    def _turning(self, node: Node) -> tuple[bool, bool, bool]:
        """Lower for the step on which more turns."""
        symbol = node.fact.args[0] if isinstance(node, FactNode) else ""
        return (
            symbol not in self.bounding,
            symbol not in self.claims,
            self._is_aside(node),
        )

    def weak_step(self, node: Node) -> str:
        """A step in words; all that is asserted of a claim is that claim."""
        if isinstance(node, FactNode) and node.fact.args[0] in self.claims:
            return self.case.world.base.label(str(node.fact.args[0]))
        return self._sentence(node)

    @cached_property
    def reasons(self) -> tuple[str, ...]:
        """The steps with content, in plain words, the conclusion last."""
        beside = [t for p in self.proofs[1:] for t in self._told(p)]
        return tuple(dict.fromkeys([*beside, *self._told(self.proof)]))

    @cached_property
    def claims(self) -> tuple[str, ...]:
        """The claims it rests on, by symbol, in the order they are used."""
        base = self.case.world.base
        used = dict.fromkeys(str(f.args[0]) for f in self._facts() if f.args)
        return tuple(s for s in used if s in base and base.record(s).space == "claim")

    @cached_property
    def caveats(self) -> tuple[str, ...]:
        """What limits the claims it rests on, and the notes on its ingredients."""
        base = self.case.world.base
        texts = [base.record(claim).text("caveat") for claim in self.claims]
        return tuple(dict.fromkeys(text for text in texts if text))

    @cached_property
    def sources(self) -> tuple[str, ...]:
        """The works it rests on, by symbol; bookkeeping is not cited."""
        asides = self.case.world.known.asides
        cited = [name for proof in self.proofs for name in proof.sources]
        return tuple(name for name in dict.fromkeys(cited) if name not in asides)

    @cached_property
    def lines(self) -> tuple[tuple[Fact, LabelOrigin], ...]:
        """The label lines it rests on, with their places."""
        found = ((f, label_origin(f.basis.origin)) for f in self._facts())
        kept = {
            (f.args, o): (f, o)
            for f, o in found
            if o and f.predicate == LINE and not self._is_of_another(f)
        }
        return tuple(kept.values())

    def _facts(self) -> Iterator[Fact]:
        for proof in self.proofs:
            yield from proof.facts

    # -- short reasons ------------------------------------------------------------

    def _told(self, proof: Proof) -> Iterator[str]:
        for node in proof.nodes.values():
            if not self._is_aside(node):
                yield self._sentence(node)

    def _is_aside(self, node: Node) -> bool:
        if isinstance(node, FactNode):
            return not self._is_content(node.fact)
        basis = basis_of(node)
        if not isinstance(node, RuleNode) or basis is None:
            return True
        return self.case.world.known.asides.issuperset(basis.sources)

    def _is_content(self, fact: Fact) -> bool:
        """Whether an assertion is worth a sentence: a label line, what a thing is."""
        known = self.case.world.known.ingredients
        if fact.basis.origin == QUESTION or self._is_of_another(fact):
            return False
        if fact.predicate in self.case.world.known.asides:
            return False
        origin = fact.basis.origin
        read = origin in {SUPPOSITION, LEVELS} or label_origin(origin) is not None
        return read or bool(known.intersection(fact.args[:1]))

    def _is_of_another(self, fact: Fact) -> bool:
        """Whether a fact is read off a label that this is not about.

        That an ingredient is at hand may be shown by any label that lists it.
        """
        origin = label_origin(fact.basis.origin)
        own = [each for each in self.goal[1] if str(each).startswith(PRODUCT)]
        return bool(own) and origin is not None and origin.product not in own

    def _sentence(self, node: Node) -> str:
        return as_sentence(self.case.world.known.sentences.node(node))


class Lacking(Explained):
    """That nothing of a pattern follows in a case: no evidence in this base.

    Args:
        case: the case.
        predicate: the predicate.
        pattern: its terms, `None` for any.
        beside: facts that belong to its explanation.
    """

    def __init__(
        self,
        case: Case,
        predicate: str,
        pattern: Sequence[Term | None],
        beside: Sequence[Ground] = (),
    ) -> None:
        self.pattern = tuple(pattern)
        terms = tuple("" if term is None else term for term in self.pattern)
        super().__init__(case, (predicate, terms), beside)

    @cached_property
    def proof(self) -> Proof:
        """The proof of the absence."""
        return self.case.prover.prove_absence(self.goal[0], self.pattern)

    @property
    def standing(self) -> str:
        """The standing of the weakest step of what it lies beside."""
        return next((p.standing for p in self.proofs if p.standing), "")

    @cached_property
    def reasons(self) -> tuple[str, ...]:
        """What is known instead, and what is not."""
        beside = [t for p in self.proofs[1:] for t in self._told(p)]
        return tuple(dict.fromkeys([*beside, self._sentence(self.proof.root)]))


def united(groups: Iterable[Iterable[str]]) -> tuple[str, ...]:
    """Every text of every group, each once, in order."""
    return tuple(dict.fromkeys(each for group in groups for each in group))
