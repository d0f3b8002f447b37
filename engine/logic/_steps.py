"""The steps of a plan: each turns a batch of bindings into the next batch.

A binding is a row of numbers, one for every constant and variable bound so far.
Working on whole batches keeps the interpreter's cost per step, not per binding:
what happens to one binding happens inside a comprehension or a built-in.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple, Protocol

from abluent.engine.errors import EvaluationError
from abluent.engine.logic._bits import Batch, Masks, Row
from abluent.engine.logic._relation import Relation
from abluent.engine.logic._tuples import chooser, picker
from abluent.engine.logic._values import (
    Evaluator,
    compare,
    compare_plain,
    fold,
    is_plain,
)
from abluent.engine.logic.clauses import Comparison
from abluent.engine.logic.symbols import Symbols

# A join is looked at twice if it makes more than so many bindings, and more than so
# many times what was expected.
_MANY = 20_000
_SURPRISE = 4


class Step(Protocol):
    """One step of a plan."""

    def run(self, batch: Batch) -> Batch:
        """The bindings after this step, in no particular order."""


class Join(NamedTuple):
    """Extend every binding by the wanted columns of the rows that agree with it.

    With `part`, by each combination of them once, whatever the other columns hold.
    """

    relation: Relation
    keys: tuple[int, ...]
    slots: tuple[int, ...]
    payload: tuple[int, ...]
    part: bool
    expected: float

    def is_surprising(self, batch: Batch) -> bool:
        """Whether it would make many more bindings than was expected."""
        if self.part or len(batch) * len(self.relation) < _MANY:
            return False
        limit = max(_MANY, self.expected * _SURPRISE)
        return self.relation.count(batch, self.keys, self.slots) > limit

    def run(self, batch: Batch) -> Batch:
        if not self.part:
            return self.relation.extend(batch, self.keys, self.slots, self.payload)
        columns = self.keys + self.payload
        keys, payload = _split(len(self.keys), len(columns))
        return self.relation.part(columns).extend(batch, keys, self.slots, payload)


class Filter(NamedTuple):
    """Keep the bindings that some row agrees with, or that none does."""

    relation: Relation
    keys: tuple[int, ...]
    slots: tuple[int, ...]
    absent: bool

    def run(self, batch: Batch) -> Batch:
        return self.relation.filter(batch, self.keys, self.slots, self.absent)


class Keep(NamedTuple):
    """Drop what no later step looks at, and the repetitions that leaves."""

    slots: tuple[int, ...]

    def run(self, batch: Batch) -> Batch:
        return list(set(map(chooser(self.slots), batch)))


class Compare(NamedTuple):
    """Keep the bindings for which a comparison holds.

    `plain` are the places and terms of both sides where they are variables.
    """

    rule: str
    condition: Comparison
    left: Evaluator
    right: Evaluator
    plain: tuple[tuple[int, Symbols], tuple[int, Symbols]] | None

    def run(self, batch: Batch) -> Batch:
        sign = self.condition.operator
        if self.plain and all(is_plain(symbols) for _, symbols in self.plain):
            return compare_plain(batch, sign, *self.plain)
        perhaps = self.condition.perhaps
        try:
            return compare(batch, sign, self.left, self.right, perhaps)
        except (TypeError, ZeroDivisionError) as error:
            raise EvaluationError(self.rule, str(error)) from None


class Compute(NamedTuple):
    """Extend every binding by the value of an expression."""

    rule: str
    expression: Evaluator
    symbols: Symbols

    def run(self, batch: Batch) -> Batch:
        value, number = self.expression, self.symbols
        try:
            return [(*row, number[value(row)]) for row in batch]
        except (TypeError, ZeroDivisionError) as error:
            raise EvaluationError(self.rule, str(error)) from None


class Same(NamedTuple):
    """Keep the bindings in which two values agree."""

    slot: int
    other: int

    def run(self, batch: Batch) -> Batch:
        slot, other = self.slot, self.other
        return [row for row in batch if row[slot] == row[other]]


class Collect:
    """Extend every binding by the count, sum, minimum or maximum of its group."""

    def __init__(  # noqa: PLR0913, PLR0917 - all that a collection is
        self,
        rule: str,
        function: str,
        groups: tuple[int, ...],
        plan: Any,
        terms: tuple[Symbols, ...],
        symbols: Symbols,
    ) -> None:
        self.rule = rule
        self.function = function
        self.groups = groups
        self.plan = plan
        self.terms = terms
        self.symbols = symbols
        self._known: dict[Row, int | None] = {}

    def run(self, batch: Batch) -> Batch:
        group, known = chooser(self.groups), self._known
        groups = list(map(group, batch))
        self._fold([each for each in dict.fromkeys(groups) if each not in known])
        found = []
        for row, each in zip(batch, groups, strict=True):
            number = known[each]
            if number is not None:
                found.append((*row, number))
        return found

    def _fold(self, groups: Sequence[Row]) -> None:
        """Work out the values of some groups, all at once."""
        if not groups:
            return
        count, terms = len(self.groups), self.terms[0].terms
        members: dict[Row, list[Any]] = {each: [] for each in groups}
        for row in set(self.plan.all_rows(list(groups))):
            members[row[:count]].append(terms[row[count]])
        for each, values in members.items():
            try:
                value = fold(self.function, values)
            except TypeError as error:
                raise EvaluationError(self.rule, str(error)) from None
            self._known[each] = None if value is None else self.symbols[value]


class Lookup(NamedTuple):
    """How the values of one variable are read for a binding, as a mask."""

    relation: Relation
    keys: tuple[int, ...]
    slots: tuple[int, ...]
    column: int

    def masks(self) -> Masks:
        """The masks to look in, with the binding's key."""
        return self.relation.masks(self.keys, self.column)


class Sweep(NamedTuple):
    """The last step of a plan that treats all values of one variable at a time.

    For each binding the candidates are the numbers in every required mask and in no
    denied one; bindings that agree in `key` share one mask of results. `column` is the
    place of the swept variable in the head.
    """

    required: Sequence[Lookup]
    denied: Sequence[Lookup]
    key: tuple[int, ...]
    column: int

    def run(self, batch: Batch) -> Masks:
        """The masks of the swept variable, by the other columns of the head."""
        # All numbers at first: minus one has every bit.
        base = -1
        for each in self.required:
            if not each.keys:
                base &= each.masks()[()]
        for each in self.denied:
            if not each.keys:
                base &= ~each.masks()[()]
        required, denied = _getters(self.required), _getters(self.denied)
        found: Masks = {}
        get_found, key = found.get, picker(self.key)
        for row in batch:
            mask = base
            for get, pick in required:
                mask &= get(pick(row), 0)
            if mask:
                for get, pick in denied:
                    mask &= ~get(pick(row), 0)
                if mask:
                    group = key(row)
                    found[group] = get_found(group, 0) | mask
        return found


def _getters(lookups: Sequence[Lookup]) -> list[tuple[Any, Any]]:
    return [(each.masks().get, picker(each.slots)) for each in lookups if each.keys]


def _split(keys: int, width: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
    return tuple(range(keys)), tuple(range(keys, width))
