"""Why a list of verdicts is so: for each line, the claims that bound one that is known.

What is judged alike need not be so for the same reason: of each line the best known
is told of, and lines with the same reason stand together.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.account import (
    Step,
    bounding,
    bounding_steps,
    deciding,
)
from abluent.engine.questions.answers.laid_out import Block
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.questions.world.case import Case
from abluent.grammar.common.text import as_sentence

_OF_WATER = 2
_ASKED = 16
"""So many verdicts of a list are asked what makes them so, spread over all of it."""


def reasons(blocks: Sequence[Block]) -> list[str]:
    """The one claim that makes each list what it is, in words; none is told twice.

    It is the claim that bounds most of the list, and that it is not shown to bound
    all is said. Empty for what no wash need take, for what nothing bounds, and where
    all that could be said stands at another list.
    """
    said: set[str] = set()
    told: list[str] = []
    for block in blocks:
        base = block.rows[0].case.world.base
        why = ""
        for claim, times in _deciding_most(block):
            words = as_sentence(base.record(claim).text("statement") or "")
            if words and words not in said:
                said.add(words)
                of = "" if times == len(block.rows) else ", mostly"
                why = f"Why{of}: {words}"
                break
        told.append(why)
    return told


def deciding_claim(rows: Sequence[Verdict], *, upper: bool | None = None) -> str:
    """The claim that bounds most of some verdicts, as a sentence; empty if none does.

    Args:
        rows: the verdicts.
        upper: whether what bounds them from above is meant, or from below; if not
            given, the end that says how much goes.
    """
    times: Counter[str] = Counter()
    for row in rows[:_ASKED]:
        if row.role not in {Role.OPEN, Role.NO_WASH_NEEDED}:
            times.update(dict.fromkeys(_bounding_most(row, upper), 1))
    if not times:
        return ""
    claim, _ = times.most_common(1)[0]
    base = rows[0].case.world.base
    return as_sentence(base.record(claim).text("statement") or base.label(claim))


def _deciding_most(block: Block) -> list[tuple[str, int]]:
    """The claims that bound the verdicts of a list, and how many they bound."""
    several = len({row.film for row in block.rows}) > 1
    rows = block.rows[:: 1 + len(block.rows) // _ASKED]
    rows = block.known if several and len(rows) == len(block.rows) else rows
    times: Counter[str] = Counter()
    for row in rows:
        if row.role not in {Role.OPEN, Role.NO_WASH_NEEDED}:
            times.update(dict.fromkeys(_bounding_most(row), 1))
    return times.most_common()


def _bounding_most(row: Verdict, upper: bool | None = None) -> list[str]:
    """The claims that set one end of a verdict, or that which says how much goes.

    A claim that carries a bound that another set is none of them.
    """
    if upper is None:
        upper = ENDS[row.role][0] is Role.NONE_OF_IT
    base = row.case.world.base
    for claims in (bounding(row)[upper], row.claims):
        end = "atMost" if upper else "atLeast"
        if own := [claim for claim in claims if base.record(claim).link(end)]:
            return own
    return []


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
