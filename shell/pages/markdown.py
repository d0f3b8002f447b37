"""A trace as a Markdown page for review.

The page states the question, the verdict and its standing, then every step with
what it rests on, the labels word for word, and the cited works. All text from
labels, products and questions is escaped.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from abluent.engine.base.phrases import product_name
from abluent.engine.trace.steps import Goal, LabelPlace, Step, goals_of, steps_of
from abluent.grammar.common.text import code, escaped, in_a_row, visible


@dataclass(frozen=True)
class Summary:
    """What a reader is told before the steps; all of it in plain sentences.

    Args:
        headline: the answer.
        reasons: the steps with content, the conclusion last.
        caveats: what limits the answer.
        findings: what was asked about the answer, each a head and its items.
    """

    headline: Sequence[str] = ()
    reasons: Sequence[str] = ()
    caveats: Sequence[str] = ()
    findings: Sequence[tuple[str, Sequence[str]]] = ()


def trace_markdown(trace: Mapping[str, Any], summary: Summary = Summary()) -> str:
    """Return a trace as a Markdown page.

    Args:
        trace: as `abluent.engine.proof.trace.build_trace` makes it.
        summary: what to say first; without a headline, what the trace shows.
    """
    steps = steps_of(trace)
    goals = goals_of(trace)
    cited = {source for step in steps for source in step.sources}
    parts = [
        f"# {escaped(trace['question'])}",
        *_understood(trace),
        *_verdict(goals, summary.headline or [goal.text for goal in goals]),
        *_findings(summary.findings),
        *_numbered("In short", summary.reasons),
        *_listed("Caveats", summary.caveats),
        *_listed("Cautions", trace["cautions"]),
        "## Every step",
        "\n".join(_step(step) for step in steps),
        *_labels(trace["labels"]),
        *_sources({s: text for s, text in trace["sources"].items() if s in cited}),
        f"Digest of the trace: {code(trace['digest'])}",
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _findings(found: Sequence[tuple[str, Sequence[str]]]) -> Iterator[str]:
    if found:
        yield "## Asked about it"
    for head, items in found:
        yield f"{escaped(head)}{':' if items else '.'}"
        yield "\n".join(f"- {escaped(item)}" for item in items)


def _understood(trace: Mapping[str, Any]) -> Iterator[str]:
    if trace["canonical"] != trace["question"]:
        yield f"Understood as: {code(trace['canonical'])}"


def _verdict(goals: Sequence[Goal], headline: Sequence[str]) -> Iterator[str]:
    yield "## Verdict"
    for line in headline:
        yield f"**{escaped(line)}**"
    yield "\n".join(f"- {escaped(goal.text)} ({_stands(goal)})" for goal in goals)


def _stands(goal: Goal) -> str:
    if not goal.holds:
        return f"no evidence in this base; step {goal.step}"
    return f"stands as {_standing(goal.standing, goal.from_memory)}; step {goal.step}"


def _standing(standing: str, from_memory: bool) -> str:
    words = escaped(standing) or "what was read and asked"
    return f"{words}, from memory" if from_memory else words


def _listed(heading: str, lines: Sequence[str]) -> Iterator[str]:
    if lines:
        yield f"## {heading}"
        yield "\n".join(f"- {escaped(line)}" for line in lines)


def _numbered(heading: str, lines: Sequence[str]) -> Iterator[str]:
    if lines:
        yield f"## {heading}"
        yield "\n".join(f"{n}. {escaped(line)}" for n, line in enumerate(lines, 1))


def _step(step: Step) -> str:
    told = f"{step.number}. {escaped(step.text)} {'; '.join(_grounds(step))}".rstrip()
    return "\n".join([told, *(f"    - {escaped(each)}" for each in step.argument)])


def _grounds(step: Step) -> Iterator[str]:
    """Say what a step rests on, in the order a reader asks."""
    if step.rests_on:
        yield f"From {in_a_row(map(str, step.rests_on))}"
    if step.rule:
        yield f"by rule {code(step.rule)}"
    if step.place:
        yield _quoted(step.place)
    if step.origin:
        file = ": " in step.origin
        yield f"asserted in {code(step.origin)}" if file else f"as {step.origin} says"
    if step.standing:
        yield _standing(step.standing, step.from_memory)
    if step.sources:
        yield "source " + ", ".join(code(source) for source in step.sources)
    if step.weakest:
        yield "**the weakest step**"


def _quoted(place: LabelPlace) -> str:
    characters = f"characters {place.start + 1} to {place.end}"
    where = f"line {place.line}, column {place.column} ({characters})"
    return f"label of {escaped(place.product)}, {where}: {code(place.printed)}"


def _labels(labels: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    if labels:
        yield "## Labels, word for word"
    for label in labels:
        yield f"### {escaped(product_name(label['product']))}"
        yield _block(label["text"])


def _block(text: str) -> str:
    """Return text as a code block that no back quotes in it can end."""
    plain = visible(text, keep="\n")
    fence = "```"
    while fence in plain:
        fence += "`"
    return f"{fence}text\n{plain}\n{fence}"


def _sources(sources: Mapping[str, str]) -> Iterator[str]:
    if sources:
        yield "## Sources"
        yield "\n".join(
            f"- {code(name)}: {escaped(citation)}"
            for name, citation in sorted(sources.items())
        )
