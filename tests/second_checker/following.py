"""What follows from rules and facts, worked out stratum by stratum."""

from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Any, NamedTuple

from .values import (
    NUM,
    SPAN,
    VAR,
    Atom,
    Bind,
    Value,
    comes_to,
    holds,
    is_variable,
    number,
    operated,
    read_atom,
    read_expression,
    read_value,
    want,
)

Condition = tuple[Any, ...]
Index = dict[tuple[int, ...], dict[Atom, list[Atom]]]


class Rule(NamedTuple):
    """What a rule concludes, and of what."""

    name: str
    head: Atom
    body: tuple[Condition, ...]


class Known(NamedTuple):
    """The atoms that follow so far, with the ways to look them up."""

    atoms: dict[str, set[Atom]]
    indexes: dict[str, Index]


def read_condition(data: Any, place: str) -> Condition:
    """A condition, its values read."""
    if data[0] in ("is", "not"):
        return (data[0], read_atom(data[1], place), *data[2:])
    if data[0] == "compare":
        ends = (read_expression(end, place) for end in data[2:4])
        return ("compare", data[1], *ends, data[4])
    if data[0] == "let":
        return ("let", read_value(data[1], place), read_expression(data[2], place))
    return (
        "collect",
        read_value(data[1], place),
        data[2],
        tuple(read_value(term, place) for term in data[3]),
        tuple(read_condition(each, place) for each in data[4]),
        tuple(read_value(term, place) for term in data[5]),
    )


def read_rule(name: str, data: Any) -> Rule:
    """A rule, its values read and its variables seen to."""
    place = f"program/rules/{name}"
    body = tuple(read_condition(each, place) for each in data["body"])
    rule = Rule(name, read_atom(data["head"], place), body)
    want(None not in rule.head, place, "concludes anything")
    given = given_by(body)
    want(variables(rule.head) <= given, place, "concludes a variable without value")
    for each in body:
        check_condition(each, [rule.head, *(b for b in body if b is not each)], place)
    ordered(body, set())
    return rule


def variables(data: Any) -> set[str]:
    """The names of the variables anywhere in some read data."""
    if not isinstance(data, tuple) or not data:
        return set()
    if data[0] == VAR and len(data) == 2:
        return {data[1]}
    return set().union(*map(variables, data))


def given_by(body: Iterable[Condition]) -> set[str]:
    """The variables that the conditions of a body have, or give a value."""
    found: set[str] = set()
    for each in body:
        if each[0] != "compare" and each[0] != "not":
            found |= variables(each[1])
    return found


def check_condition(condition: Condition, rest: list[Any], place: str) -> None:
    """Refuse null among what is worked out, and other groups than are shared."""
    if condition[0] == "compare":
        want(not anything_in(condition[2:4]), place, "compares anything")
    if condition[0] == "let":
        want(not anything_in(condition[1:]), place, "works out anything")
    if condition[0] != "collect":
        return
    want(not anything_in(condition[1:2] + condition[3:4]), place, "collects anything")
    inner = variables(condition[3]) | variables(condition[4])
    outer = variables(condition[1]).union(*map(seen_outside, rest))
    groups = variables(condition[5])
    want(groups == inner & outer, place, "groups by other than what is shared")
    for each in condition[4]:
        others = [other for other in condition[4] if other is not each]
        check_condition(each, [*others, condition[3], condition[5]], place)


def seen_outside(data: Any) -> set[str]:
    """The variables of a part of a rule that are not within a collection."""
    if data and data[0] == "collect":
        return variables(data[1]) | variables(data[5])
    return variables(data)


def anything_in(data: Any) -> bool:
    """Whether null is anywhere in some read expressions."""
    if isinstance(data, tuple):
        return not (data and data[0] == SPAN) and any(map(anything_in, data))
    return data is None


def filled(data: Any, bind: Bind) -> Any:
    """Read data with values in the place of the variables that have one."""
    if not isinstance(data, tuple) or not data or data[0] in (NUM, SPAN):
        return data
    if data[0] == VAR:
        return bind.get(data[1], data)
    return tuple(filled(part, bind) for part in data)


def ordered(body: Iterable[Condition], bound: set[str]) -> list[Condition]:
    """The conditions of a body in an order in which each has its values."""
    rest, found, have = list(body), list[Condition](), set(bound)
    while rest:
        ready = [each for each in rest if is_ready(each, rest, have)]
        want(bool(ready), "program/rules", "a variable never gets a value")
        best = min(ready, key=lambda each: cost(each, have))
        rest.remove(best)
        found.append(best)
        have |= given_by([best])
    return found


def is_ready(condition: Condition, rest: list[Condition], have: set[str]) -> bool:
    """Whether all that a condition waits for has a value."""
    if condition[0] == "is":
        return True
    if condition[0] == "not":
        return variables(condition[1]) <= have
    if condition[0] == "collect":
        return variables(condition[5]) <= have
    return (
        variables(condition[2:]) <= have
        if condition[0] == "let"
        else (variables(condition[2:4]) <= have)
    )


def cost(condition: Condition, have: set[str]) -> int:
    """How late a condition is best looked at."""
    if condition[0] != "is":
        return 5 if condition[0] == "collect" else -1
    free = sum(1 for term in condition[1][1:] if term is None or variables(term) - have)
    return 10 * free - (len(condition[1]) - free)


def known_of(atoms: Iterable[Atom]) -> Known:
    """A set of atoms, to be looked up and added to."""
    known = Known({}, {})
    for atom in atoms:
        add(known, atom)
    return known


def add(known: Known, atom: Atom) -> bool:
    """Add an atom; whether it is new."""
    atoms = known.atoms.setdefault(atom[0], set())
    if atom in atoms:
        return False
    atoms.add(atom)
    for places, table in known.indexes.get(atom[0], {}).items():
        table.setdefault(tuple(atom[place] for place in places), []).append(atom)
    return True


def agrees(atom: Atom, pattern: Atom) -> bool:
    """Whether an atom agrees with a pattern, variables agreeing with all."""
    return len(atom) == len(pattern) and all(
        wanted is None or is_variable(wanted) or wanted == value
        for wanted, value in zip(pattern, atom, strict=True)
    )


def agreeing(known: Known, pattern: Atom) -> Iterable[Atom]:
    """The atoms that agree with a pattern, None and variables agreeing with all."""
    atoms = known.atoms.get(pattern[0])
    if not atoms:
        return ()
    places = tuple(
        at
        for at in range(1, len(pattern))
        if pattern[at] is not None and not is_variable(pattern[at])
    )
    if not places:
        return atoms
    if len(places) == len(pattern) - 1:
        return (pattern,) if pattern in atoms else ()
    indexes = known.indexes.setdefault(pattern[0], {})
    if places not in indexes:
        indexes[places] = indexed(atoms, places)
    return indexes[places].get(tuple(pattern[place] for place in places), ())


def indexed(atoms: Iterable[Atom], places: tuple[int, ...]) -> dict[Atom, list[Atom]]:
    """Atoms by their values at some places."""
    table: dict[Atom, list[Atom]] = {}
    for atom in atoms:
        table.setdefault(tuple(atom[place] for place in places), []).append(atom)
    return table


def bound_by(pattern: Atom, atom: Atom, bind: Bind) -> Bind | None:
    """The variables of a pattern as an atom that agrees has them."""
    found = dict(bind)
    for wanted, value in zip(pattern, atom, strict=True):
        if is_variable(wanted) and found.setdefault(wanted[1], value) != value:
            return None
    return found


def solutions(known: Known, body: list[Condition], bind: Bind) -> Iterator[Bind]:
    """All the ways in which the conditions, in order, are met."""
    if not body:
        yield bind
        return
    for each in met(known, body[0], bind):
        yield from solutions(known, body[1:], each)


def met(known: Known, condition: Condition, bind: Bind) -> Iterator[Bind]:
    """All the ways in which one condition is met."""
    kind = condition[0]
    if kind in ("is", "not"):
        pattern = tuple(
            bind.get(term[1], term) if is_variable(term) else term
            for term in condition[1]
        )
        found = agreeing(known, pattern)
        if kind == "not":
            yield from () if found else (bind,)
            return
        ways = (bound_by(pattern, atom, bind) for atom in found)
        yield from (way for way in ways if way is not None)
        return
    try:
        yield from worked_out(known, filled(condition, bind), bind)
    except ArithmeticError:
        return


def worked_out(known: Known, condition: Condition, bind: Bind) -> Iterator[Bind]:
    """The ways in which a condition with a value to work out is met."""
    if condition[0] == "compare":
        ends = [comes_to(end) for end in condition[2:4]]
        if holds(condition[1], ends[0], ends[1], condition[4]):
            yield bind
        return
    if condition[0] == "let":
        value = comes_to(condition[2])
    else:
        tuples = collected(known, condition[3], condition[4])
        value = function_of(condition[2], tuples)
    if is_variable(condition[1]):
        yield {**bind, condition[1][1]: value}
    elif condition[1] == value:
        yield bind


def collected(known: Known, terms: Atom, body: tuple[Condition, ...]) -> set[Atom]:
    """The distinct tuples of a collection, its groups having their values."""
    steps = ordered(body, set())
    return {filled(terms, bind) for bind in solutions(known, steps, {})}


def function_of(function: str, tuples: set[Atom]) -> Value:
    """What the function of a collection comes to; an error if it has no value."""
    if function == "count":
        return number(Fraction(len(tuples)))
    firsts = [each[0] for each in tuples]
    if function == "sum":
        return operated("+", [number(Fraction(0)), *firsts])
    if not firsts:
        raise ArithmeticError("of none")
    return operated(function, firsts)
