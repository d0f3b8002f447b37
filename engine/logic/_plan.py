"""Plans: what is asked of a body, and the steps that answer it."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from abluent.engine.logic._bits import Batch, Row, Swept
from abluent.engine.logic._relation import Found, Relation
from abluent.engine.logic._steps import Join, Step, Sweep
from abluent.engine.logic.clauses import Argument, Literal
from abluent.engine.logic.symbols import Symbols


class Plan:
    """Steps from a batch of starting bindings to the rows of a head.

    A plan of joins may turn out to make far more bindings than was expected. If
    there is another way (`other`) it is then taken instead, now and from then on.
    """

    __slots__ = ("cost", "other", "output", "prefix", "steps", "sweep")

    def __init__(
        self,
        prefix: Row,
        steps: list[Step],
        output: Callable[[Row], Row],
        sweep: Sweep | None,
        cost: float,
    ) -> None:
        self.prefix = prefix
        self.steps = steps
        self.output = output
        self.sweep = sweep
        self.cost = cost
        self.other: Callable[[], Plan | None] = lambda: None

    def run(self, starts: Batch) -> Found:
        """The results of all starting bindings, perhaps with repetitions."""
        prefix = self.prefix
        batch = [prefix + start for start in starts]
        for step in self.steps:
            if not batch:
                return []
            if isinstance(step, Join) and step.is_surprising(batch):
                other = self.other()
                if other is not None:
                    self._become(other)
                    return self.run(starts)
            batch = step.run(batch)
        if self.sweep is not None:
            return Swept(self.sweep.run(batch), self.sweep.column)
        return list(map(self.output, batch))

    def rows(self, start: Row) -> set[Row]:
        """The results of one starting binding, each once."""
        return set(self.all_rows([start]))

    def all_rows(self, starts: Batch) -> list[Row]:
        """What `run` finds, for a plan that was made without masks."""
        found = self.run(starts)
        assert isinstance(found, list), "planned without masks"
        return found

    def _become(self, other: Plan) -> None:
        for name in self.__slots__:
            setattr(self, name, getattr(other, name))
        self.other = lambda: None


class Question(NamedTuple):
    """What to plan: a body, what is known at its start, what is wanted of it.

    Args:
        rule: the id to name in errors.
        body: the conditions.
        start: the variables bound by a starting binding, in its order.
        wanted: what a result holds, in its order.
        symbols: the symbol table of every wanted place.
        masks: whether results may come as masks of one of the wanted places.
        target: the relation that will take the results.
        first: the position of a condition that reads `delta`, and comes first.
        delta: the rows that are new.
        key: a name for it, if its plan may be used again for other facts.
        given: the symbol tables of variables of the starting binding that stand in no
            condition of the body.
    """

    rule: str
    body: tuple[Literal, ...]
    start: tuple[str, ...]
    wanted: tuple[Argument, ...]
    symbols: tuple[Symbols, ...]
    masks: bool = False
    target: Relation | None = None
    first: int | None = None
    delta: Relation | None = None
    key: tuple[int | str, ...] | None = None
    given: tuple[tuple[str, Symbols], ...] = ()
