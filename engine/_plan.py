"""From a rule to a plan: the order of its conditions and how each is looked at.

The planner is greedy. Whatever can already be decided is decided at once; of the
conditions that bring new values the one expected to bring the fewest comes next.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from abluent.engine._relation import Reading, Relation, Row, chooser
from abluent.engine._safety import needed_variables
from abluent.engine._steps import (
    Batch,
    Collect,
    Compare,
    Compute,
    Join,
    Keep,
    Same,
    Semijoin,
    Slots,
    Step,
    evaluator,
)
from abluent.engine._symbols import Symbols
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


class Source:
    """What a plan reads: relations and symbol tables, by predicate.

    The reasoner and the proof builder give it different relations for a literal
    (all rows, or only the new ones), which is why it is asked by literal.
    """

    def relation(self, predicate: str) -> Relation:
        """The relation of a predicate."""
        raise NotImplementedError

    def symbols(self, predicate: str) -> Sequence[Symbols]:
        """The symbol table of every column of a predicate."""
        raise NotImplementedError


@dataclass(slots=True)
class Plan:
    """Steps from a batch of starting bindings to rows of results."""

    prefix: Row
    steps: list[Step]
    output: Callable[[Row], Row]

    def run(self, starts: Batch) -> list[Row]:
        """The results of all starting bindings, with repetitions."""
        prefix = self.prefix
        batch = [prefix + start for start in starts]
        for step in self.steps:
            if not batch:
                return []
            batch = step.run(batch)
        return list(map(self.output, batch))


@dataclass(frozen=True, slots=True)
class Question:
    """What to plan: a body, what is known at its start, what is wanted of it.

    Args:
        rule: the id to name in errors.
        body: the conditions.
        start: the variables bound by a starting binding, in its order.
        wanted: what a result holds, in its order.
        symbols: the symbol table of every wanted place.
    """

    rule: str
    body: tuple[Literal, ...]
    start: tuple[str, ...]
    wanted: tuple[Argument, ...]
    symbols: tuple[Symbols, ...]


def make_plan(
    question: Question,
    source: Source,
    first: int | None = None,
    delta: Relation | None = None,
) -> Plan:
    """Plan a body.

    Args:
        question: what is asked.
        source: where the relations are.
        first: the position of a condition to start with.
        delta: the relation to use for that condition.
    """
    return _Planner(question, source, first, delta).plan()


class _Planner:
    def __init__(
        self,
        question: Question,
        source: Source,
        first: int | None,
        delta: Relation | None,
    ) -> None:
        self._question = question
        self._source = source
        self._first = first
        self._delta = delta
        self._steps: list[Step] = []
        self._slots: Slots = {}
        self._prefix: list[int] = []
        self._constants: dict[tuple[int, int], int] = {}
        self._tables = self._variable_tables()
        self._width = 0

    def plan(self) -> Plan:
        question = self._question
        wanted = [
            self._constant(each, table)
            for each, table in zip(question.wanted, question.symbols, strict=True)
        ]
        for literal in question.body:
            self._take_constants(literal)
        for name in question.start:
            self._bind(name)
        pending = list(range(len(question.body)))
        while pending:
            position = self._next(pending)
            pending.remove(position)
            self._add(position, pending)
        output = tuple(
            slot if slot is not None else self._slots[_name(each)][0]
            for each, slot in zip(question.wanted, wanted, strict=True)
        )
        return Plan(tuple(self._prefix), self._steps, chooser(output))

    # -- symbol tables and slots ------------------------------------------------

    def _variable_tables(self) -> dict[str, Symbols]:
        tables: dict[str, Symbols] = {}
        question = self._question
        for argument, table in zip(question.wanted, question.symbols, strict=True):
            if isinstance(argument, Variable):
                tables[argument.name] = table
        pending = list(question.body)
        while pending:
            literal = pending.pop()
            if isinstance(literal, Atom | Absence):
                atom = literal if isinstance(literal, Atom) else literal.atom
                columns = self._source.symbols(atom.predicate)
                for argument, table in zip(atom.args, columns, strict=True):
                    if isinstance(argument, Variable):
                        tables[argument.name] = table
            elif isinstance(literal, Collection):
                pending.extend(literal.body)
        return tables

    def _table(self, name: str) -> Symbols:
        return self._tables.setdefault(name, Symbols())

    def _bind(self, name: str) -> None:
        self._slots[name] = (self._width, self._table(name))
        self._width += 1

    def _constant(self, argument: Argument, table: Symbols) -> int | None:
        """The slot of a constant, which every binding starts with."""
        if isinstance(argument, Variable | Anything):
            return None
        key = (id(table), table[argument])
        if key not in self._constants:
            self._constants[key] = self._width
            self._prefix.append(key[1])
            self._width += 1
        return self._constants[key]

    def _take_constants(self, literal: Literal) -> None:
        if isinstance(literal, Atom | Absence):
            atom = literal if isinstance(literal, Atom) else literal.atom
            columns = self._source.symbols(atom.predicate)
            for argument, table in zip(atom.args, columns, strict=True):
                self._constant(argument, table)

    # -- order --------------------------------------------------------------------

    def _next(self, pending: Sequence[int]) -> int:
        if self._first in pending:
            assert self._first is not None
            return self._first
        body = self._question.body
        best, best_cost = None, 0.0
        for position in pending:
            literal = body[position]
            if isinstance(literal, Atom):
                cost = self._cost(literal)
            elif all(name in self._slots for name in needed_variables(literal)):
                # Arithmetic after filters: a filter makes less of it.
                cost = -1.0 if isinstance(literal, Assignment) else -2.0
                cost = 0.5 if isinstance(literal, Collection) else cost
            else:
                continue
            if best is None or cost < best_cost:
                best, best_cost = position, cost
        assert best is not None, "a safe body can always go on"
        return best

    def _cost(self, atom: Atom) -> float:
        """How many rows one binding is expected to meet; 0 if it is only tested."""
        known = sum(not self._is_new(argument) for argument in atom.args)
        width = len(atom.args)
        size = len(self._source.relation(atom.predicate))
        if known == width:
            return 0.0
        return 1.0 + float(size ** ((width - known) / width))

    def _is_new(self, argument: Argument) -> bool:
        if isinstance(argument, Variable):
            return argument.name not in self._slots
        return isinstance(argument, Anything)

    # -- steps --------------------------------------------------------------------

    def _add(self, position: int, pending: Sequence[int]) -> None:
        literal = self._question.body[position]
        if isinstance(literal, Atom):
            relation = self._source.relation(literal.predicate)
            if position == self._first and self._delta is not None:
                relation = self._delta
            self._add_atom(literal, relation, self._needed_after(pending))
            self._keep(pending)
        elif isinstance(literal, Absence):
            self._add_absence(literal.atom)
        elif isinstance(literal, Comparison):
            left = evaluator(literal.left, self._slots)
            right = evaluator(literal.right, self._slots)
            self._steps.append(
                Compare(
                    self._question.rule, literal.operator, left, right, literal.perhaps
                )
            )
        elif isinstance(literal, Assignment):
            value = evaluator(literal.expression, self._slots)
            name = literal.variable.name
            self._steps.append(Compute(self._question.rule, value, self._table(name)))
            self._bind_computed(name)
        else:
            self._add_collection(literal)

    def _needed_after(self, pending: Iterable[int]) -> set[str]:
        needed = {_name(each) for each in self._question.wanted}
        for position in pending:
            needed.update(literal_variables(self._question.body[position]))
        return needed

    def _add_atom(self, atom: Atom, relation: Relation, needed: set[str]) -> None:
        keys, slots = self._known(atom)
        fresh: dict[str, int] = {}
        same: list[tuple[int, int]] = []
        for column, argument in enumerate(atom.args):
            if isinstance(argument, Variable) and self._is_new(argument):
                if argument.name in fresh:
                    same.append((fresh[argument.name], column))
                fresh.setdefault(argument.name, column)
        names = [name for name in fresh if name in needed]
        payload = tuple(fresh[name] for name in names)
        reading = Reading(keys, payload, len(atom.args), tuple(same))
        if names:
            self._steps.append(Join(relation, reading, slots))
        else:
            self._steps.append(Semijoin(relation, reading, slots))
        for name in names:
            self._bind(name)

    def _add_absence(self, atom: Atom) -> None:
        keys, slots = self._known(atom)
        relation = self._source.relation(atom.predicate)
        reading = Reading(keys, (), len(atom.args))
        self._steps.append(Semijoin(relation, reading, slots, absent=True))

    def _known(self, atom: Atom) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """The columns of an atom that are bound, and the slots that bind them."""
        keys, slots = [], []
        columns = self._source.symbols(atom.predicate)
        for column, argument in enumerate(atom.args):
            if not self._is_new(argument):
                keys.append(column)
                slots.append(self._slot(argument, columns[column]))
        return tuple(keys), tuple(slots)

    def _slot(self, argument: Argument, table: Symbols) -> int:
        if isinstance(argument, Variable):
            return self._slots[argument.name][0]
        slot = self._constant(argument, table)
        assert slot is not None, "a known argument is a variable or a constant"
        return slot

    def _bind_computed(self, name: str) -> None:
        """Bind a computed value; if the name has one already, they must agree."""
        if name in self._slots:
            self._steps.append(Same(self._slots[name][0], self._width))
            self._width += 1
        else:
            self._bind(name)

    def _add_collection(self, literal: Collection) -> None:
        groups = tuple(literal.groups)
        terms = tuple(each for each in literal.terms)
        tables = tuple(
            self._table(each.name) if isinstance(each, Variable) else Symbols()
            for each in terms
        )
        question = Question(self._question.rule, literal.body, groups, terms, tables)
        plan = make_plan(question, self._source)
        name = literal.variable.name
        self._steps.append(
            Collect(
                self._question.rule,
                literal.function,
                tuple(self._slots[group][0] for group in groups),
                plan,
                tables,
                self._table(name),
            )
        )
        self._bind_computed(name)

    def _keep(self, pending: Sequence[int]) -> None:
        """Drop dead values before they multiply what a later join brings."""
        body = self._question.body
        joins = [
            position
            for position in pending
            if isinstance(body[position], Atom) and self._brings(position)
        ]
        needed = self._needed_after(pending)
        dead = [name for name in self._slots if name not in needed]
        if not joins or not dead:
            return
        live = [name for name in self._slots if name in needed]
        start = len(self._prefix)
        kept = (*range(start), *(self._slots[name][0] for name in live))
        self._steps.append(Keep(kept))
        tables = {name: self._slots[name][1] for name in live}
        self._slots = {
            name: (start + place, tables[name]) for place, name in enumerate(live)
        }
        self._width = start + len(live)

    def _brings(self, position: int) -> bool:
        literal = self._question.body[position]
        assert isinstance(literal, Atom)
        return any(self._is_new(argument) for argument in literal.args)


def _name(argument: Argument) -> str:
    return argument.name if isinstance(argument, Variable) else ""
