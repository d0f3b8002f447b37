"""What a wash is to be without, wherever a clause says so."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.frames.clause import Clause
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.query import tree as q


def bans(clause: Clause, *taken: Noun | None) -> list[Noun]:
    """What the wash is to be without, wherever the clause says so."""
    found = []
    for noun in clause.nouns:
        if any(noun is each for each in taken):
            continue
        lacking = noun.before == "without"
        meant = _held_by(noun) if lacking and noun.has("wash") else noun
        if not meant.has("class", "ingredient"):
            continue
        denied = noun.quantity is q.Quantity.NO and not noun.has("thing")
        if lacking or denied:
            found.append(meant)
    return found


def _held_by(noun: Noun) -> Noun:
    """What a wash to do without is made of: `instead of a sulfate wash`."""
    conditions = noun.term.conditions if isinstance(noun.term, q.Such) else ()
    held = [each.object for each in conditions if isinstance(each, q.Contains)]
    if not held:
        return noun
    return replace(noun, term=held[0], kinds=frozenset({"class"}))


def without(subject: q.Term, lacking: Sequence[Noun]) -> q.Term:
    """Washes without something more."""
    held_off = [q.Not(q.Contains(noun.term)) for noun in lacking]
    return q.narrowed(subject, *held_off) if held_off else subject
