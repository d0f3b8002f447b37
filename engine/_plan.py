"""From a rule to a plan: the order of its conditions and how each is looked at.

The planner is greedy. Whatever can already be decided is decided at once; of the
conditions that bring new values the one expected to bring the fewest comes next.

A plan that would make many bindings is compared with others that leave one
variable of the head to the end and treat all its values at a time, as the bits
of one integer (see `Sweep`). Which of them is taken is a matter of cost only: all
find the same rows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from abluent.engine import _costs as costs
from abluent.engine._bits import Batch, Row
from abluent.engine._layout import Layout, Source, atom_of, table_by_variable
from abluent.engine._relation import Found, Relation, Swept
from abluent.engine._safety import needed_variables
from abluent.engine._steps import (
    Collect,
    Compare,
    Compute,
    Filter,
    Join,
    Keep,
    Lookup,
    Same,
    Step,
    Sweep,
)
from abluent.engine._symbols import Symbols
from abluent.engine._tuples import chooser
from abluent.engine._values import evaluator
from abluent.engine.clauses import (
    Absence,
    Anything,
    Argument,
    Assignment,
    Atom,
    Collection,
    Comparison,
    Literal,
    Variable,
    literal_variables,
)


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
        """The results of one starting binding, for a plan without a sweep."""
        found = self.run([start])
        assert not isinstance(found, Swept), "planned without a sweep"
        return set(found)

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
        masks: whether results may come as masks of the last wanted place.
        target: the relation that will take the results.
        first: the position of a condition that reads `delta`, and comes first.
        delta: the rows that are new.
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


def make_plan(question: Question, source: Source) -> Plan:
    """The cheapest of the plans for a question."""
    plain = _Planner(question, source).plan()
    if not question.masks:
        return plain
    if plain.cost >= costs.CHEAP:
        best = _best_sweep(question, source)
        return best if best is not None and best.cost < plain.cost else plain
    plain.other = lambda: _best_sweep(question, source)
    return plain


def _best_sweep(question: Question, source: Source) -> Plan | None:
    plans = [
        _Planner(question, source, name).plan() for name in _swept_variables(question)
    ]
    best = min(plans, key=lambda plan: plan.cost, default=None)
    return best if best is not None and best.cost < float("inf") else None


def _swept_variables(question: Question) -> list[str]:
    """The variables of a head that masks can hold and that atoms alone bind."""
    return [
        each.name
        for each in question.wanted
        if isinstance(each, Variable)
        and question.wanted.count(each) == 1
        and each.name not in question.start
        and all(_is_sweepable(literal, each) for literal in question.body)
    ]


def _is_sweepable(literal: Literal, variable: Variable) -> bool:
    if isinstance(literal, Atom | Absence):
        return atom_of(literal).args.count(variable) <= 1
    return variable.name not in literal_variables(literal)


class _Planner:
    """One attempt at a plan; with `swept` that variable is left to a sweep."""

    def __init__(
        self, question: Question, source: Source, swept: str | None = None
    ) -> None:
        self._question = question
        self._source = source
        self._swept = swept
        self._steps: list[Step] = []
        self._cost = 0.0
        self._size = 1.0
        tables = table_by_variable(question.body, source)
        for argument, table in zip(question.wanted, question.symbols, strict=True):
            if isinstance(argument, Variable):
                tables[argument.name] = table
        self._layout = Layout(tables)

    def plan(self) -> Plan:
        question, layout = self._question, self._layout
        outputs = [
            None if isinstance(each, Variable | Anything) else layout.constant(each, t)
            for each, t in zip(question.wanted, question.symbols, strict=True)
        ]
        for literal in question.body:
            layout.take_constants(literal, self._source)
        for name in question.start:
            layout.bind(name)
        pending = [n for n in range(len(question.body)) if not self._is_left(n)]
        left = [n for n in range(len(question.body)) if self._is_left(n)]
        while pending or self._unbound(left):
            position = self._next(pending, left)
            if position in pending:
                pending.remove(position)
            self._add(position, pending, left)
        slots = [
            layout.slot(each.name) if isinstance(each, Variable) else slot
            for each, slot in zip(question.wanted, outputs, strict=True)
            if not (isinstance(each, Variable) and each.name == self._swept)
        ]
        key = tuple(slot for slot in slots if slot is not None)
        sweep = self._sweep(left, key) if self._swept is not None else None
        if sweep is None:
            rows = question.target is None or question.target.is_rows
            self._cost += costs.output_cost(self._size, rows)
        prefix = tuple(layout.prefix)
        return Plan(prefix, self._steps, chooser(key), sweep, self._cost)

    # -- order --------------------------------------------------------------------

    def _is_left(self, position: int) -> bool:
        """Whether a condition speaks of the swept variable."""
        literal = self._question.body[position]
        return self._swept is not None and self._swept in literal_variables(literal)

    def _unbound(self, left: Iterable[int]) -> list[int]:
        """Swept conditions that still have to bring a value of another variable."""
        return [
            position
            for position in left
            if isinstance(self._question.body[position], Atom)
            and any(
                name != self._swept and not self._layout.has(name)
                for name in literal_variables(self._question.body[position])
            )
        ]

    def _next(self, pending: list[int], left: list[int]) -> int:
        choices = [*pending, *self._unbound(left)]
        if self._question.first is not None and self._question.first in choices:
            return self._question.first
        best, best_rank = -1, 0.0
        for position in choices:
            rank = self._rank(position)
            if rank is not None and (best < 0 or rank < best_rank):
                best, best_rank = position, rank
        assert best >= 0, "a safe body can always go on"
        return best

    def _rank(self, position: int) -> float | None:
        """How soon a condition should come; `None` if it cannot yet."""
        literal = self._question.body[position]
        if isinstance(literal, Atom):
            keys, _, fresh = self._parts(literal)
            if not fresh:
                return min(0.0, self._fan(position, keys, ()) - 1.0)
            return self._fan(position, keys, tuple(fresh.values()))
        if not all(map(self._layout.has, needed_variables(literal))):
            return None
        # Arithmetic after filters: a filter makes less of it.
        return _RANKS[type(literal)]

    def _fan(
        self, position: int, keys: tuple[int, ...], payload: tuple[int, ...]
    ) -> float:
        atom = atom_of(self._question.body[position])
        columns = self._source.symbols(atom.predicate)
        return costs.fan(self._relation(position), columns, keys, payload)

    def _relation(self, position: int) -> Relation:
        question = self._question
        if position == question.first and question.delta is not None:
            return question.delta
        return self._source.relation(atom_of(question.body[position]).predicate)

    def _parts(
        self, atom: Atom
    ) -> tuple[tuple[int, ...], tuple[int, ...], dict[str, int]]:
        """The bound columns of an atom, the slots that bind them, and its new names."""
        keys, slots = [], []
        fresh: dict[str, int] = {}
        columns = self._source.symbols(atom.predicate)
        for column, argument in enumerate(atom.args):
            if isinstance(argument, Variable):
                if self._layout.has(argument.name):
                    keys.append(column)
                    slots.append(self._layout.slot(argument.name))
                elif argument.name != self._swept:
                    fresh.setdefault(argument.name, column)
            elif not isinstance(argument, Anything):
                keys.append(column)
                slots.append(self._layout.constant(argument, columns[column]))
        return tuple(keys), tuple(slots), fresh

    # -- steps --------------------------------------------------------------------

    def _add(self, position: int, pending: list[int], left: list[int]) -> None:
        literal = self._question.body[position]
        if isinstance(literal, Atom):
            self._add_atom(position, literal, self._needed([*pending, *left]))
            self._keep(pending, left)
        elif isinstance(literal, Absence):
            keys, slots, _ = self._parts(literal.atom)
            self._filter(position, keys, slots, absent=True)
        elif isinstance(literal, Comparison):
            self._add_comparison(literal)
        elif isinstance(literal, Assignment):
            value = evaluator(literal.expression, self._layout.slots)
            table = self._layout.table(literal.variable.name)
            self._steps.append(Compute(self._question.rule, value, table))
            self._bind_computed(literal.variable.name)
        else:
            self._add_collection(literal)

    def _needed(self, positions: Iterable[int]) -> set[str]:
        """The variables that the result or some later condition looks at."""
        question = self._question
        needed = {each.name for each in question.wanted if isinstance(each, Variable)}
        for position in positions:
            needed.update(literal_variables(question.body[position]))
        return needed

    def _add_atom(self, position: int, atom: Atom, needed: set[str]) -> None:
        keys, slots, fresh = self._parts(atom)
        extra = [
            (name, column)
            for column, each in enumerate(atom.args)
            if isinstance(each, Variable)
            and (name := each.name) in fresh
            and fresh[name] != column
        ]
        repeated = {name for name, _ in extra}
        names = [name for name in fresh if name in needed or name in repeated]
        payload = tuple(fresh[name] for name in names)
        payload += tuple(column for _, column in extra)
        if not payload:
            self._filter(position, keys, slots, absent=False)
            return
        self._join(position, keys, slots, payload)
        for name in names:
            self._layout.bind(name)
        for name, _ in extra:
            self._steps.append(Same(self._layout.slot(name), self._layout.skip()))

    def _join(
        self,
        position: int,
        keys: tuple[int, ...],
        slots: tuple[int, ...],
        payload: tuple[int, ...],
    ) -> None:
        relation = self._relation(position)
        atom = atom_of(self._question.body[position])
        columns = self._source.symbols(atom.predicate)
        kept = [columns[each] for each in (*keys, *payload)]
        # Rows cut to a few columns repeat where there are fewer cuts than rows.
        part = len(kept) < len(columns) and costs.room(kept) < len(relation)
        results = self._size * costs.fan(relation, columns, keys, payload)
        self._steps.append(Join(relation, keys, slots, payload, part, results))
        self._cost += costs.join_cost(self._size, results)
        self._size = results

    def _filter(
        self,
        position: int,
        keys: tuple[int, ...],
        slots: tuple[int, ...],
        absent: bool,
    ) -> None:
        self._steps.append(Filter(self._relation(position), keys, slots, absent))
        self._cost += costs.join_cost(self._size, 0.0)
        if not absent:
            self._size *= min(1.0, self._fan(position, keys, ()))

    def _add_comparison(self, literal: Comparison) -> None:
        slots = self._layout.slots
        plain = None
        if isinstance(literal.left, Variable) and isinstance(literal.right, Variable):
            plain = slots[literal.left.name], slots[literal.right.name]
        left, right = evaluator(literal.left, slots), evaluator(literal.right, slots)
        self._steps.append(Compare(self._question.rule, literal, left, right, plain))
        self._cost += costs.join_cost(self._size, self._size)
        self._size /= 2

    def _bind_computed(self, name: str) -> None:
        """Bind a computed value; if the name has one already, they must agree."""
        self._cost += costs.join_cost(self._size, self._size)
        if self._layout.has(name):
            self._steps.append(Same(self._layout.slot(name), self._layout.skip()))
        else:
            self._layout.bind(name)

    def _add_collection(self, literal: Collection) -> None:
        layout = self._layout
        tables = tuple(
            layout.table(each.name) if isinstance(each, Variable) else Symbols()
            for each in literal.terms
        )
        question = Question(
            self._question.rule, literal.body, literal.groups, literal.terms, tables
        )
        groups = tuple(layout.slot(each) for each in literal.groups)
        name = literal.variable.name
        self._steps.append(
            Collect(
                self._question.rule,
                literal.function,
                groups,
                make_plan(question, self._source),
                tables,
                layout.table(name),
            )
        )
        self._bind_computed(name)

    def _keep(self, pending: list[int], left: list[int]) -> None:
        """Drop dead values before they multiply what a later step brings."""
        layout = self._layout
        needed = self._needed([*pending, *left])
        dead = [name for name in layout.slots if name not in needed]
        if not dead or not (self._swept or any(map(self._brings, pending))):
            return
        live = [name for name in layout.slots if name in needed]
        self._steps.append(Keep(layout.keep(live)))
        self._cost += costs.join_cost(0.0, self._size)
        self._size = min(self._size, costs.room([layout.table(n) for n in live]))

    def _brings(self, position: int) -> bool:
        literal = self._question.body[position]
        return isinstance(literal, Atom) and bool(self._parts(literal)[2])

    # -- the sweep ------------------------------------------------------------------

    def _sweep(self, left: list[int], key: tuple[int, ...]) -> Sweep:
        assert self._swept is not None
        required: list[Lookup] = []
        denied: list[Lookup] = []
        width = len(self._layout.table(self._swept).terms)
        groups = costs.room([t for s, t in self._layout.slots.values() if s in key])
        most = costs.mask_bytes(min(self._size, groups), width)
        for position in left:
            literal = self._question.body[position]
            atom = atom_of(literal)
            keys, slots, _ = self._parts(atom)
            relation = self._relation(position)
            column = atom.args.index(Variable(self._swept))
            lookup = Lookup(relation, keys, slots, column)
            (denied if isinstance(literal, Absence) else required).append(lookup)
            if relation.is_rows:
                self._cost += costs.mask_cost(relation)
                most += costs.mask_bytes(len(relation) if keys else 1, width)
        self._cost += costs.sweep_cost(self._size, len(left), width)
        if most > costs.MOST_BYTES:
            self._cost = float("inf")
        column = self._question.wanted.index(Variable(self._swept))
        return Sweep(required, denied, key, column)


_RANKS: dict[type[Literal], float] = {
    Comparison: -2.0,
    Absence: -1.5,
    Assignment: -1.25,
    Collection: 0.5,
}
