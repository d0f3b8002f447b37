"""The whole chain of a trace as a tree to unfold, each shared step shown once.

A chain of reasons is no tree: a step may bear several others. The first place that
needs a step shows it, the others point there. The tree is handed out as a run of
marks, so that no depth of reasoning is too deep to print.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from abluent.engine.trace.steps import Goal, Step

DEEPEST = 20
"""How far steps are set within each other; what lies deeper gets a tree of its own."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One place in the tree.

    Args:
        kind: `open` and `close` around a step and what it rests on, `leaf` for a
            step that rests on nothing, `see` for one that is shown elsewhere.
        step: the step; a `close` has that of its `open`.
    """

    kind: str
    step: Step


def tree_of(steps: Sequence[Step], goals: Sequence[Goal]) -> Iterator[list[Mark]]:
    """Yield a tree for each goal, then one for each step that lay too deep."""
    by_number = {step.number: step for step in steps}
    shown: set[int] = set()
    roots = [goal.step for goal in goals]
    for root in roots:
        if root in shown:
            continue
        marks, deeper = _tree(root, by_number, shown)
        roots += deeper
        yield marks


def _tree(
    root: int, by_number: Mapping[int, Step], shown: set[int]
) -> tuple[list[Mark], list[int]]:
    marks: list[Mark] = []
    deeper: list[int] = []
    waiting: list[tuple[int, int, bool]] = [(root, 0, False)]
    while waiting:
        number, depth, left = waiting.pop()
        step = by_number[number]
        if left:
            marks.append(Mark("close", step))
        elif number in shown or depth > DEEPEST:
            marks.append(Mark("see", step))
            deeper += [number] if number not in shown else []
        elif not step.rests_on:
            shown.add(number)
            marks.append(Mark("leaf", step))
        else:
            shown.add(number)
            marks.append(Mark("open", step))
            waiting.append((number, depth, True))
            waiting += [(each, depth + 1, False) for each in reversed(step.rests_on)]
    return marks, deeper
