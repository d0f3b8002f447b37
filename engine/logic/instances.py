"""Ground rule instances: every way in which a rule derives a given fact.

A proof is put together from these after the fact. An instance names its rule, the
values of its variables, and what each condition of the body came to; nothing of it
is recorded while the model is made, so asking for proofs cannot change an answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from operator import itemgetter
from typing import NamedTuple, TypeAlias, TypeVar

from abluent.engine.logic import terms
from abluent.engine.logic._layout import table_by_variable
from abluent.engine.logic._plan import Question
from abluent.engine.logic._planner import make_plan
from abluent.engine.logic.clauses import (
    Absence,
    Anything,
    Argument,
    Assignment,
    Atom,
    Collection,
    Comparison,
    Expression,
    Literal,
    Operation,
    Rule,
    Variable,
    literal_variables,
)
from abluent.engine.logic.reasoner import Model
from abluent.engine.logic.symbols import Symbols
from abluent.engine.logic.terms import Term


class Premise(NamedTuple):
    """A fact that a condition met."""

    predicate: str
    args: tuple[Term, ...]


class Missing(NamedTuple):
    """That no fact agrees with a pattern; `None` stands for any term.

    `form` says how the rule puts it: `not`, `unless` or `exception`.
    """

    predicate: str
    pattern: tuple[Term | None, ...]
    form: str


class Compared(NamedTuple):
    """A comparison that held, with the values of both sides."""

    condition: Comparison
    left: Term
    right: Term


class Computed(NamedTuple):
    """A value that was worked out."""

    condition: Assignment
    value: Term


class Collected(NamedTuple):
    """A value over a group, with every member and one instance of its conditions.

    Args:
        condition: the collection.
        value: what it came to.
        members: the distinct values of its terms, each with the supports found.
    """

    condition: Collection
    value: Term
    members: tuple[tuple[tuple[Term, ...], tuple[Support, ...]], ...]


_T = TypeVar("_T")
_Maker: TypeAlias = Callable[[tuple[Term, ...]], _T]

Support: TypeAlias = Premise | Missing | Compared | Computed | Collected
_Supporter: TypeAlias = Callable[[Model, tuple[Term, ...]], Support]


class Instance(NamedTuple):
    """One ground instance of a rule.

    Args:
        rule: the rule.
        args: the terms of its head.
        bindings: the value of every variable of its body, by name.
        supports: what each condition of the body came to, in the order of the body.
    """

    rule: Rule
    args: tuple[Term, ...]
    bindings: tuple[tuple[str, Term], ...]
    supports: tuple[Support, ...]

    def binding(self) -> dict[str, Term]:
        """The bindings as a dictionary."""
        return dict(self.bindings)


def rule_instances(
    model: Model, predicate: str, args: Sequence[Term]
) -> Iterator[Instance]:
    """Every rule instance that derives a fact, in the order of the rules.

    Instances of one rule come in a stable order, that of their values. A fact that
    does not hold has none.
    """
    for rule in model.program.concluding(predicate):
        given = _unified(rule.head, args)
        if given is not None:
            yield from body_instances(model, rule, given)


def first_instances(model: Model, predicate: str) -> dict[tuple[Term, ...], Instance]:
    """One rule instance for every inferred fact of a predicate, read all at once.

    Its premises were found before the fact, so these instances together, from every
    predicate, hold a derivation of everything. Rules come in the order of the files.
    """
    component = model.program.component_of
    found: dict[tuple[Term, ...], Instance] = {}
    for rule in model.program.concluding(predicate):
        own = component[predicate]
        inside = [component.get(name) == own for name in _required(rule)]
        reader = _reader(model, rule, ())
        for values in reader.values({}):
            args = reader.shape.head(values)
            if args not in found:
                instance = reader.shape.instance(model, values)
                if not any(inside) or _is_later(model, predicate, instance):
                    found[args] = instance
    return found


def _required(rule: Rule) -> Iterator[str]:
    return (each.predicate for each in rule.body if isinstance(each, Atom))


def _is_later(model: Model, predicate: str, instance: Instance) -> bool:
    """Whether a fact was found after all premises of its own component."""
    component = model.program.component_of
    stage = model.stage(predicate, instance.args)
    assert stage is not None, "an instance of a model derives what holds in it"
    for each in instance.supports:
        if isinstance(each, Premise):
            if component.get(each.predicate) == component[predicate]:
                before = model.stage(each.predicate, each.args)
                if before is None or before >= stage:
                    return False
    return True


def body_instances(
    model: Model, rule: Rule, given: Mapping[str, Term]
) -> Iterator[Instance]:
    """Every instance of a rule in which some variables have given values."""
    reader = _reader(model, rule, tuple(given))
    found = reader.values(given)
    if len(found) > 1:
        found.sort(key=_order)
    return (reader.shape.instance(model, values) for values in found)


def _reader(model: Model, rule: Rule, given: tuple[str, ...]) -> _Reader:
    # The parts of a rule live as long as the reader that is kept for them, so that
    # their identity names them; comparing whole bodies would cost more than reading.
    parts = (rule.id, rule.head.predicate, id(rule.head.args), id(rule.body))
    key = (*parts, *given)
    reader = model.readers.get(key)
    if reader is None:
        reader = model.readers[key] = _Reader(model, _shape(model, rule, given))
    assert isinstance(reader, _Reader), "only these are kept"
    return reader


def _shape(model: Model, rule: Rule, given: tuple[str, ...]) -> _Shape:
    """What reading a rule takes in any model; kept for the rules of the program."""
    key = model.recipes.key(rule, *given)
    if key is None:
        return _Shape(rule, given)
    shapes = model.program.shapes
    shape = shapes.get(key)
    if shape is None:
        shape = shapes[key] = _Shape(rule, given)
    assert isinstance(shape, _Shape), "only these are kept"
    return shape


def _unified(head: Atom, args: Sequence[Term]) -> dict[str, Term] | None:
    """The values that make a head say a fact; `None` if none do."""
    if len(head.args) != len(args):
        return None
    given: dict[str, Term] = {}
    for argument, value in zip(head.args, args, strict=True):
        if isinstance(argument, Variable):
            if given.setdefault(argument.name, value) != value:
                return None
        elif argument != value:
            return None
    return given


class _Reader:
    """Reads the instances of one rule off a model, some variables being given.

    The model keeps its readers, so none of them holds on to the model: a cycle would
    stay in memory until Python looks for garbage.
    """

    def __init__(self, model: Model, shape: _Shape) -> None:
        self.shape = shape
        rule, body, start = shape.rule, shape.body, shape.start
        atoms = (rule.head, *body) if rule.head.predicate else body
        known = table_by_variable(atoms, model)
        tables = tuple([known.setdefault(each, Symbols()) for each in shape.places])
        key = model.recipes.key(rule, "read", *start)
        question = Question(rule.id, body, start, shape.wanted, tables, key=key)
        self._plan, self._tables = make_plan(question, model), tables

    def values(self, given: Mapping[str, Term]) -> list[tuple[Term, ...]]:
        """The values of all variables, for every instance with the given ones."""
        tables, places = self._tables, self.shape.places
        start = tuple([tables[places[name]][given[name]] for name in self.shape.start])
        rows = sorted(self._plan.rows(start))
        if not (rows and tables):
            return rows  # type: ignore[return-value]  # no row has a number in it
        columns = zip(*rows, strict=True)
        terms = [
            map(table.terms.__getitem__, column)
            for table, column in zip(tables, columns, strict=True)
        ]
        return list(zip(*terms, strict=True))


class _Shape:
    """How an instance of a rule is put together from the values of its variables.

    Args:
        rule: the rule.
        given: variables whose values are given, as far as its body has them.
    """

    def __init__(self, rule: Rule, given: tuple[str, ...]) -> None:
        self.rule = rule
        self.body = _named(rule.body)
        names = tuple(
            dict.fromkeys(n for each in self.body for n in literal_variables(each))
        )
        self.start = tuple(name for name in given if name in names)
        self.places = {name: place for place, name in enumerate(names)}
        self.wanted = tuple(map(Variable, names))
        self._shown = tuple(name for name in names if name[0] != "_")
        self._pick_shown = self._picker(tuple(map(Variable, self._shown)))
        self.head = self._picker(rule.head.args)
        self._supports = tuple(map(self._support, self.body))

    def instance(self, model: Model, values: tuple[Term, ...]) -> Instance:
        """The instance of the model with some values of the variables."""
        return Instance(
            self.rule,
            self.head(values),
            tuple(zip(self._shown, self._pick_shown(values), strict=True)),
            tuple([support(model, values) for support in self._supports]),
        )

    # -- what a condition came to -------------------------------------------------

    def _support(self, literal: Literal) -> _Supporter:
        if isinstance(literal, Atom):
            predicate, pick = literal.predicate, self._picker(literal.args)
            return lambda _, values: Premise(predicate, pick(values))
        if isinstance(literal, Absence):
            return self._missing(literal)
        if isinstance(literal, Comparison):
            return self._compared(literal)
        if isinstance(literal, Assignment):
            place = self.places[literal.variable.name]
            return lambda _, values: Computed(literal, values[place])
        return self._collected(literal)

    def _missing(self, literal: Absence) -> _Supporter:
        places = [
            (None, None) if isinstance(each, Anything) else self._where(each)
            for each in literal.atom.args
        ]

        def make(_: Model, values: tuple[Term, ...]) -> Support:
            pattern = tuple([term if at is None else values[at] for at, term in places])
            return Missing(literal.atom.predicate, pattern, literal.form)

        return make

    def _compared(self, literal: Comparison) -> _Supporter:
        places = self.places

        def make(_: Model, values: tuple[Term, ...]) -> Support:
            binding = {name: values[place] for name, place in places.items()}
            left, right = _value(literal.left, binding), _value(literal.right, binding)
            return Compared(literal, left, right)

        return make

    def _collected(self, literal: Collection) -> _Supporter:
        rule, places = self.rule, self.places
        head = Atom("", literal.terms)
        inner = rule._replace(head=head, body=literal.body)

        def make(model: Model, values: tuple[Term, ...]) -> Support:
            given = {name: values[places[name]] for name in literal.groups}
            members: dict[tuple[Term, ...], tuple[Support, ...]] = {}
            for each in body_instances(model, inner, given):
                members.setdefault(each.args, each.supports)
            value = values[places[literal.variable.name]]
            return Collected(literal, value, tuple(members.items()))

        return make

    def _where(self, argument: Argument) -> tuple[int | None, Term | None]:
        """The place of a variable among the values, or else the constant itself."""
        if isinstance(argument, Variable):
            return self.places[argument.name], None
        assert not isinstance(argument, Anything), "open places were given names"
        return None, argument

    def _picker(self, args: tuple[Argument, ...]) -> _Maker[tuple[Term, ...]]:
        """A function from the values of the variables to the terms of an atom."""
        where = [self._where(each) for each in args]
        if len(where) > 1 and all(place is not None for place, _ in where):
            return itemgetter(*(place for place, _ in where))

        def pick(values: tuple[Term, ...]) -> tuple[Term, ...]:
            terms = [term if at is None else values[at] for at, term in where]
            return tuple(terms)  # type: ignore[arg-type]  # a place or a constant

        return pick


def _order(values: tuple[Term, ...]) -> list[tuple[int, str]]:
    return [(isinstance(value, str), str(value)) for value in values]


def _named(body: tuple[Literal, ...]) -> tuple[Literal, ...]:
    """A body whose positive conditions have names for every place left open.

    The names start with `_`; they are left out of the bindings that are shown.
    """
    return tuple(
        Atom(
            literal.predicate,
            tuple(
                Variable(f"_{place}_{column}") if isinstance(each, Anything) else each
                for column, each in enumerate(literal.args)
            ),
        )
        if isinstance(literal, Atom)
        else literal
        for place, literal in enumerate(body)
    )


def _value(expression: Expression, binding: Mapping[str, Term]) -> Term:
    """The value of an expression; depth is that of the text of one rule."""
    if isinstance(expression, Variable):
        return binding[expression.name]
    if not isinstance(expression, Operation):
        return expression
    values = [_value(each, binding) for each in expression.operands]
    if len(values) == 1:
        (only,) = values
        return terms.negate(only) if expression.operator == "-" else only
    total, *rest = values
    for each in rest:
        total = terms.OPERATIONS[expression.operator](total, each)
    return total
