"""An answer as a trace: JSON with everything needed to check it elsewhere.

A trace holds the proof nodes, the rules and asserted facts that bear on them, the
texts of the labels that were read, proofs of the quantities found for them, the
citations, and the words used. `checker`
describes how it is verified and shares no code with this module.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from abluent.engine.logic.clauses import Rule
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.program import Program
from abluent.engine.logic.terms import Term
from abluent.engine.proof.cutting import Cut, cut
from abluent.engine.proof.encode import (
    Json,
    atom_json,
    canonical,
    digest,
    fact_json,
    rule_json,
    rule_names,
    term_from,
    term_json,
)
from abluent.engine.proof.nodes import AbsenceNode, FactNode, Node, RuleNode, node_json
from abluent.engine.proof.proofs import Proof, Prover
from abluent.engine.proof.sentences import Naming, Sentences, plain

FORMAT = "abluent-trace/3"


@dataclass(frozen=True, slots=True)
class LabelLine:
    """One ingredient of a label: characters `start` to `end`, the end left out."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class LabelNote:
    """Characters of a label that name no ingredient, and why they were passed over."""

    start: int
    end: int
    why: str


@dataclass(frozen=True, slots=True)
class LabelText:
    """A label word for word, and how its characters were read.

    Args:
        product: the symbol of the product.
        text: the whole label.
        lines: its ingredients in order; the first is at place one.
        notes: everything else that has letters.
        facts: what was read off it, lines with a `origins.LabelOrigin`.
    """

    product: str
    text: str
    lines: tuple[LabelLine, ...]
    notes: tuple[LabelNote, ...] = ()
    facts: tuple[Fact, ...] = ()


@dataclass(frozen=True, slots=True)
class TracedGoal:
    """A fact that was asked for, and what of the verdict it shows.

    Args:
        predicate: the predicate.
        args: its terms; `None` is any term, in a goal that does not hold.
        row: the number of the row of the answer that it shows, from zero; None for
            what is told beside the rows. The goals of a row follow one another.
        part: whether it shows no more than a part of that row, which stands under
            its predicate; the first goal of a row shows the row.
    """

    predicate: str
    args: tuple[Term | None, ...]
    row: int | None = None
    part: bool = False


@dataclass(frozen=True, slots=True)
class Supposed:
    """What a supposition added to the base and took away."""

    added: tuple[Fact, ...] = ()
    removed: tuple[Fact, ...] = ()


NOTHING_SUPPOSED = Supposed()


@dataclass(frozen=True, slots=True)
class Bounds:
    """What shows the facts that give quantities of labels as intervals.

    Args:
        entries: the proofs of each such fact, as `quantities` describes them.
        facts: further facts that the proofs rest on.
    """

    entries: tuple[Json, ...] = ()
    facts: tuple[Fact, ...] = ()


NO_BOUNDS = Bounds()
NO_EDITION = {"name": "", "digest": ""}


@dataclass(frozen=True, slots=True)
class Told:
    """A question and its answer.

    Args:
        question: as it was typed.
        canonical: as it was understood.
        cautions: what belongs to the answer and is proven by nothing.
    """

    question: str
    canonical: str
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Folded:
    """What the rows of an answer come to, told by classes.

    Args:
        content: the part of the trace.
        asks: what is to be found anew: what each class held.
    """

    content: Json
    asks: tuple[tuple[str, tuple[Term | None, ...]], ...] = ()


NOTHING_FOLDED = Folded({"held": {}, "whole": [], "alone": {}, "said": []})


@dataclass(frozen=True, slots=True)
class Setting:
    """What an answer was found in.

    Args:
        citations: the text for every source id that facts and rules may cite.
        labels: the labels that were read.
        naming: how terms are written.
        supposed: how the facts differ from those of the base.
        terms: what the terms of a predicate are called in a verdict; of others they
            are called `term 1`, `term 2` and so on.
        bounds: proofs of intervals, for every fact of the model that needs one.
        edition: the name and digest of the base.
        given: facts that come with the question, and belong to the trace in any case.
        folded: what the rows come to.
    """

    citations: Mapping[str, str]
    labels: tuple[LabelText, ...] = ()
    naming: Naming = plain
    supposed: Supposed = NOTHING_SUPPOSED
    terms: Mapping[str, Sequence[str]] = field(default_factory=dict)
    bounds: Bounds = NO_BOUNDS
    edition: Mapping[str, str] = field(default_factory=lambda: NO_EDITION)
    given: tuple[Fact, ...] = ()
    folded: Folded = NOTHING_FOLDED


def build_trace(
    prover: Prover,
    goals: Sequence[TracedGoal],
    told: Told,
    setting: Setting,
) -> dict[str, Json]:
    """The trace of an answer.

    Args:
        prover: of the model that the answer comes from.
        goals: what the answer rests on, each holding or not.
        told: the question and what was answered.
        setting: what the answer was found in.

    Raises:
        KeyError: a source has no citation.
        NotProven: never for a ground goal; else a goal with an open place holds.
    """
    program = prover.model.program
    proofs = [_proof(prover, goal) for goal in goals]
    nodes = {key: node for proof in proofs for key, node in proof.nodes.items()}
    told_facts = [f for label in setting.labels for f in label.facts]
    told_facts += (*setting.given, *setting.supposed.added, *setting.bounds.facts)
    asks = setting.folded.asks
    held = cut(prover, proofs, told_facts, setting.bounds.entries, asks)
    words = _Words(program, setting.naming)
    for term in (term for goal in goals for term in goal.args):
        words.term(term)
    for node in nodes.values():
        words.node(node)  # so that the trace has the names that its sentences need
    content = {
        "format": FORMAT,
        "base": dict(setting.edition),
        "question": told.question,
        "canonical": told.canonical,
        "verdict": {"answers": _rows(goals, proofs, words, setting)},
        "cautions": list(told.cautions),
        "goals": [_goal(*each) for each in zip(goals, proofs, strict=True)],
        "program": _program(program, held, sorted(_spoken_of(nodes.values())), words),
        "facts": _sorted(map(fact_json, held.facts)),
        "supposed": {
            "added": _atoms(setting.supposed.added),
            "removed": _atoms(setting.supposed.removed),
        },
        "foldings": setting.folded.content,
        "labels": [_label(each) for each in setting.labels],
        "bounds": list(held.bounds),
        "sources": _cited(
            [*(f.basis for f in held.facts), *held.rules], setting.citations
        ),
        "nodes": {key: node_json(node) for key, node in nodes.items()},
        "names": words.names,
        "terms": {
            name: list(names)
            for name, names in setting.terms.items()
            if any(goal.predicate == name for goal in goals)
        },
    }
    return {**content, "digest": digest(content)}


def build_base(
    program: Program,
    facts: Iterable[Fact],
    setting: Setting,
    trace: Mapping[str, Json],
    asked: Sequence[Mapping[str, Json]] | None = None,
) -> dict[str, Json]:
    """A whole base, for `checker.check` to hold a trace against.

    Args:
        program: all rules.
        facts: all that the base asserts, and what comes with the question.
        setting: the citations, the naming, the edition, and the labels in question.
        trace: the trace to be checked; its words are made anew, to be compared.
        asked: the traces that the question comes to when it is asked again, none if
            it cannot be; None if nobody asked.
    """
    words = _Words(program, setting.naming)
    predicates = {*program.arities, *(rule.head.predicate for rule in program.rules)}
    predicates.update(trace["program"]["predicates"])
    for key in trace["names"]:
        data, how = json.loads(key)
        words.term(None if data is None else term_from(data), how)
    filed: dict[str, list[Json]] = {}
    for fact in dict.fromkeys(facts):
        filed.setdefault(fact.predicate, []).append(fact_json(fact))
    rules = Cut((), program.rules)
    return {
        "edition": dict(setting.edition),
        "program": _program(program, rules, sorted(predicates), words),
        "facts": filed,
        "sources": dict(setting.citations),
        "names": dict(words.names),
        "terms": {name: list(each) for name, each in setting.terms.items()},
        "labels": {
            label.product: {**_label(label), "facts": _atoms(label.facts)}
            for label in setting.labels
        },
        "asked": None if asked is None else list(asked),
    }


class _Words(Sentences):
    """Sentences that keep every name they were given."""

    def __init__(self, program: Program, naming: Naming) -> None:
        super().__init__(program, naming)
        self.names: dict[str, str] = {}

    def term(self, term: Term | None, how: str = "") -> str:
        """A term in words, which are kept."""
        text = super().term(term, how)
        self.names[canonical([term_json(term), how])] = text
        return text


def _proof(prover: Prover, goal: TracedGoal) -> Proof:
    args = tuple(term for term in goal.args if term is not None)
    if len(args) == len(goal.args) and prover.model.holds(goal.predicate, args):
        return prover.prove(goal.predicate, args)
    return prover.prove_absence(goal.predicate, goal.args)


def _program(
    program: Program,
    held: Cut,
    predicates: Iterable[str],
    words: Sentences,
) -> Json:
    names = rule_names(program)
    return {
        "standings": list(program.standings),
        "rules": {names[each.id, each.head]: rule_json(each) for each in held.rules},
        "predicates": {name: list(words.templates(name)) for name in predicates},
    }


def _spoken_of(nodes: Iterable[Node]) -> set[str]:
    """The predicates whose own sentences some nodes are shown with."""
    found = set()
    for node in nodes:
        if isinstance(node, AbsenceNode):
            found.add(node.predicate)
        elif isinstance(node, FactNode):
            found.add(node.fact.predicate)
        elif isinstance(node, RuleNode):
            found.add(node.rule.head.predicate)
    return found


def _goal(goal: TracedGoal, proof: Proof) -> Json:
    return {
        "atom": atom_json(goal.predicate, goal.args),
        "holds": not isinstance(proof.root, AbsenceNode),
        "root": proof.root.key,
        "standing": proof.standing,
        "memory": proof.from_memory,
        "weakest": sorted(node.key for node in proof.weakest),
        "row": goal.row,
        "part": goal.part,
    }


def _rows(
    goals: Sequence[TracedGoal],
    proofs: Sequence[Proof],
    words: _Words,
    setting: Setting,
) -> list[Json]:
    """The answer, row by row: what each goal shows, under what its terms are called."""
    rows: list[Json] = []
    for goal, proof in zip(goals, proofs, strict=True):
        names = setting.terms.get(goal.predicate)
        shown: dict[str, Json] = {
            names[n] if names else f"term {n + 1}": words.term(term)
            for n, term in enumerate(goal.args)
            if term is not None
        }
        shown |= {
            "holds": not isinstance(proof.root, AbsenceNode),
            "standing": proof.standing,
            "memory": proof.from_memory,
            "proof": proof.root.key,
        }
        if goal.part:
            row = rows[-1]
            own = {k: v for k, v in shown.items() if k in _OF_EACH or k not in row}
            row.setdefault(goal.predicate, []).append(own)
        elif goal.row is not None:
            rows.append(shown)
    return rows


_OF_EACH = {"holds", "standing", "memory", "proof"}
"""What a part of a row says for itself, and does not share with the row."""


def _label(label: LabelText) -> Json:
    lines = [
        {
            "place": place,
            "start": line.start,
            "end": line.end,
            "printed": label.text[line.start : line.end],
        }
        for place, line in enumerate(label.lines, 1)
    ]
    notes = [{"start": n.start, "end": n.end, "why": n.why} for n in label.notes]
    return {
        "product": label.product,
        "text": label.text,
        "lines": lines,
        "notes": notes,
    }


def _atoms(facts: Iterable[Fact]) -> Json:
    return [atom_json(fact.predicate, fact.args) for fact in facts]


def _cited(parts: Iterable[Basis | Rule], citations: Mapping[str, str]) -> Json:
    return {name: citations[name] for part in parts for name in part.sources}


def _sorted(facts: Iterable[Json]) -> list[Json]:
    return sorted(facts, key=canonical)
