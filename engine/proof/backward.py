"""Going through rules backwards from a goal that does not hold.

At every condition that fails, either what is missing is assumed or what stands
against it is set aside. Each use of a rule gets variables of its own, so that one
rule can be used twice on a way without mixing the values up.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from heapq import heappop, heappush
from itertools import count, islice

from abluent.engine.logic import terms
from abluent.engine.logic.clauses import (
    ANYTHING,
    Absence,
    Anything,
    Argument,
    Assignment,
    Atom,
    Comparison,
    Expression,
    Literal,
    Operation,
    Rule,
    Variable,
)
from abluent.engine.logic.clauses import Collection as Collected
from abluent.engine.logic.safety import needed_variables
from abluent.engine.logic.terms import Term
from abluent.engine.proof.bindings import (
    Binding,
    folded,
    known,
    unified,
    value_of,
)
from abluent.engine.proof.cone import member_instances
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.mending import Lack, Way
from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.obstacles import Failing, Standing
from abluent.engine.proof.proofs import matches
from abluent.engine.proof.removal import fewest_removals
from abluent.engine.proof.slices import Pattern

_MOST_ROWS = 60
_MOST_RULES = 12
_FAILING, _UNRULED = 3, 2


class BackwardSearch:
    """Ways to make a goal hold, those with fewer changes first.

    Ways are followed in order of their changes, then of the rules they take.

    Args:
        knowledge: the rules and facts.
        goal: the pattern to make hold.
        assume: the predicates of which facts may be assumed or removed; by default
            all may be removed, and all be assumed that no rule concludes or that are
            asserted.
        steps: how many steps to take before the search is given up.
    """

    def __init__(
        self,
        knowledge: Knowledge,
        goal: Pattern,
        assume: Collection[str] | None,
        steps: int = 4_000,
    ) -> None:
        self._knowledge = knowledge
        self._steps = steps
        self._model, self._program = knowledge.model, knowledge.program
        self._asserted = {fact.predicate for fact in knowledge.facts}
        self._assume = assume
        self._numbers = count(1)
        self._heap: list[tuple[int, int, int, Way]] = []
        self.complete = True
        args: list[Argument] = [
            Variable(f"#{place}") if term is None else term
            for place, term in enumerate(goal[1])
        ]
        self._push(Way((Atom(goal[0], tuple(args)),), {}))

    def _push(self, way: Way) -> None:
        entry = (way.cost, len(way.todo), next(self._numbers), way)
        heappush(self._heap, entry)

    def ways(self) -> Iterator[Way]:
        """Every way that comes to its end, the cheapest first."""
        for _ in range(self._steps):
            if not self._heap:
                return
            *_, way = heappop(self._heap)
            literal, rest = self._pick(way)
            if literal is None:
                yield way  # what is left hangs on terms that are open
                continue
            for each in self._follow(replace(way, todo=rest), literal):
                self._push(each)
        self.complete = not self._heap

    def _pick(self, way: Way) -> tuple[Literal | None, tuple[Literal, ...]]:
        """The condition to look at next, if any can be looked at, and the others.

        Tests come first; then atoms that fail with all their terms known, which only
        a change can mend; then the atom that the fewest facts meet; and last those
        that fail with terms still open, as the others may settle these.
        """
        choices = []
        for place, literal in enumerate(way.todo):
            if isinstance(literal, Atom):
                met = len(self._rows(literal, way))
                whole = all(known(t, way.binding) is not None for t in literal.args)
                choices.append((2 if met else 1 if whole else 3, met, place))
            elif _is_ready(literal, way.binding):
                choices.append((0, 0, place))
                break
        if not choices:
            return None, ()
        *_, place = min(choices)
        return way.todo[place], way.todo[:place] + way.todo[place + 1 :]

    def _rows(self, atom: Atom, way: Way) -> list[tuple[Term, ...]]:
        """Some facts that meet an atom, one more than are looked at if there are."""
        pattern = tuple(known(each, way.binding) for each in atom.args)
        found = matches(self._model, (atom.predicate, pattern))
        return list(islice(found, _MOST_ROWS + 1))

    def _follow(self, way: Way, literal: Literal) -> Iterator[Way]:
        if isinstance(literal, Atom):
            return self._require(way, literal)
        if isinstance(literal, Absence):
            return self._deny(way, literal)
        try:
            if isinstance(literal, Comparison):
                return self._compare(way, literal)
            return self._assign(way, literal)
        except (TypeError, ZeroDivisionError):
            return iter(())

    # -- conditions -------------------------------------------------------------------

    def _require(self, way: Way, atom: Atom) -> Iterator[Way]:
        pattern = tuple(known(each, way.binding) for each in atom.args)
        rows = self._rows(atom, way)
        if len(rows) > _MOST_ROWS:
            self.complete = False
        for row in sorted(rows[:_MOST_ROWS], key=repr):
            binding = unified(atom.args, row, way.binding)
            if binding is not None:
                yield way.met(binding, (atom.predicate, row))
        if not rows or None in pattern:
            # Where facts meet the condition, others are looked for later.
            later = replace(way, cost=way.cost + bool(rows))
            yield from self._derive(later, atom, pattern)

    def _derive(
        self, way: Way, atom: Atom, pattern: tuple[Term | None, ...]
    ) -> Iterator[Way]:
        """What is not there: assumed, or concluded by a rule."""
        args = [
            a if isinstance(a, Variable) and t is None else ANYTHING if t is None else t
            for a, t in zip(atom.args, pattern, strict=True)
        ]
        fitting = False
        goal = (atom.predicate, pattern)
        if goal not in way.opened and len(way.rules) < _MOST_RULES:
            for rule in self._program.concluding(atom.predicate):
                body = used(rule, args, next(self._numbers))
                if body is not None:
                    fitting = True
                    yield replace(
                        way,
                        todo=(*body[0], *way.todo),
                        binding={**way.binding, **body[1]},
                        rules=(*way.rules, rule.id),
                        opened=way.opened | {goal},
                    )
        if self._may_assume(atom.predicate):
            yield way.with_step(Lack(Atom(atom.predicate, tuple(args))), 1)
        elif not fitting and goal not in way.opened:
            step = Lack(Atom(atom.predicate, tuple(args)), ruled=False)
            yield way.with_step(step, _UNRULED)

    def _may_assume(self, predicate: str) -> bool:
        if self._assume is not None:
            return predicate in self._assume
        if predicate in self._asserted:
            return True
        used_by_rules = predicate in self._program.arities
        return used_by_rules and not self._program.concluding(predicate)

    def _deny(self, way: Way, literal: Absence) -> Iterator[Way]:
        atom = literal.atom
        pattern = tuple(known(each, way.binding) for each in atom.args)
        rows: list[Ground] = sorted(
            (
                (atom.predicate, row)
                for row in self._model.match(atom.predicate, pattern)
            ),
            key=repr,
        )
        if not rows:
            yield way
            return
        sets = fewest_removals(self._knowledge.prover, rows[:_MOST_ROWS], self._assume)
        for removals in sets or [()]:
            step = Standing(tuple(rows), literal.form, removals)
            yield way.with_step(step, len(removals) or _FAILING)
        if len(rows) == 1:
            yield from self._defeat(way, literal.form, rows[0])

    def _defeat(self, way: Way, form: str, row: Ground) -> Iterator[Way]:
        """Make an exception to what stands in the way."""
        stands = way.with_step(Standing((row,), form, excepted=True), 1)
        for instance in self._knowledge.prover.cone.reading(row).instances:
            for literal in instance.rule.body:
                if isinstance(literal, Absence):
                    args = _grounded(literal.atom, instance.binding(), self._numbers)
                    yield replace(stands, todo=(args, *way.todo))

    @staticmethod
    def _compare(way: Way, literal: Comparison) -> Iterator[Way]:
        left = value_of(literal.left, way.binding)
        right = value_of(literal.right, way.binding)
        outcome = terms.COMPARISONS[literal.operator](left, right)
        if outcome or (outcome is None and literal.perhaps):
            return iter((way,))
        return iter((way.with_step(Failing(literal, left, right), _FAILING),))

    def _assign(self, way: Way, literal: Assignment | Collected) -> Iterator[Way]:
        name, binding = literal.variable.name, way.binding
        if isinstance(literal, Collected):
            values = self._collected(literal, binding)
        elif name in binding and (other := _alias(literal, binding)):
            name, values = other, [binding[name]]
        else:
            values = [value_of(literal.expression, binding)]
        kept = [v for v in values if binding.get(name, v) == v]
        return iter([replace(way, binding={**binding, name: value}) for value in kept])

    def _collected(self, literal: Collected, binding: Binding) -> list[Term]:
        """The value of a collection as the facts are, if it has one."""
        groups = {name: binding[name] for name in literal.groups}
        found = member_instances(self._model, literal, groups)
        members = {instance.args for instance in found}
        value = folded(literal.function, [member[0] for member in members])
        return [] if value is None else [value]


def _is_ready(literal: Literal, binding: Binding) -> bool:
    """Whether a condition that is no atom can be looked at."""
    loose = any(name not in binding for name in needed_variables(literal))
    return not loose or bool(_alias(literal, binding))


def _alias(literal: Literal, binding: Binding) -> str:
    """The unbound variable that an assignment equates with a bound one, if so."""
    if isinstance(literal, Assignment) and isinstance(literal.expression, Variable):
        other = literal.expression.name
        if literal.variable.name in binding and other not in binding:
            return other
    return ""


def _grounded(atom: Atom, binding: Binding, numbers: Iterator[int]) -> Atom:
    """An atom with the values of a rule instance; open places get new variables."""
    args: list[Argument] = []
    for each in atom.args:
        term = known(each, binding)
        args.append(Variable(f"#{next(numbers)}") if term is None else term)
    return Atom(atom.predicate, tuple(args))


# -- rules made ready ---------------------------------------------------------------


def used(
    rule: Rule, args: Sequence[Argument], number: int
) -> tuple[list[Literal], Binding] | None:
    """The body of a rule that is to conclude some terms.

    Args:
        rule: the rule.
        args: what its head is to be; open places are variables of the caller.
        number: which use of a rule this is; it tells the variables apart.

    Returns:
        The body, and the values that the head fixes, also for variables of the
        caller; `None` if the head cannot be that.
    """
    own = _Renaming(number)
    body = [own.literal(each) for each in rule.body]
    bound: Binding = {}
    for argument, wanted in zip(rule.head.args, args, strict=True):
        inside = own.argument(argument)
        if isinstance(wanted, Variable) and isinstance(inside, Variable):
            body.append(Assignment(wanted, inside))
            continue
        if not _agree(inside, wanted, bound):
            return None
    return body, bound


def _agree(inside: Argument, wanted: Argument, bound: Binding) -> bool:
    """Make two arguments agree, at most one of which is a variable."""
    variable, term = inside, wanted
    if not isinstance(variable, Variable):
        variable, term = wanted, inside
    if isinstance(term, Variable | Anything):
        return True
    if isinstance(variable, Variable):
        return bound.setdefault(variable.name, term) == term
    return isinstance(variable, Anything) or variable == term


class _Renaming:
    """Gives the variables of one use of a rule names of their own."""

    def __init__(self, number: int) -> None:
        self._mark = f"#{number}"

    def _variable(self, variable: Variable) -> Variable:
        return Variable(variable.name + self._mark)

    def argument(self, argument: Argument) -> Argument:
        return self._variable(argument) if isinstance(argument, Variable) else argument

    def expression(self, expression: Expression) -> Expression:
        if isinstance(expression, Variable):
            return self._variable(expression)
        if isinstance(expression, Operation):
            parts = tuple(map(self.expression, expression.operands))
            return Operation(expression.operator, parts)
        return expression

    def _atom(self, atom: Atom) -> Atom:
        return Atom(atom.predicate, tuple(map(self.argument, atom.args)))

    def literal(self, literal: Literal) -> Literal:
        if isinstance(literal, Atom):
            return self._atom(literal)
        if isinstance(literal, Absence):
            return Absence(self._atom(literal.atom), literal.form)
        if isinstance(literal, Comparison):
            left, right = map(self.expression, (literal.left, literal.right))
            return literal._replace(left=left, right=right)
        variable = self._variable(literal.variable)
        if isinstance(literal, Assignment):
            return Assignment(variable, self.expression(literal.expression))
        return Collected(
            variable,
            literal.function,
            tuple(map(self.argument, literal.terms)),
            tuple(map(self.literal, literal.body)),
            tuple(name + self._mark for name in literal.groups),
        )
