"""Ground rule instances: every way in which a rule derives a given fact.

A proof is put together from these after the fact. An instance names its rule, the
values of its variables, and what each condition of the body came to; nothing of it
is recorded while the model is made, so asking for proofs cannot change an answer.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from abluent.engine import terms
from abluent.engine._layout import table_by_variable
from abluent.engine._plan import Plan, Question, make_plan
from abluent.engine._symbols import Symbols
from abluent.engine.clauses import (
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
from abluent.engine.reasoner import Model
from abluent.engine.terms import Term


@dataclass(frozen=True, slots=True)
class Premise:
    """A fact that a condition met."""

    predicate: str
    args: tuple[Term, ...]


@dataclass(frozen=True, slots=True)
class Missing:
    """That no fact agrees with a pattern; `None` stands for any term.

    `form` says how the rule puts it: `not`, `unless` or `exception`.
    """

    predicate: str
    pattern: tuple[Term | None, ...]
    form: str


@dataclass(frozen=True, slots=True)
class Compared:
    """A comparison that held, with the values of both sides."""

    condition: Comparison
    left: Term
    right: Term


@dataclass(frozen=True, slots=True)
class Computed:
    """A value that was worked out."""

    condition: Assignment
    value: Term


@dataclass(frozen=True, slots=True)
class Collected:
    """A value over a group, with every member and one instance of its conditions.

    Args:
        condition: the collection.
        value: what it came to.
        members: the distinct values of its terms, each with the supports found.
    """

    condition: Collection
    value: Term
    members: tuple[tuple[tuple[Term, ...], tuple[Support, ...]], ...]


Support: TypeAlias = Premise | Missing | Compared | Computed | Collected


@dataclass(frozen=True, slots=True)
class Instance:
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
        yield from _instances_of(model, rule, tuple(args))


def body_instances(
    model: Model, rule: Rule, given: Mapping[str, Term]
) -> Iterator[Instance]:
    """Every instance of a rule in which some variables have given values."""
    body = _named(rule.body)
    names = tuple(_variables(body))
    start = tuple(name for name in given if name in names)
    plan, tables = _planned(model, rule, body, start, names)
    row = tuple([tables[names.index(name)][given[name]] for name in start])
    found = {
        tuple([t.terms[n] for t, n in zip(tables, each, strict=True)])
        for each in plan.rows(row)
    }
    for values in sorted(found, key=_order):
        binding = dict(zip(names, values, strict=True))
        supports = tuple(_support(model, rule, each, binding) for each in body)
        head = tuple(_ground(each, binding) for each in rule.head.args)
        shown = tuple((n, v) for n, v in binding.items() if not n.startswith("_"))
        yield Instance(rule, head, shown, supports)


def _instances_of(
    model: Model, rule: Rule, args: tuple[Term, ...]
) -> Iterator[Instance]:
    given: dict[str, Term] = {}
    if len(args) != len(rule.head.args):
        return
    for argument, value in zip(rule.head.args, args, strict=True):
        if isinstance(argument, Variable):
            if given.setdefault(argument.name, value) != value:
                return
        elif argument != value:
            return
    yield from body_instances(model, rule, given)


def _order(values: tuple[Term, ...]) -> list[tuple[int, str]]:
    return [(isinstance(value, str), str(value)) for value in values]


def _planned(
    model: Model,
    rule: Rule,
    body: tuple[Literal, ...],
    start: tuple[str, ...],
    names: tuple[str, ...],
) -> tuple[Plan, tuple[Symbols, ...]]:
    known = table_by_variable(
        (rule.head, *body) if rule.head.predicate else body, model
    )
    tables = tuple(known.setdefault(each, Symbols()) for each in names)
    wanted = tuple(Variable(each) for each in names)
    question = Question(rule.id, body, start, wanted, tables)
    return make_plan(question, model), tables


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


def _variables(body: tuple[Literal, ...]) -> dict[str, None]:
    return dict.fromkeys(name for each in body for name in literal_variables(each))


# -- what a condition came to -----------------------------------------------------


def _support(
    model: Model, rule: Rule, literal: Literal, binding: Mapping[str, Term]
) -> Support:
    if isinstance(literal, Atom):
        args = tuple(_ground(each, binding) for each in literal.args)
        return Premise(literal.predicate, args)
    if isinstance(literal, Absence):
        pattern = tuple(
            None if isinstance(each, Anything) else _ground(each, binding)
            for each in literal.atom.args
        )
        return Missing(literal.atom.predicate, pattern, literal.form)
    if isinstance(literal, Comparison):
        left, right = _value(literal.left, binding), _value(literal.right, binding)
        return Compared(literal, left, right)
    if isinstance(literal, Assignment):
        return Computed(literal, binding[literal.variable.name])
    return _collected(model, rule, literal, binding)


def _collected(
    model: Model, rule: Rule, literal: Collection, binding: Mapping[str, Term]
) -> Collected:
    head = Atom("", literal.terms)
    inner = Rule(rule.id, head, literal.body, "", (), rule.standing, False, rule.place)
    given = {name: binding[name] for name in literal.groups}
    members: dict[tuple[Term, ...], tuple[Support, ...]] = {}
    for each in body_instances(model, inner, given):
        members.setdefault(each.args, each.supports)
    return Collected(literal, binding[literal.variable.name], tuple(members.items()))


def _ground(argument: Argument, binding: Mapping[str, Term]) -> Term:
    if isinstance(argument, Variable):
        return binding[argument.name]
    assert not isinstance(argument, Anything), "open places were given names"
    return argument


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
