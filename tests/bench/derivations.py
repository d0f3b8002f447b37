"""One derivation of every fact that is asked for, as numbered lines."""

from __future__ import annotations

from typing import TypeAlias

from abluent.engine.logic.instances import Instance, Missing, Premise, first_instances
from abluent.engine.logic.reasoner import Model
from abluent.engine.logic.terms import Term

Goal: TypeAlias = tuple[str, tuple[Term, ...]]


class Derivations:
    """The derivations of one model; steps are numbered as they are first needed."""

    def __init__(self, model: Model) -> None:
        self._model = model
        self._instances: dict[str, dict[tuple[Term, ...], Instance]] = {}
        self._numbers: dict[Goal, int] = {}

    def steps(self, goal: Goal) -> list[str]:
        """The steps to a goal that no goal before it needed, premises first."""
        lines: list[str] = []
        numbers = self._numbers
        stack = [goal]
        while stack:
            point = stack[-1]
            if point in numbers:
                stack.pop()
                continue
            instance = self._instance(point)
            missing = [each for each in _premises(instance) if each not in numbers]
            if missing:
                stack += missing
            else:
                stack.pop()
                numbers[point] = len(numbers) + 1
                lines.append(f"{numbers[point]}. {self._line(point, instance)}")
        return lines

    def _instance(self, goal: Goal) -> Instance | None:
        predicate, args = goal
        if predicate not in self._instances:
            self._instances[predicate] = first_instances(self._model, predicate)
        return self._instances[predicate].get(args)

    def _line(self, goal: Goal, instance: Instance | None) -> str:
        text = _fact(*goal)
        if instance is None:
            return f"{text} is given"
        below = [str(self._numbers[each]) for each in _premises(instance)]
        absent = [
            f"not {_fact(each.predicate, each.pattern)}"
            for each in instance.supports
            if isinstance(each, Missing)
        ]
        return f"{text} by {instance.rule.id} from {', '.join(below + absent)}"


def _premises(instance: Instance | None) -> list[Goal]:
    if instance is None:
        return []
    return [(p.predicate, p.args) for p in instance.supports if isinstance(p, Premise)]


def _fact(predicate: str, args: tuple[Term | None, ...]) -> str:
    terms = ["_" if each is None else str(each) for each in args]
    return f"{predicate}({', '.join(terms)})"
