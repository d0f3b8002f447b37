"""What a page about an answer shows, gathered as plain data before it is drawn.

One explanation stands in five depths: the verdict, the sentence, the reasons, every
step, and what an independent checker says of the steps.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from abluent.engine.checking import checker
from abluent.engine.questions.answers.answer import Answer, Finding, Row
from abluent.engine.questions.answers.cautions import cautions
from abluent.engine.questions.answers.explained import united
from abluent.engine.questions.answers.folded_words import told
from abluent.engine.questions.answers.rows import (
    all_rows,
    standing,
    title,
    traced_rows,
    verdict,
)
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.world.world import World
from abluent.engine.trace.answer import base_for, traces
from abluent.engine.trace.steps import Goal, Step, goals_of, steps_of
from abluent.grammar.common.text import in_words
from abluent.shell.ground.strand import strand_of, strand_svg
from abluent.shell.pages.chain import Mark, tree_of
from abluent.shell.pages.cited_works import Cited, cited_works
from abluent.shell.pages.marks import MarkedLabel, marked_labels
from markupsafe import Markup

_MARK = 44.0
_MOST = 60


@dataclass(frozen=True)
class SideView:
    """What the claims of one side of a dispute say."""

    says: str
    claims: Sequence[str]
    stands: Sequence[str]
    caveats: Sequence[str]
    works: Sequence[str]


@dataclass(frozen=True)
class RowView:
    """One row of an answer, for people."""

    title: str
    verdict: str
    mark: Markup
    stands: str
    reasons: Sequence[str]
    weakest: Sequence[str]
    caveats: Sequence[str]
    sides: Sequence[SideView]
    dispute: Sequence[str]


@dataclass(frozen=True)
class CheckView:
    """What the checker says of a trace; `by_base` if it was held against the base."""

    holds: bool
    supposing: bool
    by_base: bool
    problems: Sequence[tuple[str, str]]
    steps: int
    rules: int
    facts: int
    digest: str


@dataclass(frozen=True)
class ChainView:
    """Every step of one trace."""

    number: int
    steps: Sequence[Step]
    goals: Sequence[Goal]
    trees: Sequence[Sequence[Mark]]
    labels: Sequence[MarkedLabel]
    check: CheckView


@dataclass(frozen=True)
class PageView:
    """All that a page shows."""

    question: str
    understood: str
    word: str
    sentence: str
    folded: Sequence[str]
    rows: Sequence[RowView]
    others: Sequence[tuple[Markup, str, str]]
    parts: Sequence[str]
    findings: Sequence[Finding]
    notes: Sequence[str]
    cautions: Sequence[str]
    works: Sequence[Cited]
    chains: Sequence[ChainView]
    on_request: bool
    day: str


def page_view(
    answer: Answer,
    question: str,
    day: str,
    *,
    by_base: bool = True,
    steps: bool = True,
) -> PageView:
    """Return all that a page about an answer shows.

    Args:
        answer: the answer.
        question: as it was typed.
        day: the day to print on the page, as `2026-01-31`.
        by_base: whether the checker also holds rules, facts and citations against
            the base, which takes most of the time.
        steps: whether every step is shown, and checked; an answer is quick, and
            these take many times as long.
    """
    rows = list(all_rows(answer))
    found = traces(answer, question) if steps else []
    world = next((row.case.world for row in traced_rows(answer)), None)
    chains = [
        _chain(number, trace, world if by_base else None)
        for number, trace in enumerate(found, 1)
    ]
    return PageView(
        question=question,
        understood=answer.query if answer.query != question else "",
        word=_word(answer),
        sentence=answer.sentence,
        folded=[text for part in (rows, answer.others) for text, _ in told(part)],
        rows=[row_view(row) for row in rows],
        others=list(_others(answer.others, whole=steps)),
        parts=[part.sentence for part in answer.compared],
        findings=answer.findings,
        notes=answer.notes,
        cautions=cautions(rows or answer.others),
        works=cited_works(rows),
        chains=chains,
        on_request=not steps and any(True for _ in traced_rows(answer)),
        day=day,
    )


def row_view(row: Row) -> RowView:
    """Return one row, for people."""
    disputes = row.disputes if isinstance(row, Verdict) else ()
    apart = united(each.reasons for each in disputes)
    return RowView(
        title=title(row),
        verdict=verdict(row) if isinstance(row, Verdict) else "",
        mark=mark_of(row),
        stands=standing(row),
        reasons=row.reasons,
        weakest=row.weakest,
        caveats=row.caveats,
        sides=list(sides_of(row)),
        dispute=[text for text in apart if text not in row.reasons],
    )


def _others(rows: Sequence[Row], *, whole: bool) -> Iterator[tuple[Markup, str, str]]:
    """Yield what was looked at and is not so.

    How sure each is takes a proof of it, so of very many only a whole page says it.
    """
    told = whole or len(rows) <= _MOST
    for row in rows:
        yield mark_of(row), title(row), standing(row) if told else ""


def mark_of(row: Row) -> Markup:
    """Return the mark of a row; nothing for one that is no verdict."""
    if not isinstance(row, Verdict):
        return Markup("")
    return Markup(strand_svg(strand_of(row.role), _MARK))


def sides_of(row: Row) -> Iterator[SideView]:
    """Yield the sides of a dispute: the claims each rests on, by what it says."""
    if not isinstance(row, Verdict) or not row.disputed:
        return
    from abluent.engine.questions.about.dispute import conclusion, partings

    base = row.case.world.base
    sides: dict[str, list[str]] = {}
    for side in (side for each in partings(row) for side in each.sides):
        sides.setdefault(conclusion(side), []).extend(side.chain.claims)
    for says, every in sides.items():
        claims = list(dict.fromkeys(every))
        records = [base.record(claim) for claim in claims]
        works = [work for each in records for work in each.basis.sources]
        yield SideView(
            says,
            [base.label(claim) for claim in claims],
            [_stands(each.basis.standing, each.basis.from_memory) for each in records],
            [text for each in records if (text := each.text("caveat"))],
            [base.label(work) for work in dict.fromkeys(works)],
        )


def _stands(symbol: str, from_memory: bool) -> str:
    return f"{in_words(symbol)}, from memory" if from_memory else in_words(symbol)


def _word(answer: Answer) -> str:
    """Return the verdict in a word or two, if the answer has one."""
    if answer.claim:
        return answer.claim
    rows = list(all_rows(answer))
    if len(rows) == 1 and not answer.others and isinstance(rows[0], Verdict):
        disputed = ", disputed" if rows[0].disputed else ""
        return verdict(rows[0]) + disputed
    head, colon, _ = answer.sentence.partition(":")
    return head if colon and answer.truth else ""


def _chain(number: int, trace: Mapping[str, Any], world: World | None) -> ChainView:
    steps, goals = steps_of(trace), goals_of(trace)
    return ChainView(
        number,
        steps,
        goals,
        list(tree_of(steps, goals)),
        marked_labels(trace, steps),
        _checked(trace, world),
    )


def _checked(trace: Mapping[str, Any], world: World | None) -> CheckView:
    result = checker.check(trace, base_for(trace, world) if world else None)
    return CheckView(
        result.ok,
        bool(result.supposed),
        world is not None,
        result.problems,
        len(trace["nodes"]),
        len(trace["program"]["rules"]),
        len(trace["facts"]),
        trace["digest"],
    )
