"""What is judged once for many: things of which the same is so.

A logic without equality cannot tell two things apart of which the same facts hold.
Rules name no single thing and compare none with another, so all things of which
the same is so have the same facts, and one of them may stand for all.

`Parted` cuts the rules in two. The first part concludes about no more than one thing
at once, and not much about each. The second part brings different things together;
there each place where a thing can stand has a *role*, and in every role one thing
stands for all that have the same facts in it. Where a role always speaks of a thing
together with something else (a thing and one value of it), such pairs are alike and
not whole things.

Where rules do compare things, count them or name one, nothing stands for another.
"""

from __future__ import annotations

from collections.abc import (
    Collection,
    Iterable,
    Mapping,
    Sequence,
)
from math import inf, prod
from typing import TypeAlias

from abluent.engine.logic import clauses as c
from abluent.engine.logic.program import Program
from abluent.engine.logic.strata import components
from abluent.engine.logic.symbols import infer_sorts
from abluent.engine.logic.terms import Term
from abluent.engine.relational._folded import folded
from abluent.engine.relational._roles import Role, Roles
from abluent.engine.relational.closed import Closed
from abluent.engine.relational.translate import beforehand, depending


class Parted:
    """Rules in two parts.

    Args:
        program: the rules.
        goals: the predicates whose facts are wanted.
        closed: the model of what is known beforehand.
        varying: those of which facts come in bulk.
        thing: a predicate and the place where a thing stands in it.
    """

    def __init__(
        self,
        program: Program,
        goals: Iterable[str],
        closed: Closed,
        varying: Collection[str],
        thing: tuple[str, int],
    ) -> None:
        self.goals = tuple(goals)
        known = {name for name in varying if next(iter(closed.match(name)), None)}
        found, self.closed = depending(program, self.goals, varying, known)
        given = {*self.closed} | ({*varying} - {rule.head.predicate for rule in found})
        early, late = beforehand(found, given)
        self.early = early
        """The rules whose conclusions the reasoner works out from what is given."""
        computed = {rule.head.predicate for rule in early}
        looked_at = {a.predicate for rule in late for a in c.body_atoms(rule.body)}
        self.closed = (self.closed | computed) & (looked_at | {*self.goals})
        varying = {*varying, *computed}
        rules = [folded(rule) for rule in late]
        self._made = {rule.head.predicate for rule in rules}
        self.given = self.closed | (self._made & set(varying))
        names = sorted(self.closed | self._made)
        self.arities = {name: program.arities[name] for name in names}
        self._sorts = infer_sorts(rules, self.arities)
        sort = self._sorts[thing[0]][thing[1]] if thing[0] in self._sorts else -1
        self._places = {
            name: [at for at, each in enumerate(self._sorts[name]) if each == sort]
            for name in names
        }
        self.own = {
            name for name in self.given & {*varying} if len(self._places[name]) == 1
        } - self._made
        """The predicates of one thing each that the first part has facts of."""
        first, second = self._part(rules, Spread(closed, self.closed - {*varying}))
        roles = self._roles_of(second, self.own, None)
        self.roles = roles.roles
        """In which one thing stands for others in the second part."""
        self._take_up(self.roles)
        self.again: tuple[Role, ...] = ()
        """In which one thing stands for others in its last rules."""
        self.turn: tuple[Role, Role] | None = None
        """The role whose things are worked on by themselves, and what it becomes."""
        middle, last = self._by_themselves(roles.renamed())
        self.rules = [*first, *middle, *last]
        self.first = range(len(first))
        self.second = range(len(first), len(self.rules))
        self.middle = range(len(first), len(first) + len(middle))
        """The rules of the second part that conclude about one thing alone."""
        self.last = range(len(first) + len(middle), len(self.rules))

    def _roles_of(
        self, rules: Sequence[c.Rule], own: Collection[str], turned: Role | None
    ) -> Roles:
        apart = self.given - self.own
        start = 0 if turned is None else len(self.roles)
        alone = () if turned is None else turned.places
        return Roles(rules, own, self._places, apart, self.goals, start, alone)

    def _take_up(self, roles: Iterable[Role]) -> None:
        """Know the predicates of what is kept for some roles."""
        for role in roles:
            for leaf in role.leaves:
                self.arities[leaf.name] = self.arities[leaf.predicate]
                self._places[leaf.name] = self._places[leaf.predicate]

    def _by_themselves(
        self, rules: Sequence[c.Rule]
    ) -> tuple[list[c.Rule], list[c.Rule]]:
        """The rules that conclude about one thing alone, and those for the rest.

        What they conclude is much, but things differ less in it than in what it is
        concluded from: so things are put together again once it is known.
        """
        barred = {*self.goals, *self.given}
        found = alone(rules, self.roles, self._places, barred)
        if found is None:
            return [], [*rules]
        role, made = found
        kept = {leaf.name for each in self.roles for leaf in each.leaves}
        middle = [rule for rule in rules if rule.head.predicate in made]
        rest = [rule for rule in rules if rule.head.predicate not in made]
        last = self._roles_of(rest, {*self.own, *kept, *made}, role)
        places = {*role.places}
        turned = [r for r in last.roles if not places.isdisjoint(r.places)]
        if len(turned) != 1:
            return [], [*rules]
        self.again, self.turn = last.roles, (role, turned[0])
        self._take_up(self.again)
        return middle, last.renamed()

    # -- the first part ---------------------------------------------------------------

    def _part(
        self, rules: Sequence[c.Rule], spread: Spread
    ) -> tuple[list[c.Rule], list[c.Rule]]:
        first: list[c.Rule] = []
        second: list[c.Rule] = []
        done = {*self.given} - self._made
        for part in components(rules):
            here = [rules[at] for at in part.rules]
            if not here:
                continue
            inside = done | {*part.predicates}
            if all(
                self._is_early(rule, inside, {*part.predicates}, spread)
                for rule in here
            ):
                done = inside
                single = {n for n in part.predicates if self._places[n]}
                self.own |= single
                first += here
            else:
                second += here
        return first, second

    def _is_early(
        self, rule: c.Rule, done: set[str], beside: set[str], spread: Spread
    ) -> bool:
        """Whether a rule concludes about one thing at once, and not much."""
        if not done >= {atom.predicate for atom in c.body_atoms(rule.body)}:
            return False
        places = self._places[rule.head.predicate]
        if not places:
            return True
        if len(places) == 1 and not isinstance(rule.head.args[places[0]], c.Variable):
            return True
        own = {n: self._places[n][0] for n in self.own | beside if self._places[n]}
        thing = rule.head.args[places[0]]
        return len(places) == 1 and spread.of(rule, own, thing) <= _MUCH


_MUCH = 32
"""How many facts one fact may lead to in the first part."""


_Asked: TypeAlias = tuple[str, tuple["Term | None", ...]]
"""A predicate, and what is given of its terms."""


class Spread:
    """How many facts rules conclude from one fact about a thing, as a rough measure.

    Args:
        closed: the model of what is known beforehand.
        names: the predicates that are known beforehand.
    """

    def __init__(self, closed: Closed, names: Collection[str]) -> None:
        self._closed, self._names = closed, names
        self._columns: dict[_Asked, list[tuple[Term, ...]]] = {}
        self._different: dict[tuple[_Asked, tuple[int, ...]], int] = {}

    def of(self, rule: c.Rule, own: Mapping[str, int], thing: c.Argument) -> float:
        """How many; endless where neither the thing nor what is known says it.

        Args:
            rule: the rule.
            own: the predicates of one thing each, with the place of the thing.
            thing: what the rule concludes about.
        """
        bound: set[str] = set()
        waiting: list[c.Atom] = []
        for literal in rule.body:
            if isinstance(literal, c.Assignment | c.Collection):
                bound.add(literal.variable.name)
            elif isinstance(literal, c.Atom):
                if literal.predicate in self._names:
                    waiting.append(literal)
                elif literal.predicate in own and (
                    literal.args[own[literal.predicate]] == thing
                ):
                    bound.update(c.atom_variables(literal))
        spread = 1.0
        while waiting:
            each = min((self._of(atom, bound), at) for at, atom in enumerate(waiting))
            spread *= each[0]
            bound.update(c.atom_variables(waiting.pop(each[1])))
        return spread if bound.issuperset(c.atom_variables(rule.head)) else inf

    def _of(self, atom: c.Atom, bound: Collection[str]) -> float:
        """How many facts agree with an atom for values of what is bound, on average."""
        names = [a.name if isinstance(a, c.Variable) else "" for a in atom.args]
        keys = [at for at, name in enumerate(names) if name in bound]
        kept = tuple(at for at, name in enumerate(names) if name)
        pattern = tuple(
            None if isinstance(a, c.Variable | c.Anything) else a for a in atom.args
        )
        asked = atom.predicate, pattern
        choices = prod(self._count(asked, (at,)) for at in keys)
        return self._count(asked, kept) / max(choices, 1)

    def _count(self, asked: _Asked, kept: tuple[int, ...]) -> int:
        """How many different rows there are of some columns of what agrees."""
        key = asked, kept
        if key not in self._different:
            if asked not in self._columns:
                rows = self._closed.match(*asked)
                self._columns[asked] = list(zip(*rows, strict=True))
            columns, pattern = self._columns[asked], asked[1]
            if not columns:
                found = 0
            elif all(at in kept or t is not None for at, t in enumerate(pattern)):
                found = len(columns[0])  # no fact is there twice
            elif len(kept) == 1:
                found = len(set(columns[kept[0]]))
            else:
                found = len(set(zip(*(columns[at] for at in kept), strict=True)))
            self._different[key] = found if kept else min(len(columns), 1)
        return self._different[key]


def alone(
    rules: Sequence[c.Rule],
    roles: Sequence[Role],
    places: Mapping[str, Sequence[int]],
    barred: set[str],
) -> tuple[Role, set[str]] | None:
    """The predicates that can be worked out for some things and then for others.

    Args:
        rules: rules that look at what is kept for roles.
        roles: the roles.
        places: the places of every predicate where things stand.
        barred: predicates that are wanted of every thing at once.

    Returns:
        The role whose things they are about, and the predicates; nothing if there are
        none.
    """
    of = {(name, at): role for role in roles for name, at, _ in role.places}
    made = {rule.head.predicate for rule in rules}
    found: tuple[Role, set[str]] | None = None
    for part in components(rules):
        here = [rules[at] for at in part.rules]
        if not here or not barred.isdisjoint(part.predicates):
            continue
        name = here[0].head.predicate
        role = of.get((name, places[name][0])) if len(places[name]) == 1 else None
        if role is None or role.paired or (found and found[0] is not role):
            continue
        inside = {*part.predicates} | (found[1] if found else set())
        of_it = inside | {leaf.name for leaf in role.leaves}
        if all(_is_alone(rule, places, of_it, made) for rule in here):
            found = role, inside
    return found


def _is_alone(
    rule: c.Rule,
    places: Mapping[str, Sequence[int]],
    of_it: Collection[str],
    made: Collection[str],
) -> bool:
    """Whether a rule looks at no thing of a role but the one that it concludes of."""
    if len(places[rule.head.predicate]) != 1:
        return False
    thing = rule.head.args[places[rule.head.predicate][0]]
    if not isinstance(thing, c.Variable):
        return False
    return all(
        atom.args[places[atom.predicate][0]] == thing
        if atom.predicate in of_it
        else atom.predicate not in made
        for atom in c.body_atoms(rule.body)
    )
