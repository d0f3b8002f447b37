"""Recipes: plans without the relations they read, and where they are kept.

How a question is best answered depends on its rule and on about how large the
relations are, not on what stands in them. A recipe names conditions by their place in
the body and constants by where they stand, so that it serves every model of a program;
to bind it to one takes a fraction of the time in which it was found.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, NamedTuple, Protocol, TypeAlias

from abluent.engine.logic._layout import Source, atom_of, table_by_variable
from abluent.engine.logic._plan import Plan, Question
from abluent.engine.logic._relation import Relation
from abluent.engine.logic._steps import (
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
from abluent.engine.logic._tuples import chooser
from abluent.engine.logic._values import Slots, evaluator
from abluent.engine.logic.clauses import (
    Absence,
    Assignment,
    Atom,
    Collection,
    Comparison,
    Rule,
    Variable,
)
from abluent.engine.logic.symbols import Symbols

Places: TypeAlias = tuple[int, ...]
Named: TypeAlias = tuple[tuple[str, int], ...]
"""Where the values of some variables stand in a binding."""
Look: TypeAlias = tuple[int, Places, Places, int]
"""A lookup of a sweep: condition, keys, slots, column."""
Looks: TypeAlias = tuple[Look, ...]
Key: TypeAlias = tuple[int | str, ...]
Planning: TypeAlias = Callable[[Question, "PlanSource"], Plan]

# Steps, each followed by the place of its condition, if it has one, and by what the
# step of that name needs.
JOIN, FILTER, KEEP, SAME, COMPARE, COMPUTE, COLLECT = range(7)
WANTED = -1
"""In place of a condition: what is wanted."""
_MOST = 3000


class Recipe(NamedTuple):
    """A plan in terms of the body alone.

    Args:
        constants: the condition and the column of each constant of the prefix.
        steps: the steps, each a tuple that starts with its kind.
        output: the places of a binding that make a result.
        cost: what it is expected to take, in microseconds.
        sweep: what is required, what is denied, and the column of the swept variable.
    """

    constants: tuple[tuple[int, int], ...]
    steps: tuple[tuple[Any, ...], ...]
    output: Places
    cost: float
    sweep: tuple[Looks, Looks, int] | None


class Recipes:
    """The recipes of a program, found so far."""

    def __init__(self, rules: Iterable[Rule]) -> None:
        self._numbers = {id(rule): number for number, rule in enumerate(rules)}
        self._known: dict[Key, Recipe] = {}
        self.grown = False

    def key(self, rule: Rule, *how: int | str) -> Key | None:
        """What to call a question about a rule; None if it is not of the program."""
        number = self._numbers.get(id(rule))
        return None if number is None else (number, *how)

    def get(self, key: Key) -> Recipe | None:
        """The recipe that was found for a question and sizes, if one was."""
        return self._known.get(key)

    def add(self, key: Key, recipe: Recipe) -> None:
        """Keep a recipe, as long as they are not very many."""
        if len(self._known) < _MOST:
            self._known[key] = recipe
            self.grown = True

    def dump(self) -> Any:
        """All of them as tuples and numbers, fit for `marshal`."""
        return {key: tuple(recipe) for key, recipe in self._known.items()}

    def undump(self, plain: Any) -> None:
        """Take in what `dump` returned for the same rules."""
        self._known = {key: Recipe(*recipe) for key, recipe in plain.items()}


class PlanSource(Source, Protocol):
    """What a plan is made for: a source, with the plans that were made before.

    Attributes:
        recipes: these plans, for other facts.
    """

    recipes: Recipes


def sized(key: Key, question: Question, source: PlanSource) -> Key:
    """A key with about how large every relation is that the question looks at."""
    sizes = []
    for place, literal in enumerate(question.body):
        if isinstance(literal, Atom | Absence):
            if place == question.first and question.delta is not None:
                size = len(question.delta)
            else:
                size = len(source.relation(atom_of(literal).predicate))
            # One more for eight times the size; nothing at all is a size of its own.
            sizes.append(size and 1 + size.bit_length() // 3)
    return (*key, *sizes)


def bind(
    recipe: Recipe, question: Question, source: PlanSource, plan: Planning
) -> Plan:
    """The plan that a recipe is for a question.

    Args:
        recipe: one that was found for this question, or one of the same key.
        question: the question.
        source: where its relations are.
        plan: how to plan the conditions inside a collection.
    """
    return _Binding(question, source, plan).bind(recipe)


class _Binding:
    def __init__(self, question: Question, source: PlanSource, plan: Planning) -> None:
        self._question = question
        self._source = source
        self._plan = plan
        self._tables: dict[str, Symbols] | None = None

    def bind(self, recipe: Recipe) -> Plan:
        prefix = tuple([self._number(*each) for each in recipe.constants])
        steps = [self._step(*each) for each in recipe.steps]
        sweep = None if recipe.sweep is None else self._sweep(recipe)
        return Plan(prefix, steps, chooser(recipe.output), sweep, recipe.cost)

    def _number(self, place: int, column: int) -> int:
        """The number of a constant."""
        if place == WANTED:
            table, value = self._question.symbols[column], self._question.wanted[column]
        else:
            atom = atom_of(self._question.body[place])
            table = self._source.symbols(atom.predicate)[column]
            value = atom.args[column]
        return table[value]  # type: ignore[index]  # only constants are in a recipe

    def _step(self, kind: int, *parts: Any) -> Step:
        if kind == JOIN:
            return Join(self._relation(parts[0]), *parts[1:])
        if kind == FILTER:
            return Filter(self._relation(parts[0]), *parts[1:])
        if kind == KEEP:
            return Keep(parts)
        if kind == SAME:
            return Same(*parts)
        return self._valued(kind, *parts)

    def _relation(self, place: int) -> Relation:
        question = self._question
        if place == question.first and question.delta is not None:
            return question.delta
        return self._source.relation(atom_of(question.body[place]).predicate)

    def _sweep(self, recipe: Recipe) -> Sweep:
        assert recipe.sweep is not None, "only then is there a sweep"
        required, denied, column = recipe.sweep
        return Sweep(self._looks(required), self._looks(denied), recipe.output, column)

    def _looks(self, looks: Looks) -> list[Lookup]:
        return [
            Lookup(self._relation(place), keys, slots, column)
            for place, keys, slots, column in looks
        ]

    # -- steps that look at values ----------------------------------------------------

    def _valued(self, kind: int, place: int, *parts: Any) -> Step:
        literal, rule = self._question.body[place], self._question.rule
        if isinstance(literal, Comparison):
            return self._compare(literal, self._slots(parts[0]))
        if isinstance(literal, Assignment):
            value = evaluator(literal.expression, self._slots(parts[0]))
            return Compute(rule, value, self._table(literal.variable.name))
        assert isinstance(literal, Collection), "nothing else has a step of its own"
        return self._collect(literal, parts[0])

    def _compare(self, literal: Comparison, slots: Slots) -> Compare:
        plain = None
        if isinstance(literal.left, Variable) and isinstance(literal.right, Variable):
            plain = slots[literal.left.name], slots[literal.right.name]
        left, right = evaluator(literal.left, slots), evaluator(literal.right, slots)
        return Compare(self._question.rule, literal, left, right, plain)

    def _collect(self, literal: Collection, groups: Places) -> Collect:
        rule = self._question.rule
        tables = tuple(
            self._table(each.name) if isinstance(each, Variable) else Symbols()
            for each in literal.terms
        )
        given = tuple((name, self._table(name)) for name in literal.groups)
        # With its group in each row, the members of many groups are found at once.
        wanted = (*map(Variable, literal.groups), *literal.terms)
        within = (*(table for _, table in given), *tables)
        inner = Question(
            rule, literal.body, literal.groups, wanted, within, given=given
        )
        plan = self._plan(inner, self._source)
        table = self._table(literal.variable.name)
        return Collect(rule, literal.function, groups, plan, tables, table)

    def _slots(self, named: Named) -> Slots:
        return {name: (slot, self._table(name)) for name, slot in named}

    def _table(self, name: str) -> Symbols:
        """The symbol table of a variable; its own, if it stands in no atom."""
        if self._tables is None:
            question = self._question
            self._tables = table_by_variable(question.body, self._source)
            self._tables |= named_tables(question)
        return self._tables.setdefault(name, Symbols())


def named_tables(question: Question) -> dict[str, Symbols]:
    """The symbol tables of the variables that are wanted, or given from outside."""
    return dict(question.given) | {
        each.name: table
        for each, table in zip(question.wanted, question.symbols, strict=True)
        if isinstance(each, Variable)
    }
