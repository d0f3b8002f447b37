"""Why an answer changed between two versions of a base.

The versions differ by edits: facts and rules that were added or taken out. A
smallest set of edits is found that, made to the old version alone, already turns
the answer into the new one: no edit of it can be left out. The search is delta
debugging, which halves the edits as long as that works.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

from abluent.engine.errors import EngineError
from abluent.engine.logic.clauses import Place, Rule, body_atoms
from abluent.engine.logic.facts import Fact
from abluent.engine.proof.knowledge import Knowledge, with_rules
from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.slices import Pattern, rules_below


@dataclass(frozen=True, slots=True)
class Edit:
    """One change: `removed` gave way to `added`; one of them may be missing.

    Facts that differ in their basis only are one edit, as are two rules of one id.
    """

    removed: Fact | Rule | None
    added: Fact | Rule | None


@dataclass(frozen=True, slots=True)
class Change:
    """Why the facts of a pattern changed.

    Args:
        gained: the facts that follow in the new version only.
        lost: those that follow in the old version only.
        edits: a smallest set of edits that already makes this change; empty if
            nothing changed.
        tried: how many sets of edits were tried.
    """

    gained: frozenset[Ground]
    lost: frozenset[Ground]
    edits: tuple[Edit, ...]
    tried: int


def what_changed(before: Knowledge, after: Knowledge, goal: Pattern) -> Change:
    """Which edits changed the facts that agree with a pattern.

    Args:
        before: the old version.
        after: the new version.
        goal: the pattern, `None` being any term.
    """
    old, new = before.rows(*goal), after.rows(*goal)
    search = _Search(before, goal, new)
    edits = edits_between(before, after, goal[0]) if old != new else []
    return Change(new - old, old - new, tuple(search.smallest(edits)), search.tried)


def edits_between(before: Knowledge, after: Knowledge, predicate: str) -> list[Edit]:
    """The edits that can bear on a predicate, rules before facts."""
    rules = _paired(_rules(before, predicate), _rules(after, predicate))
    seen = _predicates(before, predicate) | _predicates(after, predicate)
    facts = _paired(_facts(before, seen), _facts(after, seen))
    return [*rules, *facts]


_Part: TypeAlias = Fact | Rule
_Key: TypeAlias = tuple[str, ...]


def _predicates(side: Knowledge, predicate: str) -> set[str]:
    """The predicates that a predicate depends on, and itself."""
    found = {predicate}
    for rule in rules_below(side.program, [predicate]):
        found.update(atom.predicate for atom in (rule.head, *body_atoms(rule.body)))
    return found


def _rules(side: Knowledge, predicate: str) -> dict[_Key, _Part]:
    """Rules by id and head, without their places in the files."""
    found = rules_below(side.program, [predicate])
    return {(each.id, str(each.head)): each._replace(place=_ANYWHERE) for each in found}


def _facts(side: Knowledge, predicates: set[str]) -> dict[_Key, _Part]:
    """Facts by what they say and where, so that a new basis is one edit."""
    found: dict[_Key, _Part] = {}
    seen: Counter[_Key] = Counter()
    for fact in side.facts:
        if fact.predicate in predicates:
            key = (fact.predicate, repr(fact.args), fact.basis.origin)
            seen[key] += 1
            found[*key, str(seen[key])] = fact
    return found


def _paired(old: dict[_Key, _Part], new: dict[_Key, _Part]) -> list[Edit]:
    both = {key: (old.get(key), new.get(key)) for key in {**old, **new}}
    return [Edit(was, now) for was, now in both.values() if was != now]


class _Search:
    """Delta debugging over edits to the old version."""

    def __init__(
        self, before: Knowledge, goal: Pattern, wanted: frozenset[Ground]
    ) -> None:
        self._before, self._goal, self._wanted = before, goal, wanted
        self.tried = 0

    def smallest(self, edits: Sequence[Edit]) -> list[Edit]:
        """A set of edits that is enough, and of which every part is needed."""
        left, parts = list(edits), 2
        while len(left) > 1:
            smaller = self._smaller(left, parts)
            if smaller is not None:
                parts = 2 if len(smaller) * parts <= len(left) + parts else parts - 1
                left, parts = smaller, max(parts, 2)
            elif parts < len(left):
                parts = min(2 * parts, len(left))
            else:
                break
        return left

    def _smaller(self, edits: list[Edit], parts: int) -> list[Edit] | None:
        """One of the equal parts, or all but one of them, if that is enough."""
        size = -(-len(edits) // parts)
        starts = range(0, len(edits), size)
        pieces = [edits[start : start + size] for start in starts]
        rests = [edits[:start] + edits[start + size :] for start in starts]
        tries = [*pieces, *rests] if len(pieces) > 2 else pieces
        return next((each for each in tries if self._enough(each)), None)

    def _enough(self, edits: Sequence[Edit]) -> bool:
        self.tried += 1
        try:
            return edited(self._before, edits).rows(*self._goal) == self._wanted
        except EngineError:
            return False  # these edits make no sense without the others


def edited(knowledge: Knowledge, edits: Sequence[Edit]) -> Knowledge:
    """A base after some edits.

    Raises:
        EngineError: the rules could not be evaluated together.
    """
    gone = [each.removed for each in edits if each.removed is not None]
    new = [each.added for each in edits if each.added is not None]
    facts = [fact for fact in knowledge.facts if fact not in gone]
    facts += [each for each in new if isinstance(each, Fact)]
    rules = [rule._replace(place=_ANYWHERE) for rule in knowledge.program.rules]
    kept = [rule for rule in rules if rule not in gone]
    kept += [each for each in new if isinstance(each, Rule)]
    return Knowledge(with_rules(knowledge.program, kept), facts)


_ANYWHERE = Place("", 0, 0, 0)
