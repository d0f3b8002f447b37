"""The steps of a trace, numbered, in words, with what each rests on.

Everything is read from the trace itself, which is what the checker checks; a page
made of these steps says nothing that the trace does not hold.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from abluent.engine.base.phrases import product_name
from abluent.engine.checking.reword import sentences
from abluent.engine.proof.origins import label_origin
from abluent.engine.trace.bounds import arguments
from abluent.grammar.common.errors import line_and_column
from abluent.grammar.common.text import as_sentence, in_words


@dataclass(frozen=True, slots=True)
class LabelPlace:
    """A stretch of a label.

    `start` and `end` are offsets, the end left out; `line` and `column` count
    from one.
    """

    product: str
    printed: str
    start: int
    end: int
    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a chain of reasons.

    Args:
        number: from one; every step comes after those it rests on.
        text: one sentence.
        kind: `fact`, `rule`, `absent`, `compare`, `compute` or `collect`.
        rule: the id of the rule that was used, if one was.
        standing: in words; of what is derived, the lowest of the step and of all that
            it rests on. Empty where nothing of that has one, as in a definition.
        from_memory: nobody re-read it in its source.
        sources: the ids of the cited works.
        origin: the file it was asserted in, if it was.
        rests_on: the numbers of other steps.
        place: where it stands on a label, if it was read there.
        weakest: whether a goal stands only as high as this step.
        key: the hash of its content, by which a reviewer names it.
        argument: what bounds a quantity from below and above, one sentence each.
    """

    number: int
    text: str
    kind: str
    rule: str
    standing: str
    from_memory: bool
    sources: tuple[str, ...]
    origin: str
    rests_on: tuple[int, ...]
    place: LabelPlace | None
    weakest: bool
    key: str
    argument: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Goal:
    """One fact that a trace shows: its steps' last number, and how it stands."""

    text: str
    holds: bool
    standing: str
    from_memory: bool
    step: int


def steps_of(trace: Mapping[str, Any]) -> list[Step]:
    """Return every step of a trace, each once, those of the first goal first."""
    return _Steps(trace).steps()


def goals_of(trace: Mapping[str, Any]) -> list[Goal]:
    """Return what the trace shows, in order."""
    return _Steps(trace).goals()


class _Steps:
    """The nodes of one trace, numbered."""

    def __init__(self, trace: Mapping[str, Any]) -> None:
        self._trace = trace
        self._numbers = {key: n for n, key in enumerate(_ordered(trace), start=1)}
        self._texts = {each["product"]: each["text"] for each in trace["labels"]}
        self._arguments = arguments(trace)
        self._sentences = sentences(trace)
        self._stands = self._derived()
        self._weakest = {key for goal in trace["goals"] for key in goal["weakest"]}

    def _derived(self) -> dict[str, tuple[int, str, bool]]:
        """How each step stands: the lowest rank there is, its standing and memory."""
        scale = self._trace["program"]["standings"]
        found: dict[str, tuple[int, str, bool]] = {}
        for key in self._numbers:
            node = self._trace["nodes"][key]
            rule = node.get("rule", "")
            basis = self._trace["program"]["rules"][rule] if rule else node
            standing, memory = basis.get("standing", ""), basis.get("memory", False)
            place = scale.index(standing) if standing in scale else len(scale)
            own = (2 * place + bool(memory) if standing else -1, standing, bool(memory))
            below = (found[each] for each in premises_of(node))
            found[key] = max([own, *below], key=lambda each: each[0])
        return found

    def steps(self) -> list[Step]:
        return [self._step(key, self._trace["nodes"][key]) for key in self._numbers]

    def goals(self) -> list[Goal]:
        return [
            Goal(
                as_sentence(self._sentences[goal["root"]]),
                goal["holds"],
                in_words(goal["standing"]),
                goal["memory"],
                self._numbers[goal["root"]],
            )
            for goal in self._trace["goals"]
        ]

    def _step(self, key: str, node: Mapping[str, Any]) -> Step:
        rule = str(node.get("rule", ""))
        basis = self._trace["program"]["rules"][rule] if rule else node
        origin = str(node.get("origin", ""))
        place = self._place(origin)
        below = dict.fromkeys(self._numbers[each] for each in premises_of(node))
        return Step(
            number=self._numbers[key],
            text=as_sentence(self._sentences[key]),
            kind=node["kind"],
            rule=rule,
            standing=in_words(self._stands[key][1]),
            from_memory=self._stands[key][2],
            sources=tuple(basis.get("sources", ())),
            origin="" if place else origin,
            rests_on=tuple(below),
            place=place,
            weakest=key in self._weakest,
            key=key,
            argument=self._arguments.get(str(node.get("atom")), ()),
        )

    def _place(self, origin: str) -> LabelPlace | None:
        found = label_origin(origin)
        if found is None or found.product not in self._texts:
            return None
        text = self._texts[found.product]
        line, column = line_and_column(text, found.start)
        printed = text[found.start : found.end]
        product = product_name(found.product)
        return LabelPlace(product, printed, found.start, found.end, line, column)


def _ordered(trace: Mapping[str, Any]) -> list[str]:
    """Return the keys of the nodes, each after those it rests on, without recursion."""
    done: dict[str, None] = {}
    for goal in trace["goals"]:
        waiting = [(goal["root"], False)]
        while waiting:
            key, ready = waiting.pop()
            if ready:
                done[key] = None
            elif key not in done:
                waiting.append((key, True))
                below = list(premises_of(trace["nodes"][key]))
                waiting += [(each, False) for each in reversed(below)]
    return list(done)


def premises_of(node: Mapping[str, Any]) -> Iterator[str]:
    """Return the keys of the nodes that a node of a trace rests on."""
    yield from node.get("premises", ())
    for member in node.get("members", ()):
        yield from member["premises"]
