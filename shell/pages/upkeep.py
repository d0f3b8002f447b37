"""An audit, and what an edit of the base changed, as lines of text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from abluent.engine.questions.answers.wording import without_head
from abluent.grammar.common.text import wrapped

if TYPE_CHECKING:
    from abluent.engine.base.matters import Share
    from abluent.engine.base.store import Base
    from abluent.engine.owl.consistency import Consistency
    from abluent.engine.questions.about.upkeep import Audited, Compared

_SHOWN = 20


def audit_page(found: Audited, base: Base, width: int) -> str:
    """Return what an audit found as lines of text."""
    works = [
        f"{base.label(name).rstrip('.')}: {len(answers)} answers"
        for name, answers in found.fragile.items()
    ]
    lists = {
        "Rules that no answer of this shelf uses": found.unused,
        "Subjects with facts that no answer of this shelf uses": found.idle,
        "Works without which answers of this shelf fail": works,
    }
    return "\n".join(
        line for head, told in lists.items() for line in _listed(head, told, width)
    )


def consistency_page(found: Consistency | str, base: Base, width: int) -> str:
    """Return what HermiT proved of the base as lines of text."""
    if isinstance(found, str):
        return "\n".join(wrapped(line, width) for line in found.splitlines())
    looked_at = f"{found.axioms} axioms about {found.things} things"
    if found.problems:
        lines = [wrapped(f"HermiT finds that {looked_at} cannot all be so:", width)]
        return "\n".join([*lines, *map(str, found.problems)])
    inferred = len(found.inferred)
    besides = f"classes that follow and that nobody wrote: {inferred or 'none'}"
    told = f"HermiT proves that {looked_at} can all be so; {besides}."
    lines = [wrapped(told, width)]
    for each in found.inferred:
        members = [base.label(m) if m in base else m for m in each.members]
        kind = base.label(each.kind) if each.kind in base else each.kind
        lines += _listed(f"Of the kind {kind} without saying so", members, width)
        lines.append(wrapped(f"because {'; '.join(each.because)}.", width, "  "))
    return "\n".join(lines)


def rests_page(shares: Sequence[Share], width: int) -> str:
    """Return on what the ingredients rest, matter by matter, as lines of text."""
    lines = ["What the ingredients rest on, matter by matter:"]
    for each in shares:
        recalled = f"{each.recalled} from memory alone ({percent(each)} %)"
        others = "; ".join(f"{number} {work}" for work, number in each.works)
        text = f"{each.matter}: told of {each.told}; {recalled}"
        lines.append(wrapped(f"{text}; {others}" if others else text, width, "  "))
    return "\n".join(lines)


def percent(share: Share) -> str:
    """Return the share that is recalled alone, in per cent."""
    return f"{100 * share.recalled / share.told:.1f}"


def changed_page(found: Compared, width: int) -> str:
    """Return what became of an answer, and by which edits, as lines of text."""
    lines = [
        wrapped(f"Before: {without_head(found.before.sentence)}", width),
        wrapped(f"After:  {without_head(found.after.sentence)}", width),
    ]
    if not found.turned:
        lines.append("No row of the answer changed.")
    for each in found.turned:
        lines += _listed("No longer", each.lost, width)
        lines += _listed("Now", each.gained, width)
        edits = "These edits are enough, and each is needed"
        lines += _listed(edits, each.edits, width)
    return "\n".join(lines)


def _listed(head: str, told: Sequence[str], width: int) -> Iterator[str]:
    yield f"{head}: {len(told) or 'none'}"
    for text in told[:_SHOWN]:
        yield wrapped(text, width, "  ", "    ")
    if len(told) > _SHOWN:
        yield f"  and {len(told) - _SHOWN} more; --json lists all"
