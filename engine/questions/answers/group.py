"""Why a list of verdicts is so: for each line, the claims that bound one that is known.

What is judged alike need not be so for the same reason: of each line the best known
is told of, and lines with the same reason stand together.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.questions.answers.account import Step, bounding_steps, deciding
from abluent.engine.questions.answers.laid_out import Block
from abluent.engine.questions.world.case import Case
from abluent.grammar.common.text import as_sentence

_OF_WATER = 2


def grounds(block: Block) -> Iterator[Step]:
    """The reasons of a block: those that all share first, then those of each line."""
    case = block.rows[0].case
    # Of water itself its claims are told, which are left out of every other wash.
    claims = [deciding(row) or row.claims[:_OF_WATER] for row in block.known]
    if not any(claims):
        first = block.known[0]
        yield from bounding_steps(first) or [Step(text) for text in first.reasons[-1:]]
        return
    shared = [each for each in claims[0] if all(each in own for own in claims)]
    yield from (_step(case, (), [each]) for each in shared)
    groups: dict[tuple[str, ...], list[str]] = {}
    for line, own in zip(block.items, claims, strict=True):
        rest = tuple(each for each in own if each not in shared)
        groups.setdefault(rest, []).append(line)
    for rest, lines in groups.items():
        if rest:
            yield _step(case, lines, rest)


def _step(case: Case, lines: Sequence[str], claims: Sequence[str]) -> Step:
    """What some claims say, after the lines of which they say it."""
    base, told, works = case.world.base, [], []
    for claim in claims:
        record = base.record(claim)
        told.append(as_sentence(record.text("statement") or base.label(claim)))
        works += record.links("source")
    head = f"{'; '.join(lines)}: " if lines else ""
    real = [name for name in works if name not in case.world.known.conventions]
    standing = base.record(claims[0]).link("standing") or ""
    return Step(f"{head}{' '.join(told)}", tuple(dict.fromkeys(real)), standing)
