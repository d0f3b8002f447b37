"""From a body to a plan: the order of its conditions and how each is looked at.

The planner is greedy. Whatever can already be decided is decided at once; of the
conditions that bring new values the one expected to bring the fewest comes next.

A plan that would make many bindings is compared with others that leave one
variable of the head to the end and treat all its values at a time, as the bits
of one integer (see `Sweep`). Which of them is taken is a matter of cost only: all
find the same rows.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

from abluent.engine.logic import _costs as costs
from abluent.engine.logic._layout import Layout, atom_of, table_by_variable
from abluent.engine.logic._plan import Plan, Question
from abluent.engine.logic._recipe import (
    COLLECT,
    COMPARE,
    COMPUTE,
    FILTER,
    JOIN,
    KEEP,
    SAME,
    WANTED,
    Look,
    Looks,
    Named,
    Places,
    PlanSource,
    Recipe,
    bind,
    named_tables,
    sized,
)
from abluent.engine.logic._relation import Relation
from abluent.engine.logic.clauses import (
    Absence,
    Anything,
    Argument,
    Assignment,
    Atom,
    Collection,
    Comparison,
    Literal,
    Variable,
    expression_variables,
    literal_variables,
)
from abluent.engine.logic.safety import needed_variables
from abluent.engine.logic.symbols import Symbols


def make_plan(question: Question, source: PlanSource) -> Plan:
    """The cheapest of the plans for a question."""
    recipe = _recipe(question, source)
    if question.masks and recipe.cost >= costs.CHEAP:
        recipe = _cheapest(recipe, question, source)
    plan = bind(recipe, question, source, make_plan)
    swept = question.masks and recipe.cost < costs.CHEAP
    plan.other = lambda: _other(question, source, swept=swept)
    return plan


def _recipe(question: Question, source: PlanSource) -> Recipe:
    """How to answer a question by joins, found now or before."""
    if question.key is None:
        return Planner(question, source).recipe()
    key = sized(question.key, question, source)
    known = source.recipes.get(key)
    if known is None:
        known = Planner(question, source).recipe()
        if known.cost < costs.CHEAP:
            source.recipes.add(key, known)
    return known


def _cheapest(
    joined: Recipe, question: Question, source: PlanSource, *, counted: bool = False
) -> Recipe:
    """A recipe of joins, or one that leaves a variable to masks if it costs less."""
    swept = [
        Planner(question, source, name, counted=counted).recipe()
        for name in _swept_variables(question)
    ]
    return min((joined, *swept), key=lambda recipe: recipe.cost)


def _other(question: Question, source: PlanSource, *, swept: bool) -> Plan:
    """Another plan where one made far more bindings than was expected."""
    best = Planner(question, source, counted=True).recipe()
    if swept:
        best = _cheapest(best, question, source, counted=True)
    return bind(best, question, source, make_plan)


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


class _Part(NamedTuple):
    """A condition as the planner sees it.

    `place` is where it stands in the body, `names` are the variables it mentions,
    `needs` those that must be bound before it. What has no atom has no relation and
    no columns.
    """

    place: int
    literal: Literal
    names: tuple[str, ...]
    needs: tuple[str, ...]
    args: tuple[Argument, ...]
    relation: Relation
    columns: Sequence[Symbols]


class _Reading(NamedTuple):
    """How an atom stands to what is bound: known columns, and new variables."""

    keys: tuple[int, ...]
    slots: tuple[int, ...]
    fresh: dict[str, int]


_NOTHING = Relation(0)


class Planner:
    """One attempt at a plan.

    Args:
        question: what is asked.
        source: where all relations are found.
        swept: a variable that is left to a sweep.
        counted: whether rows that agree are counted, and not only reckoned with.
    """

    def __init__(
        self,
        question: Question,
        source: PlanSource,
        swept: str | None = None,
        *,
        counted: bool = False,
    ) -> None:
        self._question = question
        self._source = source
        self._swept = swept
        self._counted = counted
        self._steps: list[tuple[Any, ...]] = []
        self._cost = 0.0
        self._size = 1.0
        self._parts = [
            self._part(position, literal)
            for position, literal in enumerate(question.body)
        ]
        # How many conditions still to come, and results, mention a variable.
        self._uses = Counter(n for part in self._parts for n in part.names)
        for argument in question.wanted:
            if isinstance(argument, Variable):
                self._uses[argument.name] += 1
        tables = table_by_variable(question.body, source)
        self._layout = Layout(tables | named_tables(question))

    def _part(self, position: int, literal: Literal) -> _Part:
        names = tuple(literal_variables(literal))
        if not isinstance(literal, Atom | Absence):
            needs = tuple(needed_variables(literal))
            return _Part(position, literal, names, needs, (), _NOTHING, ())
        atom = atom_of(literal)
        delta = self._question.delta if position == self._question.first else None
        relation = self._source.relation(atom.predicate) if delta is None else delta
        columns = self._source.symbols(atom.predicate)
        needs = names if isinstance(literal, Absence) else ()
        return _Part(position, literal, names, needs, atom.args, relation, columns)

    def recipe(self) -> Recipe:
        """The plan, as a recipe."""
        question, layout = self._question, self._layout
        outputs = [
            None
            if isinstance(each, Variable | Anything)
            else layout.constant(each, question.symbols[column], (WANTED, column))
            for column, each in enumerate(question.wanted)
        ]
        for part in self._parts:
            for column, argument in enumerate(part.args):
                if not isinstance(argument, Variable | Anything):
                    where = (part.place, column)
                    layout.constant(argument, part.columns[column], where)
        for name in question.start:
            layout.bind(name)
        self._order()
        slots = [
            layout.slot(each.name) if isinstance(each, Variable) else slot
            for each, slot in zip(question.wanted, outputs, strict=True)
            if not (isinstance(each, Variable) and each.name == self._swept)
        ]
        key = tuple(slot for slot in slots if slot is not None)
        sweep = self._sweep(key) if self._swept is not None else None
        if sweep is None:
            rows = question.target is None or question.target.is_rows
            self._cost += costs.output_cost(self._size, rows)
        constants = tuple(layout.constants)
        return Recipe(constants, tuple(self._steps), key, self._cost, sweep)

    # -- order --------------------------------------------------------------------

    def _order(self) -> None:
        """Add a step for every condition that the sweep does not take."""
        pending = [part for part in self._parts if self._swept not in part.names]
        left = [part for part in self._parts if self._swept in part.names]
        first = self._question.first
        start = None if first is None else self._parts[first]
        while pending or self._bringing(left):
            choices = [*pending, *self._bringing(left)]
            part = start if start in choices else self._cheapest(choices)
            assert part is not None, "a safe body can always go on"
            if part in pending:
                pending.remove(part)
                self._uses.subtract(part.names)
            self._add(part, pending)

    def _bringing(self, left: list[_Part]) -> list[_Part]:
        """Swept conditions that still have to bring a value of another variable."""
        return [
            part
            for part in left
            if isinstance(part.literal, Atom)
            and any(n != self._swept and not self._layout.has(n) for n in part.names)
        ]

    def _cheapest(self, choices: list[_Part]) -> _Part | None:
        if len(choices) == 1:
            return choices[0]
        best, best_rank = None, 0.0
        for part in choices:
            rank = self._rank(part)
            if rank is not None and (best is None or rank < best_rank):
                best, best_rank = part, rank
        return best

    def _rank(self, part: _Part) -> float | None:
        """How soon a condition should come; `None` if it cannot yet."""
        if isinstance(part.literal, Atom):
            keys, _, fresh = self._read(part)
            if not fresh:
                return _TESTED + costs.fan(part.relation, part.columns, keys, ())
            payload = tuple(fresh.values())
            return self._fan(part, keys, payload)
        if not all(map(self._layout.has, part.needs)):
            return None
        return _RANKS[type(part.literal)]

    def _fan(
        self, part: _Part, keys: tuple[int, ...], payload: tuple[int, ...]
    ) -> float:
        """How many rows agree with what is bound."""
        if self._counted and len(keys) < len(part.columns):
            return costs.counted_fan(part.relation, keys, payload)
        return costs.fan(part.relation, part.columns, keys, payload)

    def _read(self, part: _Part) -> _Reading:
        keys, slots = [], []
        fresh: dict[str, int] = {}
        bound, swept = self._layout.slots, self._swept
        for column, argument in enumerate(part.args):
            if isinstance(argument, Variable):
                name = argument.name
                if name in bound:
                    keys.append(column)
                    slots.append(bound[name][0])
                elif name != swept:
                    fresh.setdefault(name, column)
            elif not isinstance(argument, Anything):
                keys.append(column)
                table, where = part.columns[column], (part.place, column)
                slots.append(self._layout.constant(argument, table, where))
        return _Reading(tuple(keys), tuple(slots), fresh)

    # -- steps --------------------------------------------------------------------

    def _add(self, part: _Part, pending: list[_Part]) -> None:
        literal = part.literal
        if isinstance(literal, Atom):
            self._add_atom(part)
            self._keep(pending)
        elif isinstance(literal, Absence):
            self._filter(part, self._read(part), absent=True)
        elif isinstance(literal, Comparison):
            named = self._named(literal_variables(literal))
            self._steps.append((COMPARE, part.place, named))
            self._cost += costs.join_cost(self._size, self._size)
            self._size /= 2
        elif isinstance(literal, Assignment):
            named = self._named(expression_variables(literal.expression))
            self._steps.append((COMPUTE, part.place, named))
            self._bind_computed(literal.variable.name)
        else:
            groups = tuple(self._layout.slot(each) for each in literal.groups)
            self._steps.append((COLLECT, part.place, groups))
            self._bind_computed(literal.variable.name)

    def _add_atom(self, part: _Part) -> None:
        reading = self._read(part)
        fresh = reading.fresh
        again = [
            (each.name, column)
            for column, each in enumerate(part.args)
            if isinstance(each, Variable) and fresh.get(each.name, column) != column
        ]
        repeated = {name for name, _ in again}
        names = [name for name in fresh if self._uses[name] > 0 or name in repeated]
        payload = tuple(fresh[name] for name in names)
        payload += tuple(column for _, column in again)
        if not payload:
            self._filter(part, reading, absent=False)
            return
        self._join(part, reading, payload)
        for name in names:
            self._layout.bind(name)
        for name, _ in again:
            self._steps.append((SAME, self._layout.slot(name), self._layout.skip()))

    def _join(self, part: _Part, reading: _Reading, payload: tuple[int, ...]) -> None:
        relation, columns, keys = part.relation, part.columns, reading.keys
        cut = len(keys) + len(payload) < len(columns)
        # Rows cut to a few columns repeat where there are fewer cuts than rows.
        kept = [columns[each] for each in (*keys, *payload)]
        once = cut and costs.room(kept) < len(relation)
        results = self._size * self._fan(part, keys, payload)
        step = (JOIN, part.place, keys, reading.slots, payload, once, results)
        self._steps.append(step)
        self._cost += costs.join_cost(self._size, results)
        self._size = results

    def _filter(self, part: _Part, reading: _Reading, absent: bool) -> None:
        keys, slots, _ = reading
        self._steps.append((FILTER, part.place, keys, slots, absent))
        self._cost += costs.join_cost(self._size, 0.0)
        if not absent:
            self._size *= min(1.0, costs.fan(part.relation, part.columns, keys, ()))

    def _named(self, names: Iterable[str]) -> Named:
        """Where the values of some variables stand."""
        return tuple((name, self._layout.slot(name)) for name in dict.fromkeys(names))

    def _bind_computed(self, name: str) -> None:
        """Bind a computed value; if the name has one already, they must agree."""
        self._cost += costs.join_cost(self._size, self._size)
        if self._layout.has(name):
            self._steps.append((SAME, self._layout.slot(name), self._layout.skip()))
        else:
            self._layout.bind(name)

    def _keep(self, pending: list[_Part]) -> None:
        """Drop dead values before they multiply what a later step brings."""
        layout, uses = self._layout, self._uses
        live = [name for name in layout.slots if uses[name] > 0]
        if len(live) == len(layout.slots):
            return
        if self._swept is None and not any(map(self._brings, pending)):
            return
        self._steps.append((KEEP, *layout.keep(live)))
        self._cost += costs.join_cost(0.0, self._size)
        self._size = min(self._size, costs.room([layout.table(n) for n in live]))

    def _brings(self, part: _Part) -> bool:
        """Whether a condition will bring a new value."""
        return isinstance(part.literal, Atom) and bool(self._read(part).fresh)

    # -- the sweep ------------------------------------------------------------------

    def _sweep(self, key: Places) -> tuple[Looks, Looks, int]:
        assert self._swept is not None, "only then is there a sweep"
        swept = Variable(self._swept)
        width = len(self._layout.table(self._swept).terms)
        groups = costs.room([t for s, t in self._layout.slots.values() if s in key])
        memory = costs.mask_bytes(min(self._size, groups), width)
        required: list[Look] = []
        denied: list[Look] = []
        for part in self._parts:
            if self._swept not in part.names:
                continue
            keys, slots, _ = self._read(part)
            look = (part.place, keys, slots, part.args.index(swept))
            absent = isinstance(part.literal, Absence)
            (denied if absent else required).append(look)
            if part.relation.is_rows:
                self._cost += costs.mask_cost(part.relation)
                memory += costs.mask_bytes(len(part.relation) if keys else 1, width)
        lookups = len(required) + len(denied)
        self._cost += costs.sweep_cost(self._size, lookups, width)
        if memory > costs.MOST_BYTES:
            self._cost = float("inf")
        column = self._question.wanted.index(swept)
        return tuple(required), tuple(denied), column


# What only tests a binding comes before what brings a new one. Values are looked at
# last, so that a condition on the kind of a thing guards arithmetic with it.
_TESTED = -1e9
_RANKS: dict[type[Literal], float] = {
    Absence: -3.0,
    Comparison: -2.0,
    Assignment: -1.0,
    Collection: 0.5,
}
