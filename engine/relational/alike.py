"""What is judged once for many: things of which the same is so.

A logic without equality cannot tell two things apart of which the same facts hold.
Rules name no single product and compare none with another, so all washes of which
the same is so have the same verdicts, and one of them may stand for all.

`Parted` cuts the rules in two. The first part concludes about no more than one thing
at once, and not much about each. The second part brings different things together;
there each place where a thing can stand has a *role*, and in every role one thing
stands for all that have the same facts in it. Where a role always speaks of a thing
together with something else (a product and one film of it), such pairs are alike and
not whole things.

Where rules do compare things, count them or name one, nothing stands for another.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import (
    Callable,
    Collection,
    Hashable,
    Iterable,
    Iterator,
    Mapping,
    Sequence,
)
from functools import partial
from math import inf, prod
from typing import NamedTuple

from abluent.engine.logic import clauses as c
from abluent.engine.logic.program import Program
from abluent.engine.logic.strata import components
from abluent.engine.logic.symbols import infer_sorts
from abluent.engine.relational._folded import folded
from abluent.engine.relational.closed import Closed
from abluent.engine.relational.translate import beforehand, depending


class Leaf(NamedTuple):
    """A predicate of the first part as a role of the second looks at it.

    Args:
        predicate: the predicate.
        place: where the thing stands.
        partner: where that stands which it is spoken of together with; `None` where
            it is a fact of the thing whatever its partner.
        name: what the facts are called that are kept for the role.
    """

    predicate: str
    place: int
    partner: int | None
    name: str


class Role(NamedTuple):
    """Where things stand in the second part.

    Args:
        number: tells it from others.
        leaves: what the role looks at.
        paired: whether things are alike together with a partner each.
        places: the places of predicates of the second part: the predicate, where the
            thing stands, and where its partner does, if it is paired.
    """

    number: int
    leaves: tuple[Leaf, ...]
    paired: bool
    places: tuple[tuple[str, int, int | None], ...]


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
        roles = _Roles(
            second, self.own, self._places, self.given - self.own, self.goals
        )
        self.roles = roles.roles
        renamed = roles.renamed()
        self.rules = [*first, *renamed]
        self.first = range(len(first))
        self.second = range(len(first), len(self.rules))
        for role in self.roles:
            for leaf in role.leaves:
                self.arities[leaf.name] = self.arities[leaf.predicate]

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


class Spread:
    """How many facts rules conclude from one fact about a thing, as a rough measure.

    Args:
        closed: the model of what is known beforehand.
        names: the predicates that are known beforehand.
    """

    def __init__(self, closed: Closed, names: Collection[str]) -> None:
        self._closed, self._names = closed, names
        self._found: dict[tuple[c.Atom, tuple[int, ...]], float] = {}

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
        keys = tuple(at for at, name in enumerate(names) if name in bound)
        kept = tuple(at for at, name in enumerate(names) if name)
        asked = (atom, keys)
        if asked not in self._found:
            pattern = tuple(
                None if isinstance(a, c.Variable | c.Anything) else a for a in atom.args
            )
            columns = list(
                zip(*self._closed.match(atom.predicate, pattern), strict=True)
            )
            found = (
                set(zip(*(columns[at] for at in kept), strict=True)) if columns else ()
            )
            choices = [len(set(columns[at])) for at in keys] if columns else []
            count = len(found) if kept else min(len(columns), 1)
            self._found[asked] = count / max(prod(choices), 1)
        return self._found[asked]


def _weighs(rule: c.Rule, name: str) -> bool:
    """Whether a rule looks at what a variable is, and not only what is so of it."""
    for literal in _literals(rule.body):
        if isinstance(literal, c.Comparison | c.Assignment):
            if name in set(c.literal_variables(literal)):
                return True
        elif isinstance(literal, c.Collection):
            terms = {t.name for t in literal.terms if isinstance(t, c.Variable)}
            if name in {*terms, literal.variable.name}:
                return True
    return False


def _literals(body: Iterable[c.Literal]) -> Iterator[c.Literal]:
    for literal in body:
        yield literal
        if isinstance(literal, c.Collection):
            yield from _literals(literal.body)


_Column = tuple[str, int]


class _Use(NamedTuple):
    """An atom that speaks of a thing: its rule, and the place of the thing.

    `binds` says that it is a condition that must hold.
    """

    rule: int
    atom: c.Atom
    place: int
    variable: str
    binds: bool

    @property
    def column(self) -> _Column:
        """The predicate and the place."""
        return self.atom.predicate, self.place


class _Roles:
    """The roles of the second part."""

    def __init__(
        self,
        rules: Sequence[c.Rule],
        own: Collection[str],
        places: dict[str, list[int]],
        apart: Collection[str],
        goals: Sequence[str],
    ) -> None:
        self._rules, self._own, self._places = rules, own, places
        self._apart = apart
        self._parent: dict[Hashable, Hashable] = {}
        self._fixed: set[Hashable] = set()
        self._uses: list[_Use] = []
        for at, rule in enumerate(rules):
            for atom in (rule.head, *c.body_atoms(rule.body)):
                self._take(at, rule, atom)
            self._fix_head(at, rule)
        self._put_together([name for name in goals if name not in own])
        self._of: dict[Hashable, Role] = {}
        self.roles = self._found()
        """Every role in which one thing may stand for others."""

    def _found(self) -> tuple[Role, ...]:
        groups: dict[Hashable, list[_Use]] = {}
        for use in self._uses:
            groups.setdefault(self._root((use.rule, use.variable)), []).append(use)
        fixed = {self._root(node) for node in self._fixed}
        free = {root: uses for root, uses in groups.items() if root not in fixed}
        self._of = {
            root: self._role(number, uses)
            for number, (root, uses) in enumerate(free.items())
        }
        return tuple(self._of.values())

    def renamed(self) -> list[c.Rule]:
        """The rules, each looking at what is kept for its roles."""
        names = {
            (root, leaf.predicate): leaf.name
            for root, role in self._of.items()
            for leaf in role.leaves
        }

        def atom(at: int, each: c.Atom) -> c.Atom:
            for place in self._places[each.predicate]:
                thing = each.args[place]
                if each.predicate in self._own and isinstance(thing, c.Variable):
                    key = (self._root((at, thing.name)), each.predicate)
                    return each._replace(predicate=names.get(key, each.predicate))
            return each

        return [
            rule._replace(body=_mapped(rule.body, partial(atom, at)))
            for at, rule in enumerate(self._rules)
        ]

    # -- where things meet ------------------------------------------------------------

    def _take(self, at: int, rule: c.Rule, atom: c.Atom) -> None:
        leaf = atom.predicate in self._own
        for place in self._places[atom.predicate]:
            thing = atom.args[place]
            column = ("column", atom.predicate, place)
            if isinstance(thing, c.Variable):
                node = (at, thing.name)
                binds = any(atom is each for each in rule.body)
                self._uses.append(_Use(at, atom, place, thing.name, binds))
                if not leaf:
                    self._parent[self._root(node)] = self._root(column)
                if _weighs(rule, thing.name) or atom.predicate in self._apart:
                    self._fixed.add(node)
            elif not isinstance(thing, c.Anything) and not leaf:
                self._fixed.add(column)

    def _fix_head(self, at: int, rule: c.Rule) -> None:
        """A head that names one thing twice says that two things are one."""
        often = Counter(
            each.name
            for place in self._places[rule.head.predicate]
            for each in [rule.head.args[place]]
            if isinstance(each, c.Variable)
        )
        self._fixed.update((at, name) for name, times in often.items() if times > 1)

    def _put_together(self, goals: Sequence[str]) -> None:
        """Let goals of the same form be asked of the same things."""
        first: dict[tuple[int, ...], str] = {}
        for name in goals:
            other = first.setdefault(tuple(self._places[name]), name)
            for place in self._places[name]:
                one, two = ("column", name, place), ("column", other, place)
                self._parent[self._root(one)] = self._root(two)

    def _root(self, node: Hashable) -> Hashable:
        while self._parent.get(node, node) != node:
            node = self._parent[node]
        return node

    # -- roles ------------------------------------------------------------------------

    def _role(self, number: int, uses: list[_Use]) -> Role:
        partners = _Partners(uses, self._own).found()
        paired = partners is not None
        columns = dict.fromkeys(use.column for use in uses)
        joint = [each for each in columns if each[0] not in self._own]
        leaves = [each for each in columns if each[0] in self._own]
        of = partners or {}
        return Role(
            number,
            tuple(
                Leaf(name, place, of.get((name, place)), f"{name} in role {number}")
                for name, place in leaves
            ),
            paired,
            tuple((name, place, of.get((name, place))) for name, place in joint),
        )


class _Partners:
    """What the things of one role are always spoken of together with.

    It is found by following one variable through the rules: wherever the thing stands
    in a predicate of the second part, its partner stands in one place beside it.
    """

    def __init__(self, uses: Sequence[_Use], own: Collection[str]) -> None:
        self._own = own
        self._rules: dict[tuple[int, str], list[_Use]] = {}
        for use in uses:
            self._rules.setdefault((use.rule, use.variable), []).append(use)
        columns = dict.fromkeys(use.column for use in uses)
        self._joint = [each for each in columns if each[0] not in own]
        self._first = next((u for u in uses if u.column in self._joint), None)

    def found(self) -> dict[_Column, int | None] | None:
        """The place of the partner, for each place of the thing; `None` if none."""
        use = self._first
        if use is None:
            return None
        for partner in range(len(use.atom.args)):
            if partner != use.place:
                found = self._followed({use.column: partner})
                if found is not None:
                    return found
        return None

    def _followed(
        self, start: dict[_Column, int | None]
    ) -> dict[_Column, int | None] | None:
        found = dict(start)
        grown = True
        while grown:
            size = len(found)
            for uses in self._rules.values():
                partner = self._partner(uses, found)
                if partner is None:
                    continue
                if not self._spread(uses, partner, found):
                    return None
            grown = len(found) > size
        whole = all(column in found for column in self._joint)
        return found if whole and self._is_sound(found) else None

    def _partner(
        self, uses: Sequence[_Use], found: dict[_Column, int | None]
    ) -> str | None:
        """The variable that stands for the partner in a rule.

        What the second part concludes tells it better than what it begins with.
        """
        told: str | None = None
        for use in uses:
            place = found.get(use.column)
            if place is not None:
                term = use.atom.args[place]
                name = term.name if isinstance(term, c.Variable) else ""
                if use.atom.predicate not in self._own:
                    return name
                told = told or name
        return told

    def _spread(
        self, uses: Sequence[_Use], partner: str, found: dict[_Column, int | None]
    ) -> bool:
        """Take over where the partner stands in a rule; whether it is where it must."""
        for use in uses:
            column = use.column
            stands = [
                place
                for place, term in enumerate(use.atom.args)
                if isinstance(term, c.Variable) and term.name == partner
            ]
            if column[0] in self._own:
                # What it is not beside in every use is a fact of the thing alone.
                kept = found.setdefault(column, stands[0] if stands else None)
                if kept not in stands:
                    found[column] = None
            elif column not in found:
                if not stands:
                    return False
                found[column] = stands[0]
            elif found[column] not in stands:
                return False
        return True

    def _is_sound(self, found: dict[_Column, int | None]) -> bool:
        """Whether every rule that speaks of a pair rests on some fact of it."""
        for uses in self._rules.values():
            paired = [use for use in uses if found.get(use.column) is not None]
            if paired and not any(use.binds for use in paired):
                return False
        return True


def _mapped(
    body: Iterable[c.Literal], change: Callable[[c.Atom], c.Atom]
) -> tuple[c.Literal, ...]:
    """A body in which every atom is changed."""
    found: list[c.Literal] = []
    for literal in body:
        if isinstance(literal, c.Atom):
            found.append(change(literal))
        elif isinstance(literal, c.Absence):
            found.append(literal._replace(atom=change(literal.atom)))
        elif isinstance(literal, c.Collection):
            found.append(literal._replace(body=_mapped(literal.body, change)))
        else:
            found.append(literal)
    return tuple(found)
