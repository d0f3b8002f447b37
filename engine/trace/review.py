"""Whether a conclusion still follows once the steps held to be wrong are taken away.

A fallen step shows only that one chain is broken; another may lead to the same
conclusion. So what a trace was found from is evaluated once more without the facts
and rules that were held to be wrong.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any

from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.terms import Term
from abluent.engine.proof.encode import atom_json, rule_names, term_from
from abluent.engine.proof.knowledge import Knowledge, with_rules
from abluent.engine.proof.sentences import Sentences
from abluent.grammar.common.text import as_sentence

if TYPE_CHECKING:
    from abluent.engine.questions.world.world import World

_OTHERWISE = "nothing in its place follows"


def without(
    trace: Mapping[str, Any], wrong: Iterable[str], world: World
) -> Iterator[str]:
    """Yield, for each goal of a trace, what may be said without the wrong steps.

    Nothing is said where no step was held to be wrong, or where one cannot be taken
    away because it says that something is absent.

    Args:
        trace: the trace.
        wrong: the steps held to be wrong.
        world: the base whose rules made the trace.
    """
    nodes = [trace["nodes"][key] for key in wrong]
    if not nodes or any(node["kind"] not in ("fact", "rule") for node in nodes):
        yield from ("" for _ in trace["goals"])
        return
    left = _left(trace, nodes, world)
    sentences = Sentences(world.program, world.known.phrases)
    for goal in trace["goals"]:
        predicate, *data = goal["atom"]
        args = tuple(None if each is None else term_from(each) for each in data)
        yield _said(left, sentences, predicate, args, goal["holds"])


def _left(
    trace: Mapping[str, Any], nodes: Iterable[Mapping[str, Any]], world: World
) -> Knowledge:
    gone = {tuple(map(str, node["atom"])) for node in nodes if node["kind"] == "fact"}
    unruly = {node["rule"] for node in nodes if node["kind"] == "rule"}
    names = rule_names(world.program)
    rules = [r for r in world.program.rules if names[r.id, r.head] not in unruly]
    # A trace holds what its own chain needs; another chain may need more of the base.
    named = {str(term) for part in trace["facts"] for term in part["atom"][1:]}
    base = world.base.facts_about(sorted(named & world.known.ingredients))
    told = [*map(_fact, trace["facts"]), *world.known.common, *base]
    facts = [
        fact
        for fact in told
        if tuple(map(str, atom_json(fact.predicate, fact.args))) not in gone
    ]
    return Knowledge(with_rules(world.program, rules), facts)


def _fact(part: Mapping[str, Any]) -> Fact:
    predicate, *args = part["atom"]
    basis = Basis(part["standing"], tuple(part["sources"]), part["memory"])
    return Fact(predicate, tuple(map(term_from, args)), basis)


def _said(
    left: Knowledge,
    sentences: Sentences,
    predicate: str,
    args: tuple[Term | None, ...],
    held: bool,
) -> str:
    if left.holds((predicate, args)):
        return "another chain leads there still" if held else "now it holds"
    if not held:
        return ""
    # The last term of a fact is most often what was found out about the others.
    others = sorted(left.rows(predicate, (*args[:-1], None)), key=repr)
    texts = [as_sentence(sentences.claim(name, row)) for name, row in others]
    return f"without them: {' '.join(texts)}" if texts else f"without them {_OTHERWISE}"
